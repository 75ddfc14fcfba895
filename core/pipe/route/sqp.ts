import { BentLine } from './bentLine.ts'
import type { RouteProblem, Stop } from './problem.ts'
import { type QuadraticAnswer, solveQuadratic } from './quadraticProgram.ts'
import { type Rows, type SqpOptions, SqpRows, type Standing } from './sqpRows.ts'
import type { WitnessFinder } from './witnesses.ts'

export interface SqpAnswer {
  readonly x: Float64Array
  /** Developed length and what the bends cost, mm. */
  readonly cost: number
  /** The most that is broken, mm. */
  readonly broken: number
}

/** Price of what stays broken, per mm: more than any row's multiplier is worth on the way. */
const firstPrice = 40
const mostPrice = 4e4
/** Cost gained and mm broken that are not worth a step. */
const smallGain = 1e-9
const smallStep = 1e-7

/**
 * Sequential quadratic programming on the corners of a bent line. In each step the line is asked for its witnesses, all
 * are taken to first order, and a quadratic program gives the step: least cost, nothing broken, within a reach that grows
 * and shrinks with how well the program foretold what came. What cannot be kept all at once stays broken by one common
 * amount, at a price. Counted steps, no chance: the same start gives the same line.
 * Source: sequential quadratic programming with an elastic variable and damped updates of the Lagrangian's second slope,
 * J. Nocedal, S. Wright, Numerical Optimization, chapter 18; from memory.
 */
export class Sqp {
  private readonly problem: RouteProblem
  private readonly rows: SqpRows
  private readonly n: number
  private readonly lines: readonly [BentLine, BentLine]
  private readonly stop: Stop
  /** Second slope of the Lagrangian. */
  private readonly curve: Float64Array
  private options!: SqpOptions

  constructor(
    problem: RouteProblem,
    bends: number,
    finder: WitnessFinder,
    ofBend: (angle: number) => number,
    stop: Stop,
  ) {
    this.problem = problem
    this.stop = stop
    this.lines = [new BentLine(problem, bends), new BentLine(problem, bends)]
    this.rows = new SqpRows(problem, new BentLine(problem, bends), finder, ofBend)
    this.n = this.lines[0].unknowns
    this.curve = new Float64Array(this.n * this.n)
  }

  /** @returns the best line found; null where it was broken off */
  run(start: Float64Array, options: SqpOptions): SqpAnswer | null {
    this.options = options
    this.curve.fill(0)
    for (let k = 0; k < this.n; k++) this.curve[k * this.n + k] = 0.02 * options.aimShare
    let reach = Math.min(options.reach, this.mostReach())
    let price = firstPrice
    let free = this.lines[0]
    let here = this.rows.standing(start, this.lines[1], reach, options)
    let small = 0
    for (let step = 0; step < options.steps; step++) {
      if (this.stop()) return null
      if (!(here.broken < Infinity) || (options.untilClear && here.broken < 1e-6)) break
      const rows = this.rows.at(here, reach, options)
      const solved = this.program(here, rows, price)
      const move = solved.x.subarray(0, this.n)
      const left = Math.max(0, solved.x[this.n])
      const foretold = price * (here.broken - left) - this.modelled(rows.slope, move)
      const longest = move.reduce((most, d) => Math.max(most, Math.abs(d)), 0)
      if (foretold < smallGain || longest < smallStep) {
        if (here.broken < 1e-6 || price >= mostPrice) break
        price *= 10
        continue
      }
      const there = here.x.map((value, k) => value + move[k])
      const next = this.rows.standing(there, free, reach, options)
      const gained = this.merit(here, price) - this.merit(next, price)
      if (gained < 0.25 * foretold) reach = Math.max(0.4 * longest, 1e-5)
      else if (gained > 0.75 * foretold && longest > 0.9 * reach) reach = Math.min(2 * reach, this.mostReach())
      if (!(gained > 0)) {
        if (reach < 2e-5) break
        continue
      }
      this.bend(here, next, move, solved.multipliers, rows)
      free = here.line
      here = next
      small = gained < 1e-7 && here.broken < 1e-6 ? small + 1 : 0
      if (small >= 2) break
    }
    return { x: here.x, cost: here.cost, broken: here.broken }
  }

  /** Further than the tube is wide it could jump through a thin shell unseen. */
  private mostReach(): number {
    return 2 * this.problem.radius
  }

  private merit({ cost, broken }: Standing, price: number): number {
    return this.options.aimShare * cost + price * broken
  }

  /** Least cost and price within reach, told only of the rows that could matter; the others' multipliers are 0. */
  private program(here: Standing, { slope, A, b, count, telling }: Rows, price: number): QuadraticAnswer {
    const { n, curve } = this
    const width = n + 1
    const H = new Float64Array(width * width)
    for (let i = 0; i < n; i++) for (let j = 0; j < n; j++) H[i * width + j] = curve[i * n + j]
    H[width * width - 1] = 1e-4
    const g = new Float64Array(width)
    g.set(slope)
    g[n] = price
    const told = new Float64Array(telling.length * width)
    telling.forEach((row, i) => {
      told.set(A.subarray(row * width, (row + 1) * width), i * width)
    })
    const start = new Float64Array(width)
    start[n] = here.broken + 1
    const least = Float64Array.from(telling, (row) => b[row])
    const solved = solveQuadratic({ unknowns: width, rows: telling.length, H, g, A: told, b: least }, start)
    const multipliers = new Float64Array(count)
    telling.forEach((row, i) => {
      multipliers[row] = solved.multipliers[i]
    })
    return { ...solved, multipliers }
  }

  private modelled(slope: Float64Array, move: Float64Array): number {
    const { n, curve } = this
    let sum = 0
    for (let i = 0; i < n; i++) {
      sum += slope[i] * move[i]
      for (let j = 0; j < n; j++) sum += 0.5 * move[i] * curve[i * n + j] * move[j]
    }
    return sum
  }

  /** Damped update of the second slope from the Lagrangian's slopes at both ends of the step, the same places at both. */
  private bend(here: Standing, next: Standing, move: Float64Array, multipliers: Float64Array, rows: Rows): void {
    const { n, curve } = this
    const { near } = here.witnesses
    const held = near.length + here.limits.length
    const slopeThere = this.rows.lagrangian(here, next, multipliers, this.options)
    const change = new Float64Array(n)
    const bent = new Float64Array(n)
    let along = 0
    let asWas = 0
    for (let k = 0; k < n; k++) {
      let slopeHere = rows.slope[k]
      for (let i = 0; i < held; i++) slopeHere -= multipliers[i] * rows.A[i * (n + 1) + k]
      change[k] = slopeThere[k] - slopeHere
      for (let j = 0; j < n; j++) bent[k] += curve[k * n + j] * move[j]
      along += move[k] * change[k]
      asWas += move[k] * bent[k]
    }
    if (!(asWas > 1e-14)) return
    const share = along >= 0.2 * asWas ? 1 : (0.8 * asWas) / (asWas - along)
    let curved = 0
    for (let k = 0; k < n; k++) {
      change[k] = share * change[k] + (1 - share) * bent[k]
      curved += move[k] * change[k]
    }
    if (!(curved > 1e-14)) return
    for (let i = 0; i < n; i++)
      for (let j = 0; j < n; j++) curve[i * n + j] += (change[i] * change[j]) / curved - (bent[i] * bent[j]) / asWas
  }
}
