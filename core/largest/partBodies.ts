import type { Candidate, TankPort } from '../bay/schema.ts'
import { sides, stubDirection, tankFrame, type Side as TankSide } from '../bay/tankPort.ts'
import { stubsOf } from '../bay/pipeEnds.ts'
import type { Bounds, Cylinder, Polytope } from '../shape/form.ts'
import { boundsOf } from '../shape/bounds.ts'
import { boxPolytope, tankPolytope } from '../shape/polytope.ts'
import type { Vec3 } from '../shape/vec.ts'
import { type Piece, side, type Side } from './pieces.ts'
import type { View } from './view.ts'

/** One part of a core of some size, as the ledger has it: bay frame, mm. */
export interface PartBody {
  readonly part: string
  readonly kind: 'core' | 'tank' | 'stub' | 'mount'
  readonly side?: TankSide
  /** Of a stub: which port of its tank. */
  readonly port?: number
  /** Of a mount: which of the candidate's. */
  readonly mount?: number
  readonly tolerance: number
  readonly body: Polytope | Cylinder
  readonly bounds: Bounds
}

/** The candidate with its core between the faces; pipes are left as they are. */
export function candidateAt(candidate: Candidate, faces: Float64Array, view: View): Candidate {
  const middle: Vec3 = [0, 1, 2].map((k) => faces[k] / 2 + faces[3 + k] / 2) as unknown as Vec3
  const [depth, width, height] = [0, 1, 2].map((k) => faces[3 + k] - faces[k])
  return sizedAt(candidate, middle, [depth, width, height], view)
}

export function sizedAt(candidate: Candidate, middle: Vec3, size: Vec3, view: View): Candidate {
  const [depth, width, height] = size
  return {
    ...candidate,
    at: [...view.poseAt(middle).at],
    turn: [view.others[0], view.tilt, view.others[1]],
    core: { ...candidate.core, depth, width, height },
  }
}

/** Core, tanks and stubs between the faces; mounts see `mountBodies`. Made from the same outlines as those of the bay. */
export function bodiesAt(candidate: Candidate, faces: Float64Array, view: View): PartBody[] {
  const sized = candidateAt(candidate, faces, view)
  const pose = { turn: view.turn, at: sized.at }
  const { depth, width, height, tolerance = 0 } = sized.core
  const core = boxPolytope(sized.at, [depth, width, height], view.turn)
  const bodies: PartBody[] = core.ok ? [withBounds({ part: 'core', kind: 'core', tolerance, body: core.value })] : []
  for (const which of sides) {
    const tank = sized.tanks?.[which]
    if (!tank) continue
    const { centre, halfDepth, halfHeight, outward, length } = tankFrame(sized.core, tank, which)
    const made = tankPolytope(
      {
        y: centre[1],
        outward,
        length,
        footX: [centre[0] - halfDepth[0], centre[0] + halfDepth[0]],
        footZ: [centre[2] - halfHeight[0], centre[2] + halfHeight[0]],
        taper: tank.taper ?? { depth: 1, height: 1 },
      },
      pose,
    )
    if (made.ok)
      bodies.push(
        withBounds({
          part: `tank-${which}`,
          kind: 'tank',
          side: which,
          tolerance: tank.tolerance ?? 0,
          body: made.value,
        }),
      )
  }
  for (const { name, root, to, radius, tank, port } of stubsOf(sized, pose)) {
    const which: TankSide = tank === 'tank-left' ? 'left' : 'right'
    const number = (sized.tanks?.[which]?.ports ?? []).findIndex(({ id }) => port === `${tank}:${id}`)
    const body: Cylinder = { kind: 'cylinder', from: root, to, radius }
    bodies.push(withBounds({ part: name, kind: 'stub', side: which, port: number, tolerance: 0, body }))
  }
  return bodies
}

/** With the box about it. */
export const withBounds = (body: Omit<PartBody, 'bounds'>): PartBody => ({
  ...body,
  bounds: boundsOf({ form: 'convex', body: body.body }),
})

const lowFace = side(1, 0, 0)
const highFace = side(0, 1, 0)

export const corePiece = ({ core }: Candidate): Piece => ({
  part: 'core',
  tolerance: core.tolerance ?? 0,
  low: [lowFace, lowFace, lowFace],
  high: [highFace, highFace, highFace],
})

/**
 * The box from a tank's foot to its cross-section at a share of its length, as wide as that section: sections grow smaller
 * outward, so the box lies in the tank.
 */
