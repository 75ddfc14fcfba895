import type { Pipe } from '../bay/schema.ts'
import type { BenderTool, StockElbow } from '../bay/workshopSchema.ts'
import type { Outcome } from '../fault.ts'
import { good } from '../fault.ts'
import type { Vec3 } from '../shape/vec.ts'
import type { BendRow, BentTube, PipeBends } from './answer.ts'
import { type BendRun, bendTable } from './bendTable.ts'

/** One tube to bend, with what is needed to say where in the pipe something is wrong with it. */
export interface Tube extends BentTube {
  /** Number of the point of each bend. */
  readonly corners: readonly number[]
  /** Numbers in the run's straights of its first and its last one. */
  readonly between: readonly [first: number, last: number]
}

/** A pipe as it is put together: the whole run, the elbows in it, and the tubes between. */
export interface PutTogether {
  readonly run: BendRun
  readonly elbows: PipeBends['elbows']
  /** With a negative straight in them where two bends want more than there is. */
  readonly tubes: readonly Tube[]
}

/** Cut angles are marked and sawn no better than this. Common practice, no source. */
export const sameAngleDeg = 0.01
/** Lengths in bend tables count as equal within this, mm. */
export const sameLength = 1e-6

/**
 * A pipe's run, cut into tubes where elbows are welded in.
 * @param points of the pipe, both ends among them, bay frame, mm
 * @param elbowAt the stock elbow at a point of that number, where one is welded in there
 * @param tool for elongation, null where the shop has none for this tube
 * @param springBack share for the tube's material, null where none is known
 * @returns the run with each elbow's own radius; elbows with the angle they are cut down to; tubes of no length are left
 *   out (elbow welded to elbow, or to the port). Faults as of `bendTable`.
 * An elbow whose corner turns less than it does loses arc and leg on one side, that of its shorter leg; where legs do not
 * fit between two elbows both are cut in proportion. What straight is left belongs to the tubes.
 */
export function putTogether(
  points: readonly Vec3[],
  { bendRadius }: Pick<Pipe, 'bendRadius'>,
  elbowAt: (point: number) => StockElbow | undefined,
  tool: Pick<BenderTool, 'elongation'> | null,
  springBack: number | null,
): Outcome<PutTogether> {
  const made = bendTable(points, (corner) => elbowAt(corner + 1)?.radius ?? bendRadius)
  if (!made.ok) return made
  const run = made.value
  const legs = legsOf(run, elbowAt)
  const elbows = legs.flatMap(({ elbow, cutDown }, bend) =>
    elbow ? [{ point: run.corners[bend], elbow: elbow.id, angle: angleOf(run, bend), cutDown }] : [],
  )
  const tubes = cutAt(run, legs).filter(({ arcs, developed }) => arcs.length > 0 || developed > sameLength)
  return good({ run, elbows, tubes: tubes.map((tube) => finished(tube, tool?.elongation ?? 0, springBack)) })
}

const angleOf = (run: BendRun, bend: number): number => run.table[bend].angle ?? 0

interface Legs {
  readonly elbow?: StockElbow
  /** Straight that the elbow itself brings before and after its arc, mm. */
  readonly before: number
  readonly after: number
  readonly cutDown: boolean
}

function legsOf(run: BendRun, elbowAt: (point: number) => StockElbow | undefined): Legs[] {
  const wanted = run.corners.map((point, bend): Legs => {
    const elbow = elbowAt(point)
    if (!elbow) return { before: 0, after: 0, cutDown: false }
    const [before, after] = elbow.legs
    if (angleOf(run, bend) > elbow.angle - sameAngleDeg) return { elbow, before, after, cutDown: false }
    return before < after ? { elbow, before: 0, after, cutDown: true } : { elbow, before, after: 0, cutDown: true }
  })
  return wanted.map((legs, bend) => {
    const before = legs.before * shareOf(run.straights[bend], legs.before + (wanted[bend - 1]?.after ?? 0))
    const after = legs.after * shareOf(run.straights[bend + 1], legs.after + (wanted[bend + 1]?.before ?? 0))
    const shorter = legs.before - before > sameLength || legs.after - after > sameLength
    return { ...legs, before, after, cutDown: legs.cutDown || shorter }
  })
}

/** How much of the legs a straight has room for. */
const shareOf = (straight: number, legs: number): number => (legs > straight ? Math.max(0, straight) / legs : 1)

type Uncut = Omit<Tube, 'cut' | 'setAngles'>

/** The tubes between welds, from one end to the other; some may have no length. */
function cutAt(run: BendRun, legs: readonly Legs[]): Uncut[] {
  const tubes: Uncut[] = []
  let first = 0
  for (let bend = 0; bend <= legs.length; bend++) {
    if (bend < legs.length && !legs[bend].elbow) continue
    tubes.push(tubeOf(run, first, bend, legs[first - 1]?.after ?? 0, legs[bend]?.before ?? 0))
    first = bend + 1
  }
  return tubes
}

/** Straights `first` … `last` of the run and the bends between them, less what elbows bring at its ends. */
function tubeOf(run: BendRun, first: number, last: number, before: number, after: number): Uncut {
  const straights = run.straights.slice(first, last + 1)
  straights[0] -= before
  straights[straights.length - 1] -= after
  const arcs = run.arcs.slice(first, last)
  const table = straights.map((length, k): BendRow => {
    const { rotation, angle, radius } = run.table[first + k]
    return k === arcs.length ? { length } : { length, rotation: k === 0 ? 0 : rotation, angle, radius }
  })
  return {
    table,
    straights,
    arcs,
    developed: [...straights, ...arcs].reduce((sum, x) => sum + x, 0),
    corners: run.corners.slice(first, last),
    between: [first, last],
  }
}

function finished(tube: Uncut, elongation: number, springBack: number | null): Tube {
  const grows = elongation * tube.arcs.reduce((sum, arc) => sum + arc, 0)
  const setAngles = springBack === null ? null : tube.arcs.map((_, k) => setAngle(tube.table[k].angle ?? 0, springBack))
  return { ...tube, cut: tube.developed - grows, setAngles }
}

/** What is set at the bender so that `angle` is left when the tube springs open by a share of what was bent. */
const setAngle = (angle: number, springBack: number): number => angle / (1 - springBack)
