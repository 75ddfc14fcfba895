import { convexRound } from '../clearance/convexRound.ts'
import { convexDistance } from '../clearance/gjk.ts'
import { isInside } from '../clearance/inside.ts'
import { nearestOnMesh } from '../clearance/meshSearch.ts'
import { emptyNearest, type Nearest } from '../clearance/nearest.ts'
import { intoTree, outOfTree, Seeker } from '../clearance/seeker.ts'
import { type ConvexSet, emptySet } from '../clearance/support.ts'
import type { Polytope } from '../shape/form.ts'
import { outwardOffset } from '../shape/polytope.ts'
import type { Vec3 } from '../shape/vec.ts'
import type { Motion } from './motion.ts'
import type { Obstacle } from './obstacle.ts'
import type { SeatPiece } from './subject.ts'

/**
 * What placing points loses to rounding, mm: a few units in the last place of coordinates up to some 100 m. Ten thousand
 * times that is taken, and it makes a touch a refusal where nothing is wanted.
 */
const allowance = 1e-7

/**
 * Distance of one piece, over a whole interval of a move, to one obstacle: everything else in this folder is built on it.
 *
 * With V the piece's points at the interval's two ends, every point in between lies within s of conv(V):
 * its coordinates are linear plus r·cos, so their second derivative is at most r·θ², and a curve leaves its chord by no
 * more than that · (interval)² / 8. Hence gap ≥ distance(conv(V), obstacle) − s with s = r · (θ·(b − a))² / 8, r the
 * largest distance of a point from the turning axis. For a plain shift s is 0 and the bound exact.
 * Source: derived; the error of a chord is common knowledge.
 */
export class Sweeps {
  /** Distance queries so far: the searches' budgets are counted in them. */
  queries = 0
  /** The last pair found, bay frame; its first point lies in the hull of both ends. */
  readonly near: Nearest = emptyNearest()
  /** Box about the loaded interval, grown by the chord's error: least x, y, z, greatest x, y, z. */
  readonly box = new Float64Array(6)
  private readonly set: ConvexSet = emptySet()
  private readonly frame = new Float64Array(12)
  private readonly seeker = new Seeker()
  private motion: Motion | null = null
  private piece!: SeatPiece
  private from = 0
  private to = 0
  /** By how much the real motion may leave the hull, mm, rounding included. */
  private stray = 0

  /** Makes one piece over [a, b] of a motion the one that is asked about; a = b for a single pose. */
  load(motion: Motion, piece: SeatPiece, a: number, b: number): void {
    if (this.motion === motion && this.piece === piece && this.from === a && this.to === b) return
    this.motion = motion
    this.piece = piece
    this.from = a
    this.to = b
    const n = piece.points.length
    const both = a !== b
    const { set, box } = this
    const size = both ? 2 * n : n
    if (set.points.length < size) set.points = new Float64Array(2 * size)
    box.fill(Infinity, 0, 3)
    box.fill(-Infinity, 3, 6)
    this.placePoints(motion, piece.points, a, 0)
    if (both) this.placePoints(motion, piece.points, b, n)
    set.count = size / 3
    set.reach = Math.max(-box[0], -box[1], -box[2], box[3], box[4], box[5])
    const turn = motion.angle * (b - a)
    const sagitta = turn === 0 ? 0 : (motion.radiusOf(piece, piece.points) * turn * turn) / 8
    this.stray = sagitta + allowance + 1e-13 * set.reach
    for (let k = 0; k < 3; k++) {
      box[k] -= this.stray
      box[3 + k] += this.stray
    }
  }

  private placePoints(motion: Motion, points: Float64Array, share: number, at: number): void {
    const { frame: f, set, box } = this
    motion.place(share, f)
    const out = set.points
    let [x0, y0, z0, x1, y1, z1] = box
    for (let i = 0; i < points.length; i += 3) {
      const u = points[i]
      const v = points[i + 1]
      const w = points[i + 2]
      const x = f[0] * u + f[1] * v + f[2] * w + f[9]
      const y = f[3] * u + f[4] * v + f[5] * w + f[10]
      const z = f[6] * u + f[7] * v + f[8] * w + f[11]
      out[at + i] = x
      out[at + i + 1] = y
      out[at + i + 2] = z
      if (x < x0) x0 = x
      if (x > x1) x1 = x
      if (y < y0) y0 = y
      if (y > y1) y1 = y
      if (z < z0) z0 = z
      if (z > z1) z1 = z
    }
    box[0] = x0
    box[1] = y0
    box[2] = z0
    box[3] = x1
    box[4] = y1
    box[5] = z1
  }

  /** Lower bound of the loaded interval's gap by boxes alone, mm; 0 for a half-space. */
  boxGap({ box: k }: Obstacle): number {
    const b = this.box
    const x = Math.max(k[0] - b[3], b[0] - k[3], 0)
    const y = Math.max(k[1] - b[4], b[1] - k[4], 0)
    const z = Math.max(k[2] - b[5], b[2] - k[5], 0)
    return Math.sqrt(x * x + y * y + z * z)
  }

  /**
   * Proved lower bound of the gap over the loaded interval, mm, not negative; 0 where contact is not ruled out.
   * Surfaces only where the obstacle is a mesh: whether the piece begins inside is another question (`startsInside`).
   * @param upTo from here on the exact figure does not matter: any bound of at least this may come back
   */
  gap(obstacle: Obstacle, upTo: number): number {
    if (this.boxGap(obstacle) >= upTo) return upTo
    this.queries++
    this.measure(obstacle, upTo + this.stray)
    // Never less by a rounding: what is beyond the cut is so for good.
    if (this.near.stopped === 'upTo') return Math.max(upTo, this.near.atLeast - this.stray)
    return Math.max(0, this.near.atLeast - this.stray)
  }