export function tankPiece(candidate: Candidate, which: TankSide, share: number): Piece {
  const tank = candidate.tanks?.[which]
  if (!tank) throw new Error(`no ${which} tank`)
  const { depth: taperDepth, height: taperHeight } = tank.taper ?? { depth: 1, height: 1 }
  const [lowX, highX] = sectionSides(tank.front, tank.rear, (share * (1 - taperDepth)) / 2)
  const [lowZ, highZ] = sectionSides(tank.below, tank.above, (share * (1 - taperHeight)) / 2)
  const reach = share * tank.length
  const [lowY, highY] = which === 'left' ? [side(1, 0, -reach), lowFace] : [highFace, side(0, 1, reach)]
  return { part: `tank-${which}`, tolerance: tank.tolerance ?? 0, low: [lowX, lowY, lowZ], high: [highX, highY, highZ] }
}

/** Both sides of a section that is drawn in by the share `a` of the foot's width on each side. */
const sectionSides = (below: number, above: number, a: number): [Side, Side] => [
  side(1 - a, a, a * above - (1 - a) * below),
  side(a, 1 - a, (1 - a) * above - a * below),
]

/** Where a port sits, as a point that follows the faces; see `portPoint`. */
export function portSides(candidate: Candidate, which: TankSide, port: number): [Side, Side, Side] {
  const at = candidate.tanks?.[which]?.ports?.[port]
  if (!at) throw new Error(`no port ${port} on the ${which} tank`)
  return tankPlaceSides(candidate, which, at)
}

/** A point on a tank's actual face, as one that follows the core's faces. */
export function tankPlaceSides(
  candidate: Candidate,
  which: TankSide,
  at: Pick<TankPort, 'face' | 'u' | 'v'>,
): [Side, Side, Side] {
  const tank = candidate.tanks?.[which]
  if (!tank) throw new Error(`no ${which} tank`)
  const share = at.face === 'end' ? 1 : (at.u + 1) / 2
  const { depth: taperDepth, height: taperHeight } = tank.taper ?? { depth: 1, height: 1 }
  // −1 … 1 across the section that is `share` of the way out, along X and Z.
  const acrossX = { end: at.u, front: -1, rear: 1, below: at.v, above: at.v }[at.face]
  const acrossZ = { end: at.v, front: at.v, rear: at.v, below: -1, above: 1 }[at.face]
  const outward = share * tank.length
  return [
    across(tank.front, tank.rear, acrossX * (1 - share * (1 - taperDepth))),
    which === 'left' ? side(1, 0, -outward) : side(0, 1, outward),
    across(tank.below, tank.above, acrossZ * (1 - share * (1 - taperHeight))),
  ]
}

/** At −1 the foot's low side, at 1 its high side. */
const across = (below: number, above: number, at: number): Side =>
  side((1 - at) / 2, (1 + at) / 2, ((1 + at) / 2) * above - ((1 - at) / 2) * below)

/**
 * A box about the port's point that lies in the stub; from, to: relative to that point, in the candidate's axes.
 * @param along axis that the stub runs along, with the box reaching back to where its cylinder begins; −1: not so
 */
export function stubPiece(
  candidate: Candidate,
  which: TankSide,
  port: number,
  from: Vec3,
  to: Vec3,
  along: number,
): Piece {
  const at = portSides(candidate, which, port)
  const moved = (by: Vec3) => at.map((s, k) => side(s.onLow, s.onHigh, s.offset + by[k])) as [Side, Side, Side]
  const [low, high] = [moved(from), moved(to)]
  if (along >= 0) {
    const end = stubAxis(candidate, which, port)[along] > 0 ? low : high
    end[along] = rootSide(candidate, which, port, along, end[along])
  }
  const id = candidate.tanks?.[which]?.ports?.[port].id
  return { part: `stub-${which}-${id}`, tolerance: 0, low, high }
}

/**
 * The beginning of a stub square to the tank's axis, from its point on the face moved back by radius · slope of the face:
 * the slope grows with the foot, so the move follows the faces too. Where it would make a factor negative it is made
 * shorter, and the box stays in the stub.
 */
export function rootSide(candidate: Candidate, which: TankSide, port: number, k: number, at: Side): Side {
  const tank = candidate.tanks?.[which]
  const own = tank?.ports?.[port]
  const axis = own && { front: 0, rear: 0, below: 2, above: 2, end: -1 }[own.face]
  if (!tank || !own || axis !== k) return at
  const taper = k === 0 ? (tank.taper?.depth ?? 1) : (tank.taper?.height ?? 1)
  const [below, above] = k === 0 ? [tank.front, tank.rear] : [tank.below, tank.above]
  const out = stubAxis(candidate, which, port)[k] > 0 ? 1 : -1
  const full = ((own.outsideDiameter / 2) * (1 - taper)) / tank.length / 2
  const half = Math.min(full, out > 0 ? at.onHigh : at.onLow) * (1 - 1e-12)
  return side(at.onLow + out * half, at.onHigh - out * half, at.offset - out * half * (below + above))
}

export const stubAxis = (candidate: Candidate, which: TankSide, port: number): Vec3 => {
  const at = candidate.tanks?.[which]?.ports?.[port]
  if (!at) throw new Error(`no port ${port} on the ${which} tank`)
  return stubDirection(at, which)
}
