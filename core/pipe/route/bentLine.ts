import type { Vec3 } from '../../shape/vec.ts'
import type { Corners, RouteProblem } from './problem.ts'

/** Angles beyond this count as this for lengths, so that these stay finite, radians; what is asked of a route ends before. */
export const mostAngle = 3

/**
 * A centreline of two or more bends as a function of its unknowns: how far along the port's line the first corner lies,
 * how far along the other port's line the last one, then x, y, z of every corner between. Filled in place, allocates
 * nothing: it is laid anew for every unknown and every step.
 *
 * Pieces alternate: piece 2k is the straight before bend k, piece 2k + 1 its arc. Straights may come out shorter than
 * nothing while a route is being found; their points then run backwards. mm, bay frame.
 */
export class BentLine {
  readonly bends: number
  readonly unknowns: number
  readonly pieces: number
  /** Points with both ends, x, y, z after each other. */
  readonly points: Float64Array
  /** Unit direction of each leg. */
  readonly ways: Float64Array
  readonly legs: Float64Array
  readonly angles: Float64Array
  readonly setbacks: Float64Array
  readonly straights: Float64Array
  /** Developed, mm. */
  length = 0
  /** Of each arc: centre, way from it to the arc's beginning, way on there (unit). */
  private readonly arcs: Float64Array
  private readonly problem: RouteProblem

  constructor(problem: RouteProblem, bends: number) {
    this.problem = problem
    this.bends = bends
    this.unknowns = 2 + 3 * (bends - 2)
    this.pieces = 2 * bends + 1
    this.points = new Float64Array(3 * (bends + 2))
    this.ways = new Float64Array(3 * (bends + 1))
    this.legs = new Float64Array(bends + 1)
    this.angles = new Float64Array(bends)
    this.setbacks = new Float64Array(bends)
    this.straights = new Float64Array(bends + 1)
    this.arcs = new Float64Array(9 * bends)
  }

  /** Lays the line through the corners that the unknowns stand for. */
  lay(x: ArrayLike<number>): this {
    const { points, bends, problem } = this
    const { from, to } = problem
    const last = 3 * bends
    for (let k = 0; k < 3; k++) {
      points[k] = from.at[k]
      points[3 + k] = from.at[k] + x[0] * from.direction[k]
      points[last + k] = to.at[k] + x[1] * to.direction[k]
      points[last + 3 + k] = to.at[k]
    }
    for (let i = 2; i < 2 + 3 * (bends - 2); i++) points[i + 4] = x[i]
    this.layLegs()
    this.layBends()
    return this
  }

  private layLegs(): void {
    const { points, ways, legs } = this
    for (let i = 0; i < legs.length; i++) {
      const p = 3 * i
      const x = points[p + 3] - points[p]
      const y = points[p + 4] - points[p + 1]
      const z = points[p + 5] - points[p + 2]
      const l = Math.sqrt(x * x + y * y + z * z)
      legs[i] = l
      // A leg of no length goes on the way of the one before.
      const scale = l > 1e-12 ? 1 / l : 0
      const before = p === 0 ? this.problem.from.direction : null
      ways[p] = scale > 0 ? x * scale : before ? before[0] : ways[p - 3]
      ways[p + 1] = scale > 0 ? y * scale : before ? before[1] : ways[p - 2]
      ways[p + 2] = scale > 0 ? z * scale : before ? before[2] : ways[p - 1]
    }
  }

  private layBends(): void {
    const { ways, legs, angles, setbacks, straights, points, arcs } = this
    const radius = this.problem.bendRadius
    let length = 0
    for (let i = 0; i < angles.length; i++) {
      const w = 3 * i
      const ux = ways[w]
      const uy = ways[w + 1]
      const uz = ways[w + 2]
      const vx = ways[w + 3]
      const vy = ways[w + 4]
      const vz = ways[w + 5]
      const cx = uy * vz - uz * vy
      const cy = uz * vx - ux * vz
      const cz = ux * vy - uy * vx
      const angle = Math.atan2(Math.sqrt(cx * cx + cy * cy + cz * cz), ux * vx + uy * vy + uz * vz)
      angles[i] = angle
      setbacks[i] = radius * Math.tan(Math.min(angle, mostAngle) / 2)
      straights[i] = legs[i] - setbacks[i] - (i > 0 ? setbacks[i - 1] : 0)
      length += straights[i] + radius * angle
      this.layArc(9 * i, w, setbacks[i], points, arcs)
    }
    const last = angles.length
    straights[last] = legs[last] - setbacks[last - 1]
    this.length = length + straights[last]
  }

