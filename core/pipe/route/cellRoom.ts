import { type Cell, meets } from './cell.ts'
import { ConvexPiece } from './convexPiece.ts'
import { boxGap, emptyPointDistance, type PointDistance, pointToBody } from './distancePoint.ts'
import type { RoomKeeper } from './keepers.ts'

/** More room than this beside everything is all the same, in radii of the pipe. */
export const widestInRadii = 8
/** Bodies looked at in pairs. */
const mostPieces = 5
/** Ways out of two bodies have to differ by so much (square of the difference) for the two to close a gap between them. */
const opposed = 0.5

/**
 * Bounds on the room for a centreline anywhere in a cell.
 *
 * Room at a point is the least, over all bodies, of distance − keep. In a cell it is no more than at the middle and half the
 * diagonal. Better, each convex piece has its greatest room at a corner. Best, with two pieces: the plane on which both have
 * the same room, as far as a linear guess can tell, cuts the cell in two; each half is bounded by its own piece at the half's
 * corners. Between two walls this is exact at any size, so that cells as large as the pipe prove a gap too narrow by 0.01 mm.
 * Bounds hold wherever the plane lies. Everything that leaves something out only makes them higher.
 */
export class CellRoom {
  /** Of the last cell: no point of it has more room, mm. */
  bound = 0
  /** Room at its middle, mm, but for what is excused anywhere in the cell. */
  middle = 0
  /** Numbers of the keepers that can matter in the cell. */
  near: Int32Array = new Int32Array(0)
  /** The obstacles that the bound comes from; −1 for none. */
  first = -1
  second = -1
  /** Distances measured so far. */
  asked = 0
  private readonly keepers: readonly RoomKeeper[]
  private readonly most: number
  private readonly there = emptyPointDistance()
  private readonly looks: Look[] = []
  private readonly pieces = Array.from({ length: 12 }, () => new ConvexPiece())
  /** Room beside each piece at each corner. */
  private readonly atCorners = new Float64Array(12 * 8)
  private readonly corners = new Float64Array(24)
  private readonly over = new Float64Array(8)
  private readonly ways: { room: number; nx: number; ny: number; nz: number }[] = []

  /** @param most room is told as this where it is more, mm */
  constructor(keepers: readonly RoomKeeper[], most: number) {
    this.keepers = keepers
    this.most = most
  }

  /**
   * @param among numbers of the keepers that may matter: `near` of a larger cell that holds this one, or all
   * @param wanted the bound need be no lower than this where the middle has as much room
   * @param enough nor any lower than this
   */
  measure(cell: Cell, among: Int32Array, wanted: number, enough: number): void {
    const reach = Math.hypot(cell.hx, cell.hy, cell.hz)
    this.lookAround(cell, among, reach)
    this.bound = Math.min(this.most, this.middle + reach)
    if (this.middle >= wanted || this.bound <= enough) return
    this.placeCorners(cell)
    const count = this.takePieces()
    this.bound = Math.min(this.bound, this.byPieces(cell, 0, count))
    if (this.bound < wanted) return
    const more = this.meshPieces(cell, count)
    if (more > count) this.bound = Math.min(this.bound, this.byPieces(cell, count, more))
  }

  /** Room at the middle, and what may matter in the cell: what has no more room there than the least one and the diagonal. */
  private lookAround(cell: Cell, among: Int32Array, reach: number): void {
    const { keepers, looks, there } = this
    let best = this.most
    let count = 0
    for (const number of among) {
      const keeper = keepers[number]
      const limit = best + 2 * reach
      const { body, keep } = keeper
      if (boxGap(body.box, cell.x, cell.y, cell.z) - body.slack - keep > limit) continue
      if (count === looks.length) looks.push(emptyLook())
      const look = looks[count]
      look.number = number
      look.room = Infinity
      look.least = -Infinity
      count++
      if (isExcused(keeper, cell)) continue
      this.asked += body.kind === 'mesh' ? 4 : 1
      pointToBody(body, cell.x, cell.y, cell.z, limit + keep, there)
      take(look, there, keep)
      if (look.room < best) best = look.room
    }
    this.middle = best
    let kept = 0
    for (let i = 0; i < count; i++) {
      if (looks[i].least > best + 2 * reach) continue
      const look = looks[i]
      looks[i] = looks[kept]
      looks[kept++] = look
    }
    this.near = new Int32Array(kept)
    for (let i = 0; i < kept; i++) this.near[i] = looks[i].number
  }

  /** The nearest few bodies as convex pieces, nearest first; returns how many. */
  private takePieces(): number {
    const { looks, pieces, ways, keepers } = this
    let count = 0
    this.first = this.second = -1
    while (count < mostPieces) {
      let next = -1
      for (let i = 0; i < this.near.length; i++)
        if (looks[i].room < Infinity && (next < 0 || looks[i].room < looks[next].room)) next = i
      if (next < 0) break
      const look = looks[next]
      const keeper = keepers[look.number]
      if (count === 0) this.first = keeper.obstacle
      if (pieces[count].take(keeper, look.element)) {
        ways[count] = { room: look.room, nx: look.nx, ny: look.ny, nz: look.nz }
        this.roomsAtCorners(count)
        count++
      }
      look.room = Infinity
    }
    return count
  }

