import { hiddenByConvex, type Share, type SightBlock } from './convexSight.ts'
import { hiddenByMesh, type MeshSight } from './meshSight.ts'
import { joinedShares, withoutShares } from './shares.ts'
import { type Frame, framesMeet, type Seen } from './view.ts'

/** Whatever may stand before lines in one picture, found by where it stands. */
export class Blockers {
  private readonly cells = new Map<number, SightBlock[]>()

  constructor(
    blocks: readonly SightBlock[],
    private readonly meshes: readonly MeshSight[],
    private readonly cell = 40,
  ) {
    for (const block of blocks)
      for (const at of this.cellsOf(block.frame)) {
        const list = this.cells.get(at)
        if (list) list.push(block)
        else this.cells.set(at, [block])
      }
  }

  /** The shares of a straight line that something hides, joined and in order; `except`: a mesh that the line is the outline of. */
  hiddenOf(from: Seen, to: Seen, except: ReadonlySet<MeshSight>): Share[] {
    const frame: Frame = {
      min: [Math.min(from[0], to[0]), Math.min(from[1], to[1])],
      max: [Math.max(from[0], to[0]), Math.max(from[1], to[1])],
    }
    const met = new Set<SightBlock>()
    for (const at of this.cellsOf(frame))
      for (const block of this.cells.get(at) ?? []) if (framesMeet(block.frame, frame)) met.add(block)
    const shares = [...met].flatMap((block) => {
      const share = hiddenByConvex(block, from, to)
      return share ? [share] : []
    })
    const before = this.meshes.filter((mesh) => !except.has(mesh) && framesMeet(mesh.frame, frame))
    return joinedShares([...shares, ...before.flatMap((mesh) => hiddenByMesh(mesh, from, to))])
  }

  private *cellsOf({ min, max }: Frame): Generator<number> {
    const at = (x: number) => Math.floor(x / this.cell)
    for (let u = at(min[0]); u <= at(max[0]); u++) for (let v = at(min[1]); v <= at(max[1]); v++) yield u * 2 ** 20 + v
  }
}

/** A run of points, all of it seen or all of it hidden. */
export interface Run {
  readonly hidden: boolean
  readonly points: readonly Seen[]
}

/** Runs shorter than this in the picture are not told apart, mm. */
const leastRun = 1e-3

/** A line of straight pieces as runs that are seen and runs that are not, in order. */
export function runsOf(line: readonly Seen[], blockers: Blockers, except: ReadonlySet<MeshSight>): Run[] {
  const runs: { hidden: boolean; points: Seen[] }[] = []
  for (let i = 1; i < line.length; i++) {
    const [from, to] = [line[i - 1], line[i]]
    const long = Math.hypot(to[0] - from[0], to[1] - from[1])
    if (long < 1e-9) continue
    const hidden = blockers.hiddenOf(from, to, except).filter(([a, b]) => (b - a) * long > leastRun)
    const pieces = [
      ...hidden.map((share) => ({ share, hidden: true })),
      ...withoutShares([0, 1], hidden, leastRun / long).map((share) => ({ share, hidden: false })),
    ].sort((a, b) => a.share[0] - b.share[0])
    for (const piece of pieces) {
      const ends = piece.share.map((t): Seen => pointAt(from, to, t))
      const last = runs.at(-1)
      if (last && last.hidden === piece.hidden && meets(last.points[last.points.length - 1], ends[0]))
        last.points.push(ends[1])
      else runs.push({ hidden: piece.hidden, points: ends })
    }
  }
  return runs
}

const pointAt = (a: Seen, b: Seen, t: number): Seen =>
  t === 0 ? a : t === 1 ? b : [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1]), a[2] + t * (b[2] - a[2])]

const meets = (a: Seen, b: Seen): boolean => Math.hypot(a[0] - b[0], a[1] - b[1]) < 1e-6
