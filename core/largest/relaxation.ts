import { certified } from './certificate.ts'
import { Program } from './program.ts'
import { aimOf, type Cell, type Problem } from './problem.ts'
import { tiltAt, unknowns } from './unknowns.ts'
import { brokenBy, secantRow } from './secant.ts'
import { moved } from './standing.ts'
import { emptyRow, rangeOf, wallRow } from './wall.ts'

const cutRounds = 6
const cutsARound = 4
const lookedAt = 64
/** How often the logarithm's slope is taken anew, and what is to be gained by it at least. */
const mostLeans = 3
const leastLean = 2e-3

/**
 * Bounds a cell by a linear program over secant rows, and proves the bound by its multipliers. Leaves in `x` the program's
 * point: the best core that the rows know of.
 */
export class Relaxation {
  readonly x = new Float64Array(unknowns)
  private readonly program: Program
  private readonly slope = new Float64Array(unknowns)
  private readonly row = emptyRow()
  private readonly trial = new Float64Array(unknowns)
  private readonly best = new Int32Array(cutsARound)
  private readonly bestBy = new Float64Array(cutsARound)
  private broken = new Int32Array(1024)
  private brokenCount = 0
  /** Linear programs solved. */
  solved = 0

  constructor(isTilting: boolean) {
    this.program = new Program(isTilting ? unknowns : unknowns - 1)
  }

  /** The cell's outermost corner as the point, where no program is worth its time. */
  outermost(cell: Cell): void {
    for (let j = 0; j < 3; j++) {
      this.x[j] = cell.low[j]
      this.x[3 + j] = cell.high[3 + j]
    }
    this.x[tiltAt] = cell.low[tiltAt] / 2 + cell.high[tiltAt] / 2
  }

  /** Lowers the cell's bound and draws in its faces; false where no core of it beats `wanted`. */
  run(problem: Problem, cell: Cell, wanted: number): boolean {
    const { program } = this
    this.begin(problem, cell)
    let leans = 0
    for (let round = 0; ; round++) {
      this.solved++
      const end = program.solve()
      const bound = certified(program, problem.shares, cell)
      if (bound < cell.bound) cell.bound = bound
      if (!(cell.bound > wanted)) return false
      if (end !== 'solved') {
        this.outermost(cell)
        return true
      }
      this.takePoint(problem, leans > 0)
      const cuts = round >= cutRounds + leans || program.isFull ? 0 : this.addCuts(problem, cell)
      if (cuts < 0) return false
      if (cuts > 0) continue
      // The rows say no more; what is left between bound and point may be owed to the logarithm's slope taken elsewhere.
      if (leans >= mostLeans || cell.bound - aimOf(problem.shares, this.x) < leastLean) break
      leans++
      this.slopeAt(problem, this.x)
      program.aimAnew(this.slope)
    }
    this.drawByCosts(problem, cell, wanted)
    return true
  }

  /** The program's point; once the slope was taken anew the best on the way to it, which keeps the rows as well. */
  private takePoint({ shares }: Problem, isOnTheWay: boolean): void {
    const { program, x, trial } = this
    let share = 1
    if (isOnTheWay) {
      let [from, to] = [0, 1]
      const aimAt = (t: number) => {
        for (let j = 0; j < program.n; j++) trial[j] = x[j] + t * (program.x[j] - x[j])
        return aimOf(shares, trial)
      }
      // The aim is concave along the way.
      for (let i = 0; i < 12; i++) {
        const [a, b] = [from + (to - from) * 0.382, from + (to - from) * 0.618]
        if (aimAt(a) < aimAt(b)) from = a
        else to = b
      }
      share = (from + to) / 2
    }
    for (let j = 0; j < program.n; j++) x[j] += share * (program.x[j] - x[j])
    if (program.n < unknowns) x[tiltAt] = 0
  }

  private slopeAt({ shares }: Problem, x: Float64Array): void {
    const { slope } = this
    for (let k = 0; k < 3; k++) {
      slope[3 + k] = shares[k] / Math.max(1e-6, x[3 + k] - x[k])
      slope[k] = -slope[3 + k]
    }
    slope[tiltAt] = 0
  }

