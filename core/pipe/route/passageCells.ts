import type { Bounds } from '../../shape/form.ts'
import { isWithin, meets } from './cell.ts'
import { CellRoom } from './cellRoom.ts'
import { CellTree } from './cellTree.ts'
import { excusedInBlocks, freeFrom, type Keeper, type RoomKeeper } from './keepers.ts'
import type { RouteProblem } from './problem.ts'

/** Cells of about this side to begin with, in radii of the pipe. */
const firstSide = 3
/** What does not count about the ends, and where something is excused, is made of first cells halved so often. */
const blockLevel = 2

/** Cells of the search box with what is known of the room in them. */
export class PassageCells {
  readonly tree: CellTree
  /** About the ends: what is not too narrow there does not count. */
  readonly open: readonly Bounds[]
  /** Those given, excused in blocks of cells. */
  readonly keepers: readonly RoomKeeper[]
  private readonly blocks: readonly Bounds[]
  private readonly room: CellRoom
  private readonly most: number
  private readonly all: Int32Array
  /** Not a number: not asked yet. */
  private bounds = new Float64Array(1024).fill(Number.NaN)
  private middles = new Float64Array(1024)
  private readonly near: (Int32Array | undefined)[] = []
  private readonly closers = new Map<number, readonly number[]>()

  /** @param most room beyond which it is all the same, mm */
  constructor(problem: RouteProblem, keepers: readonly Keeper[], most: number) {
    this.most = most
    this.tree = new CellTree(problem.box, firstSide * problem.radius)
    this.open = [problem.from, problem.to].map((end) => this.tree.blockAt(freeFrom(end), problem.radius, blockLevel))
    this.keepers = excusedInBlocks(keepers, ({ at, radius }) => this.tree.blockAt(at, radius, blockLevel))
    this.blocks = [...this.open, ...this.keepers.flatMap(({ blocks }) => blocks)]
    this.room = new CellRoom(this.keepers, most)
    this.all = Int32Array.from(keepers, (_, number) => number)
  }

  /** Distances measured since this was asked last. */
  takeAsked(): number {
    const { asked } = this.room
    this.room.asked = 0
    return asked
  }

  /**
   * Bound on the room in a leaf, mm; near the ends what is not negative is no bound.
   * @param wanted, enough where the bound need not be any sharper, see `CellRoom`; of the first asking only
   */
  boundOf(cell: number, wanted: number, enough: number): number {
    this.makeRoom()
    const known = this.bounds[cell]
    if (!Number.isNaN(known)) return known
    const { room, tree } = this
    const box = tree.cell(cell)
    const isOpen = this.open.some((block) => meets(block, box))
    room.measure(box, this.nearOf(cell), isOpen ? Math.min(0, wanted) : wanted, enough)
    const raised = (value: number) => (isOpen && value >= 0 ? this.most : value)
    this.bounds[cell] = raised(room.bound)
    this.middles[cell] = raised(room.middle)
    this.near[cell] = room.near
    this.closers.set(
      cell,
      [room.first, room.second].filter((each) => each >= 0),
    )
    return this.bounds[cell]
  }

  /** Room at the middle of a cell that was asked for its bound, mm. */
  middleOf(cell: number): number {
    return this.middles[cell]
  }

  /** Numbers of the keepers that can matter in a cell. */
  nearOf(cell: number): Int32Array {
    return this.near[cell] ?? this.all
  }

  /** The obstacles that a cell's bound comes from. */
  closersOf(cell: number): readonly number[] {
    return this.closers.get(cell) ?? []
  }

  /** Whether a cell lies across the border of where something does not count. */
  isAcross(cell: number): boolean {
    const box = this.tree.cell(cell)
    return this.blocks.some((block) => meets(block, box) && !isWithin(block, box))
  }

  /** Cuts a leaf in eight; returns the first of them. */
  split(cell: number): number {
    const first = this.tree.split(cell)
    this.makeRoom()
    for (let part = first; part < first + 8; part++) this.near[part] = this.near[cell]
    this.near[cell] = undefined
    this.closers.delete(cell)
    return first
  }

  private makeRoom(): void {
    if (this.tree.count <= this.bounds.length) return
    const size = 2 * this.tree.count
    const [bounds, middles] = [new Float64Array(size).fill(Number.NaN), new Float64Array(size)]
    bounds.set(this.bounds)
    middles.set(this.middles)
    this.bounds = bounds
    this.middles = middles
  }
}