  /** The triangles of a mesh nearest to the cell's corners: two walls of one mesh close a gap as two bodies do. */
  private meshPieces(cell: Cell, from: number): number {
    const { pieces, keepers, there, corners } = this
    let count = from
    for (const number of this.near) {
      const keeper = keepers[number]
      const { body, keep } = keeper
      if (body.kind !== 'mesh' || isExcused(keeper, cell)) continue
      for (let q = 0; q < 8 && count < pieces.length; q++) {
        const i = 3 * q
        // Farther than the bound at this corner, or than what is known there already, is of no use.
        let limit = this.bound
        for (let e = 0; e < count; e++)
          if (pieces[e].keeper === keeper) limit = Math.min(limit, this.atCorners[8 * e + q])
        this.asked += 4
        pointToBody(body, corners[i], corners[i + 1], corners[i + 2], limit + keep - 1e-9, there)
        if (there.atMost === Infinity) continue
        const way = { room: 0, nx: there.nx, ny: there.ny, nz: there.nz }
        pieces[count].take(keeper, there.element)
        // The way out at the corner, held to be that at the middle: any plane will do.
        way.room = pieces[count].room(cell.x, cell.y, cell.z, there)
        this.roomsAtCorners(count)
        this.ways[count] = way
        count++
      }
    }
    return count
  }

  /** Bound by pieces 0 … count − 1, those below `from` done before. */
  private byPieces(cell: Cell, from: number, count: number): number {
    const { pieces, atCorners } = this
    let bound = this.bound
    for (let e = from; e < count; e++) {
      let greatest = -Infinity
      for (let q = 0; q < 8; q++) if (atCorners[8 * e + q] > greatest) greatest = atCorners[8 * e + q]
      if (greatest >= bound) continue
      bound = greatest
      this.first = pieces[e].obstacle
      this.second = -1
    }
    for (let b = Math.max(from, 1); b < count; b++)
      for (let a = 0; a < b; a++) {
        const room = this.between(cell, a, b, bound)
        if (room >= bound) continue
        bound = room
        this.first = pieces[a].obstacle
        this.second = pieces[b].obstacle
      }
    return bound
  }

  private roomsAtCorners(piece: number): void {
    const { corners, atCorners } = this
    for (let q = 0; q < 8; q++)
      atCorners[8 * piece + q] = this.roomBeside(piece, corners[3 * q], corners[3 * q + 1], corners[3 * q + 2])
  }

  private roomBeside(piece: number, x: number, y: number, z: number): number {
    this.asked++
    return this.pieces[piece].room(x, y, z, this.there)
  }

  private placeCorners({ x, y, z, hx, hy, hz }: Cell): void {
    const { corners } = this
    for (let q = 0; q < 8; q++) {
      corners[3 * q] = x + (q & 1 ? hx : -hx)
      corners[3 * q + 1] = y + (q & 2 ? hy : -hy)
      corners[3 * q + 2] = z + (q & 4 ? hz : -hz)
    }
  }

  /** Bound by two pieces, each on its side of a plane; anything from `enough` on where it is no less. */
  private between(cell: Cell, a: number, b: number, enough: number): number {
    const { ways, corners, over, atCorners } = this
    const x = ways[a].nx - ways[b].nx
    const y = ways[a].ny - ways[b].ny
    const z = ways[a].nz - ways[b].nz
    if (x * x + y * y + z * z < opposed) return enough
    const d = ways[a].room - ways[b].room
    let bound = -Infinity
    for (let q = 0; q < 8; q++) {
      const i = 3 * q
      const more = d + x * (corners[i] - cell.x) + y * (corners[i + 1] - cell.y) + z * (corners[i + 2] - cell.z)
      over[q] = more
      const room = atCorners[8 * (more <= 0 ? a : b) + q]
      if (room > bound) bound = room
    }
    for (let q = 0; q < 8 && bound < enough; q++)
      for (let bit = 1; bit < 8; bit *= 2) {
        const r = q | bit
        if (r === q || over[q] * over[r] >= 0) continue
        const share = over[q] / (over[q] - over[r])
        const i = 3 * q
        const j = 3 * r
        const px = corners[i] + share * (corners[j] - corners[i])
        const py = corners[i + 1] + share * (corners[j + 1] - corners[i + 1])
        const pz = corners[i + 2] + share * (corners[j + 2] - corners[i + 2])
        const room = Math.max(this.roomBeside(a, px, py, pz), this.roomBeside(b, px, py, pz))
        if (room > bound) bound = room
      }
    return bound
  }
}

/** What the middle of a cell says of one keeper. */
interface Look {
  number: number
  /** No less than the true room; Infinity where it is far or excused. */
  room: number
  least: number
  nx: number
  ny: number
  nz: number
  element: number
}

const emptyLook = (): Look => ({ number: 0, room: 0, least: 0, nx: 0, ny: 0, nz: 0, element: 0 })

function take(look: Look, there: PointDistance, keep: number): void {
  look.room = Math.max(there.atMost, 0) - keep
  look.least = Math.max(there.atLeast, 0) - keep
  look.nx = there.nx
  look.ny = there.ny
  look.nz = there.nz
  look.element = there.element
}

/** Whether the keeper is excused somewhere in the cell. */
const isExcused = ({ blocks }: RoomKeeper, cell: Cell): boolean => blocks.some((block) => meets(block, cell))