  private begin(problem: Problem, cell: Cell): void {
    const { program, slope, row, trial } = this
    const { low, high, most, least } = cell
    for (let k = 0; k < 3; k++) {
      trial[k] = 0
      trial[3 + k] = Math.min(most[k], high[3 + k] - low[k])
    }
    this.slopeAt(problem, trial)
    program.begin(slope, low, high)
    for (let k = 0; k < 3; k++) {
      if (high[3 + k] - low[k] > most[k]) this.addSize(k, -1, -most[k])
      if (low[3 + k] - high[k] < least[k]) this.addSize(k, 1, least[k])
    }
    for (const wall of problem.walls) {
      wallRow(wall, problem.view, cell, row)
      if (rangeOf(row, cell)[0] < 0 && program.count < 40) program.add(row.a, row.b)
    }
  }

  private addSize(k: number, sign: number, b: number): void {
    const { a } = this.row
    a.fill(0)
    a[3 + k] = sign
    a[k] = -sign
    this.program.add(a, b)
  }

  /** Adds the secants that the point breaks most; how many, or −1 where a pair leaves nothing of the cell. */
  private addCuts(problem: Problem, cell: Cell): number {
    this.findBroken(problem, cell)
    const { best, bestBy, row, broken, brokenCount } = this
    bestBy.fill(1e-4)
    best.fill(-1)
    const step = Math.max(1, brokenCount / lookedAt)
    for (let q = 0; q < brokenCount; q += step) {
      const code = broken[Math.floor(q)]
      if (!secantRow(problem, cell, code, row)) return -1
      const by = this.missing()
      if (by === Infinity) return -1
      this.rank(code, by)
    }
    let added = 0
    for (const code of best) {
      if (code < 0) continue
      secantRow(problem, cell, code, row)
      if (this.program.add(row.a, row.b)) added++
    }
    return added
  }

  private findBroken(problem: Problem, { open }: Cell): void {
    if (this.broken.length < open.length) this.broken = new Int32Array(2 * open.length)
    let count = 0
    for (let j = 0; j < open.length; j++) if (brokenBy(problem, open[j], this.x) > 0) this.broken[count++] = open[j]
    this.brokenCount = count
  }

  /** By how much the point misses the row, in mm of the unknown that counts most. */
  private missing(): number {
    const { a, b } = this.row
    let size = 0
    let missing = b
    for (let j = 0; j < unknowns; j++) {
      size = Math.max(size, Math.abs(a[j]))
      missing -= a[j] * this.x[j]
    }
    if (size < 1e-12) return b > 1e-9 ? Infinity : -1
    return missing / size
  }

  private rank(code: number, by: number): void {
    const { best, bestBy } = this
    const last = cutsARound - 1
    if (!(by > bestBy[last])) return
    let at = last
    for (; at > 0 && bestBy[at - 1] < by; at--) {
      bestBy[at] = bestBy[at - 1]
      best[at] = best[at - 1]
    }
    bestBy[at] = by
    best[at] = code
  }

  /** What lies far from the face's best end, so far that the bound falls below what is wanted, is cut off. */
  private drawByCosts(problem: Problem, cell: Cell, wanted: number): void {
    const slack = cell.bound - wanted
    if (!(slack > 0 && slack < 1)) return
    const { program } = this
    for (let column = 0; column < program.n; column++) {
      const face = program.columns[column]
      const cost = Math.abs(program.reduced[column])
      if (face >= program.n || cost < 1e-9) continue
      this.cutOff(problem, cell, wanted, face, program.isAtHigh(column), (slack / cost) * 1.0000001 + 1e-7)
    }
  }

  private cutOff(problem: Problem, cell: Cell, wanted: number, face: number, isHigh: boolean, by: number): void {
    const { low, high } = cell
    const [from, to] = [low[face], high[face]]
    if (!(by < 0.7 * (to - from))) return
    // The far part alone: does its bound fall short?
    const cut = isHigh ? to - by : from + by
    if (isHigh) high[face] = cut
    else low[face] = cut
    const isShort = certified(this.program, problem.shares, cell) <= wanted
    low[face] = from
    high[face] = to
    if (!isShort) return
    if (isHigh) low[face] = cut
    else high[face] = cut
    moved.faces = true
  }
}
