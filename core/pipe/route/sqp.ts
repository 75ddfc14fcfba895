import { BentLine, mostAngle } from './bentLine.ts'
import type { RouteProblem, Stop } from './problem.ts'
import { solveQuadratic } from './quadraticProgram.ts'
import type { Witness, WitnessFinder, Witnesses } from './witnesses.ts'

export interface SqpOptions {
  /** Steps at most. */
  readonly steps: number
  /** How far each unknown may go in the first step, mm. */
  readonly reach: number
  /** Weight of the cost against what is broken: little while a way is being found. */
  readonly aimShare: number
  /** End as soon as nothing is broken. */
  readonly untilClear: boolean
  /** mm to be kept beyond what is needed, for each obstacle. */
  readonly extra: Float64Array
  /** mm by which straights and angles (on the bend radius) are to be better than asked. */
  readonly spare: number
}

export interface SqpAnswer {
  readonly x: Float64Array
  /** Developed length and what the bends cost, mm. */
  readonly cost: number
  /** The most that is broken, mm. */
  readonly broken: number
}

/** Where the search stands: a line, what is near it, what the bender asks. */
interface Standing {
  readonly x: Float64Array
  readonly line: BentLine
  readonly witnesses: Witnesses
  /** Straights, angles and ends: each at least 0 where kept, mm. */
  readonly limits: Float64Array
  readonly cost: number
  readonly broken: number
}

/** Rows of the program, an unknown more than the line has: the last one is what may stay broken. */
interface Rows {
  /** Of the cost, in the line's unknowns. */
  readonly slope: Float64Array
  readonly A: Float64Array
  readonly b: Float64Array
  readonly count: number
}

