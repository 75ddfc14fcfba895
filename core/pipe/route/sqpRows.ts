import { type BentLine, mostAngle } from './bentLine.ts'
import type { RouteProblem } from './problem.ts'
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

/** Where the search stands: a line, what is near it, what the bender asks. */
export interface Standing {
  readonly x: Float64Array
  readonly line: BentLine
  readonly witnesses: Witnesses
  /** Straights, angles and ends: each at least 0 where kept, mm. */
  readonly limits: Float64Array
  readonly cost: number
  readonly broken: number
}

/** Rows of the program, an unknown more than the line has: the last one is what may stay broken. */
export interface Rows {
  /** Of the cost, in the line's unknowns. */
  readonly slope: Float64Array
  readonly A: Float64Array
  readonly b: Float64Array
  readonly count: number
  /** Numbers of those that a step within reach could break at all; the others need not be told to the program. */
  readonly telling: readonly number[]
}

/** Step of the differences, mm: curves have radii of tens of mm, so their bending shows in the tenth digit only. */
const difference = 1e-5

/** A bent line to first order: what it costs, what is near it and what the bender asks, and how all that changes with it. */
export class SqpRows {
  private readonly problem: RouteProblem
  private readonly finder: WitnessFinder
  private readonly ofBend: (angle: number) => number
  private readonly probe: BentLine
  private readonly n: number
  private readonly point = new Float64Array(3)

  /** @param probe a line of as many bends, to be laid at will */
  constructor(problem: RouteProblem, probe: BentLine, finder: WitnessFinder, ofBend: (angle: number) => number) {
    this.problem = problem
    this.probe = probe
    this.n = probe.unknowns
    this.finder = finder
    this.ofBend = ofBend
  }

  /** Lays the line and looks what is near it, as far as a step of this reach could matter. */
  standing(x: Float64Array, line: BentLine, reach: number, options: SqpOptions): Standing {
    line.lay(x)
    const witnesses = this.finder.find(line, 1.2 * reach + 8, options.extra)
    const limits = this.limitsOf(line, x, options)
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
  private limitsOf({ straights, angles, bends }: BentLine, x: ArrayLike<number>, { spare }: SqpOptions): Float64Array {
    const { from, to, leastStraight, largestAngle, bendRadius } = this.problem
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
  at(here: Standing, reach: number, options: SqpOptions): Rows {
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
      slope[k] = (options.aimShare * (this.costOf(probe) - here.cost)) / difference
      for (let i = 0; i < near.length; i++) A[i * width + k] = this.gained(near[i], probe, places, i) / difference
      const limits = this.limitsOf(probe, x, options)
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
    return { slope, A, b, count, telling: this.tellingRows(A, b, count, near.length + rest, reach) }
  }

  /** A row that no step within reach breaks is met whatever the program does. */
  private tellingRows(A: Float64Array, b: Float64Array, count: number, breakable: number, reach: number): number[] {
    const width = this.n + 1
    const telling: number[] = []
    for (let i = 0; i < count; i++) {
      let most = 0
      for (let k = 0; k < this.n; k++) most += Math.abs(A[i * width + k])
      if (i >= breakable || b[i] > -reach * most) telling.push(i)
    }
    return telling
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

  /** Slope of cost less multipliers times rows on the next line, with the witnesses of the line before. */
  lagrangian(here: Standing, next: Standing, multipliers: Float64Array, options: SqpOptions): Float64Array {
    const { near } = here.witnesses
    const places = this.placesOf(near, next.line)
    const slope = new Float64Array(this.n)
    for (let k = 0; k < this.n; k++) {
      const x = next.x.slice()
      x[k] += difference
      const probe = this.probe.lay(x)
      let change = options.aimShare * (this.costOf(probe) - next.cost)
      for (let i = 0; i < near.length; i++)
        if (multipliers[i] > 1e-6) change -= multipliers[i] * this.gained(near[i], probe, places, i)
      const limits = this.limitsOf(probe, x, options)
      for (let i = 0; i < limits.length; i++) change -= multipliers[near.length + i] * (limits[i] - next.limits[i])
      slope[k] = change / difference
    }
    return slope
  }
}
