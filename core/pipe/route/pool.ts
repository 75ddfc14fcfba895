import { centrelineLength, roundCorners } from '../../shape/centreline.ts'
import type { Piece } from '../../shape/form.ts'
import type { Vec3 } from '../../shape/vec.ts'
import type { PassSide, Route } from './answer.ts'
import { alike } from './likeness.ts'
import type { Corners, RouteProblem } from './problem.ts'
import type { Weights } from './weights.ts'

/** A centreline from end to end, as figures. */
export interface Bent {
  readonly corners: Corners
  readonly pieces: readonly Piece[]
  /** Developed, mm. */
  readonly length: number
  readonly bends: number
  readonly cost: number
}

/** What the ledger says of a route. */
export interface Judged {
  readonly least: Route['least']
  readonly passes: Route['passes']
  /** On which side it passes everything near it, own parts among them: what a route is told by. */
  readonly sides: ReadonlyMap<string, PassSide>
}

export interface FoundRoute extends Bent {
  readonly judged: Judged
  readonly points: readonly Vec3[]
}

/** @returns null where the corners cannot be rounded */
export function bentAlong(problem: RouteProblem, weights: Weights, corners: Corners): Bent | null {
  const rounded = roundCorners([problem.from.at, ...corners, problem.to.at], problem.bendRadius)
  if (!rounded.ok) return null
  const pieces = rounded.value
  const angles = pieces.flatMap((piece) => (piece.kind === 'arc' ? [piece.angle] : []))
  const length = centrelineLength(pieces)
  const cost = length + angles.reduce((sum, angle) => sum + weights.ofBend(angle), 0)
  return { corners, pieces, length, bends: angles.length, cost }
}

/** Routes found so far, and which of them are offered: different ways, the cheapest of each. */
export class Pool {
  private readonly found: FoundRoute[] = []
  /** Discrete Fréchet distance from which two routes are different, mm. */
  private readonly apart: number

  /** @param apart the outside diameter */
  constructor(apart: number) {
    this.apart = apart
  }

  get best(): number {
    return this.found.reduce((least, { cost }) => Math.min(least, cost), Infinity)
  }

  get size(): number {
    return this.found.length
  }

  /** Whether a route is another way than all that were found. */
  isFresh(points: readonly Vec3[]): boolean {
    return !this.found.some((route) => alike(route.points, points, this.apart))
  }

  /** Adds a route; the one that it is alike to goes where this one is cheaper. */
  add(route: FoundRoute): void {
    const like = this.found.findIndex(({ points }) => alike(points, route.points, this.apart))
    if (like < 0) this.found.push(route)
    else if (route.cost < this.found[like].cost - 1e-6) this.found[like] = route
  }

  /**
   * The cheapest routes that differ from each other, best first: those that pass everything near them on the same sides as
   * a cheaper one only where there are not enough others.
   */
  offered(most: number): FoundRoute[] {
    const sorted = [...this.found].sort((a, b) => a.cost - b.cost)
    const different: FoundRoute[] = []
    for (const route of sorted)
      if (!different.some(({ points }) => alike(points, route.points, this.apart))) different.push(route)
    const inWords = different.filter((route, i) => !different.slice(0, i).some((other) => sameSides(route, other)))
    const others = different.filter((route) => !inWords.includes(route))
    return [...inWords, ...others].slice(0, most).sort((a, b) => a.cost - b.cost)
  }

  /** How many are different, and how many of them in words. */
  counts(): { readonly different: number; readonly inWords: number } {
    const different = this.offered(Infinity)
    const inWords = different.filter((route, i) => !different.slice(0, i).some((other) => sameSides(route, other)))
    return { different: different.length, inWords: inWords.length }
  }
}

/** Nothing that is near both is passed on different sides. */
const sameSides = ({ judged: a }: FoundRoute, { judged: b }: FoundRoute): boolean =>
  [...a.sides].every(([name, side]) => (b.sides.get(name) ?? side) === side)