  private measure(obstacle: Obstacle, upTo: number): void {
    const { near } = this
    switch (obstacle.kind) {
      case 'convex':
        convexDistance(this.set, obstacle.set, upTo, near)
        if (near.contact !== 'none') near.atLeast = near.atMost = 0
        return
      case 'halfSpace':
        this.overPlane(obstacle.form.normal, obstacle.form.point)
        return
      case 'round': {
        const answer = convexRound({ form: 'convex', body: this.body() }, obstacle.form, { upTo, depth: false })
        this.take(answer.atLeast, answer.atMost, answer.onPart, answer.onKeepOut, answer.overlap !== undefined)
        near.stopped = answer.stopped
        return
      }
      case 'mesh': {
        const { form, tree } = obstacle
        const found = nearestOnMesh(this.seeker.fill(this.body(), form, tree), tree, upTo)
        const met = found.contact !== 'none'
        const on = outOfTree(form, tree, [found.ax, found.ay, found.az])
        const off = outOfTree(form, tree, [found.bx, found.by, found.bz])
        this.take(met ? 0 : found.atLeast, met ? 0 : found.atMost, on, off, met)
        near.stopped = found.stopped
      }
    }
  }

  private take(atLeast: number, atMost: number, on: Vec3, off: Vec3, met: boolean): void {
    const { near } = this
    near.atLeast = atLeast
    near.atMost = atMost
    near.ax = on[0]
    near.ay = on[1]
    near.az = on[2]
    near.bx = off[0]
    near.by = off[1]
    near.bz = off[2]
    near.contact = met ? 'overlap' : 'none'
  }

  private overPlane([nx, ny, nz]: Vec3, [px, py, pz]: Vec3): void {
    const { near, set } = this
    const { points } = set
    let lowest = Infinity
    let at = 0
    for (let i = 0; i < 3 * set.count; i += 3) {
      const height = nx * (points[i] - px) + ny * (points[i + 1] - py) + nz * (points[i + 2] - pz)
      if (height < lowest) {
        lowest = height
        at = i
      }
    }
    const slack = 1e-14 * (set.reach + Math.abs(px) + Math.abs(py) + Math.abs(pz))
    near.atMost = Math.max(0, lowest)
    near.atLeast = Math.max(0, lowest - slack)
    near.contact = lowest > 0 ? 'none' : 'overlap'
    near.stopped = 'converged'
    near.ax = points[at]
    near.ay = points[at + 1]
    near.az = points[at + 2]
    near.bx = near.ax - lowest * nx
    near.by = near.ay - lowest * ny
    near.bz = near.az - lowest * nz
  }

  /** The hull as a body with a few planes about it, which is what searches in trees of boxes ask for. */
  private body(): Polytope {
    const { frame: f, piece, set } = this
    const vertices = set.points.subarray(0, 3 * set.count)
    const planes = new Float64Array((piece.normals.length / 3) * 4)
    if (this.motion) this.motion.place((this.from + this.to) / 2, f)
    for (let i = 0; 3 * i < piece.normals.length; i++) {
      const [u, v, w] = [piece.normals[3 * i], piece.normals[3 * i + 1], piece.normals[3 * i + 2]]
      const normal: Vec3 = [
        f[0] * u + f[1] * v + f[2] * w,
        f[3] * u + f[4] * v + f[5] * w,
        f[6] * u + f[7] * v + f[8] * w,
      ]
      planes.set(normal, 4 * i)
      planes[4 * i + 3] = outwardOffset(vertices, normal)
    }
    return { kind: 'polytope', vertices, faces: [], planes }
  }

  /** Whether the loaded piece's first point lies inside a closed mesh. */
  startsInside(obstacle: Obstacle): boolean {
    if (obstacle.kind !== 'mesh') return false
    const { points } = this.set
    return isInside(obstacle.tree, intoTree(obstacle.form, obstacle.tree, [points[0], points[1], points[2]]))
  }

  /**
   * The share of the loaded interval at which the point of the last pair is most likely on the piece: where it lies deepest
   * in the piece's own box. Only a guess where to look.
   */
  shareOfNear(steps: number): number {
    const { near, from, to } = this
    if (from === to) return from
    let [low, high] = [from, to]
    for (let step = 0; step < steps; step++) {
      const [a, b] = [low + 0.382 * (high - low), low + 0.618 * (high - low)]
      if (this.outside(near.ax, near.ay, near.az, a) <= this.outside(near.ax, near.ay, near.az, b)) high = b
      else low = a
    }
    const share = (low + high) / 2
    const least = this.outside(near.ax, near.ay, near.az, share) + 1e-9
    // Most often it is one of the ends, which halving only comes near to.
    const end = [from, to].find((each) => this.outside(near.ax, near.ay, near.az, each) <= least)
    return end ?? share
  }

  private outside(x: number, y: number, z: number, share: number): number {
    const { frame: f, piece } = this
    ;(this.motion as Motion).place(share, f)
    const [p, q, r] = [x - f[9], y - f[10], z - f[11]]
    let most = -Infinity
    for (let k = 0; k < 3; k++) {
      const own = f[k] * p + f[3 + k] * q + f[6 + k] * r
      most = Math.max(most, own - piece.high[k], piece.low[k] - own)
    }
    return most
  }
}