/** Step of the differences, mm: curves have radii of tens of mm, so their bending shows in the tenth digit only. */
const difference = 1e-5
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
  private readonly finder: WitnessFinder
  private readonly ofBend: (angle: number) => number
  private readonly n: number
  private readonly lines: readonly [BentLine, BentLine]
  private readonly probe: BentLine
  private readonly point = new Float64Array(3)
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
    this.finder = finder
    this.ofBend = ofBend
    this.stop = stop
    this.lines = [new BentLine(problem, bends), new BentLine(problem, bends)]
    this.probe = new BentLine(problem, bends)
    this.n = this.probe.unknowns
    this.curve = new Float64Array(this.n * this.n)
  }

  /** @returns the best line found; null where it was broken off */
  run(start: Float64Array, options: SqpOptions): SqpAnswer | null {
    this.options = options
    this.curve.fill(0)
    for (let k = 0; k < this.n; k++) this.curve[k * this.n + k] = 0.02 * options.aimShare
    let reach = options.reach
    let price = firstPrice
    let free = this.lines[0]
    let here = this.standing(start, this.lines[1], reach)
    let small = 0
    for (let step = 0; step < options.steps; step++) {
      if (this.stop()) return null
      if (!(here.broken < Infinity) || (options.untilClear && here.broken < 1e-6)) break
      const rows = this.rowsAt(here, reach)
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
      const next = this.standing(
        here.x.map((value, k) => value + move[k]),
        free,
        reach,
      )
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
    return Math.max(2 * this.problem.radius, this.options.reach)
  }

  private merit({ cost, broken }: Standing, price: number): number {
    return this.options.aimShare * cost + price * broken
  }

  private standing(x: Float64Array, line: BentLine, reach: number): Standing {
    line.lay(x)
    const witnesses = this.finder.find(line, 2 * reach + 8, this.options.extra)
    const limits = this.limitsOf(line, x)
    let broken = Math.max(0, -witnesses.least)
    for (const limit of limits) broken = Math.max(broken, -limit)
    return { x, line, witnesses, limits, cost: this.costOf(line), broken: line.length < Infinity ? broken : Infinity }
  }

  private costOf(line: BentLine): number {
    let cost = line.length
    for (const angle of line.angles) cost += this.ofBend(angle)
    return cost
  }

  /** Room of every straight and every angle, and of both ends' corners before their ports. */
  private limitsOf({ straights, angles, bends }: BentLine, x: ArrayLike<number>): Float64Array {
    const { from, to, leastStraight, largestAngle, bendRadius } = this.problem
    const { spare } = this.options
    const limits = new Float64Array(2 * bends + 3)
    for (let k = 0; k <= bends; k++)
      limits[k] = straights[k] - (k === 0 ? from.leastStraight : k === bends ? to.leastStraight : leastStraight) - spare
    const most = Math.min(largestAngle, mostAngle - 0.05)
    for (let k = 0; k < bends; k++) limits[bends + 1 + k] = (most - angles[k]) * bendRadius - spare
    // Behind its port a corner would give straights long enough, of a line that leaves backwards.
    limits[2 * bends + 1] = x[0] - from.leastStraight - spare
    limits[2 * bends + 2] = x[1] - to.leastStraight - spare
    return limits
  }

  /** Everything that may be broken, to first order: the place of a witness stays, only the line moves. */
  private rowsAt(here: Standing, reach: number): Rows {
    const { n } = this
    const { near } = here.witnesses
    const rest = here.limits.length
    const count = near.length + rest + 2 * n + 1
    const width = n + 1
    const slope = new Float64Array(n)
    const A = new Float64Array(count * width)
    const b = new Float64Array(count)
    const places = this.placesOf(near, here.line)
    for (let k = 0; k < n; k++) {
      const x = here.x.slice()
      x[k] += difference
      const probe = this.probe.lay(x)
      slope[k] = (this.options.aimShare * (this.costOf(probe) - here.cost)) / difference
      for (let i = 0; i < near.length; i++) A[i * width + k] = this.gained(near[i], probe, places, i) / difference
      const limits = this.limitsOf(probe, x)
      for (let i = 0; i < rest; i++) A[(near.length + i) * width + k] = (limits[i] - here.limits[i]) / difference
      const box = (near.length + rest + 2 * k) * width + k
      A[box] = 1
      A[box + width] = -1
    }
    b.fill(-reach, near.length + rest, count - 1)
    for (let i = 0; i < near.length + rest; i++) {
      A[i * width + n] = 1
      b[i] = i < near.length ? -near[i].margin : -here.limits[i - near.length]
    }
    A[count * width - 1] = 1
    return { slope, A, b, count }
  }

  private placesOf(near: readonly Witness[], line: BentLine): Float64Array {
    const places = new Float64Array(3 * near.length)
    near.forEach(({ piece, share }, i) => {
      line.pointOn(piece, share, places, 3 * i)
    })
    return places
  }

  /** How much farther away the place of a witness lies on another line. */
  private gained({ piece, share, nx, ny, nz }: Witness, line: BentLine, places: Float64Array, i: number): number {
    const { point } = this
    line.pointOn(piece, share, point)
    return (point[0] - places[3 * i]) * nx + (point[1] - places[3 * i + 1]) * ny + (point[2] - places[3 * i + 2]) * nz
  }

  private program(here: Standing, { slope, A, b, count }: Rows, price: number) {
    const { n, curve } = this
    const width = n + 1
    const H = new Float64Array(width * width)
    for (let i = 0; i < n; i++) for (let j = 0; j < n; j++) H[i * width + j] = curve[i * n + j]
    H[width * width - 1] = 1e-4
    const g = new Float64Array(width)
    g.set(slope)
    g[n] = price
    const start = new Float64Array(width)
    start[n] = here.broken + 1
    return solveQuadratic({ unknowns: width, rows: count, H, g, A, b }, start)
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
    const slopeThere = this.lagrangian(here, next, multipliers)
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

  /** Slope of cost less multipliers times rows on the next line, with the witnesses of the line before. */
  private lagrangian(here: Standing, next: Standing, multipliers: Float64Array): Float64Array {
    const { near } = here.witnesses
    const places = this.placesOf(near, next.line)
    const slope = new Float64Array(this.n)
    for (let k = 0; k < this.n; k++) {
      const x = next.x.slice()
      x[k] += difference
      const probe = this.probe.lay(x)
      let change = this.options.aimShare * (this.costOf(probe) - next.cost)
      for (let i = 0; i < near.length; i++)
        if (multipliers[i] > 1e-6) change -= multipliers[i] * this.gained(near[i], probe, places, i)
      const limits = this.limitsOf(probe, x)
      for (let i = 0; i < limits.length; i++) change -= multipliers[near.length + i] * (limits[i] - next.limits[i])
      slope[k] = change / difference
    }
    return slope
  }
}