  /** The arc at the corner between the legs whose ways begin at `w`. */
  private layArc(at: number, w: number, setback: number, points: Float64Array, arcs: Float64Array): void {
    const { ways } = this
    const radius = this.problem.bendRadius
    const turn = ways[w] * ways[w + 3] + ways[w + 1] * ways[w + 4] + ways[w + 2] * ways[w + 5]
    let squared = 0
    // Towards the centre: the part of the way on that is square to the way in.
    for (let k = 0; k < 3; k++) {
      const inward = ways[w + 3 + k] - turn * ways[w + k]
      arcs[at + 3 + k] = -inward
      squared += inward * inward
    }
    const scale = squared > 1e-24 ? 1 / Math.sqrt(squared) : 0
    for (let k = 0; k < 3; k++) {
      arcs[at + 3 + k] *= scale
      arcs[at + 6 + k] = ways[w + k]
      arcs[at + k] = points[w + 3 + k] - setback * ways[w + k] - radius * arcs[at + 3 + k]
    }
  }

  isArc(piece: number): boolean {
    return (piece & 1) === 1
  }

  pieceLength(piece: number): number {
    return this.isArc(piece) ? this.problem.bendRadius * this.angles[piece >> 1] : this.straights[piece >> 1]
  }

  /** Writes the point at a share 0 … 1 of a piece to out[at…at + 2]. */
  pointOn(piece: number, share: number, out: Float64Array, at = 0): void {
    const k = piece >> 1
    if (this.isArc(piece)) {
      const { arcs } = this
      const a = share * this.angles[k]
      const radius = this.problem.bendRadius
      const c = radius * Math.cos(a)
      const s = radius * Math.sin(a)
      const o = 9 * k
      for (let i = 0; i < 3; i++) out[at + i] = arcs[o + i] + c * arcs[o + 3 + i] + s * arcs[o + 6 + i]
      return
    }
    const { points, ways, setbacks, straights } = this
    const along = (k > 0 ? setbacks[k - 1] : 0) + share * straights[k]
    for (let i = 0; i < 3; i++) out[at + i] = points[3 * k + i] + along * ways[3 * k + i]
  }

  /** Share of an arc that is nearest to a point, kept between two shares. */
  nearestOnArc(piece: number, x: number, y: number, z: number, low: number, high: number): number {
    const { arcs, angles } = this
    const o = 9 * (piece >> 1)
    const gx = x - arcs[o]
    const gy = y - arcs[o + 1]
    const gz = z - arcs[o + 2]
    return this.shareTowards(
      angles[piece >> 1],
      gx * arcs[o + 3] + gy * arcs[o + 4] + gz * arcs[o + 5],
      gx * arcs[o + 6] + gy * arcs[o + 7] + gz * arcs[o + 8],
      low,
      high,
    )
  }

  /** Share of an arc that reaches farthest along a way, kept between two shares. */
  farthestOnArc(piece: number, x: number, y: number, z: number, low: number, high: number): number {
    const { arcs, angles } = this
    const o = 9 * (piece >> 1)
    return this.shareTowards(
      angles[piece >> 1],
      x * arcs[o + 3] + y * arcs[o + 4] + z * arcs[o + 5],
      x * arcs[o + 6] + y * arcs[o + 7] + z * arcs[o + 8],
      low,
      high,
    )
  }

  private shareTowards(angle: number, x: number, y: number, low: number, high: number): number {
    if (!(angle > 0)) return low
    // The angle from the arc's middle, −π … π: what lies before the beginning must not come out beyond the end.
    const middle = angle / 2
    const c = Math.cos(middle)
    const s = Math.sin(middle)
    const a = middle + Math.atan2(c * y - s * x, c * x + s * y)
    return Math.min(high, Math.max(low, a / angle))
  }

  /** The corners that the line was laid through, without the ends. */
  corners(): Corners {
    return Array.from({ length: this.bends }, (_, i): Vec3 => {
      const p = 3 * (i + 1)
      return [this.points[p], this.points[p + 1], this.points[p + 2]]
    })
  }
}

/** The unknowns of a line through such corners; the first and the last are put on their port's line. */
export function unknownsOf({ from, to, bendRadius }: RouteProblem, corners: Corners): Float64Array {
  const x = new Float64Array(2 + 3 * (corners.length - 2))
  const onLine = (at: Vec3, direction: Vec3, p: Vec3) =>
    (p[0] - at[0]) * direction[0] + (p[1] - at[1]) * direction[1] + (p[2] - at[2]) * direction[2]
  // Behind the port the line would leave it backwards.
  const least = 0.1 * bendRadius
  x[0] = Math.max(least, onLine(from.at, from.direction, corners[0]))
  x[1] = Math.max(least, onLine(to.at, to.direction, corners[corners.length - 1]))
  for (let i = 1; i + 1 < corners.length; i++) for (let k = 0; k < 3; k++) x[3 * i - 1 + k] = corners[i][k]
  return x
}
