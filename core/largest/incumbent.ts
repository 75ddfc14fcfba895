import { guard, obstacleStride, SeenObstacles } from './obstacles.ts'
import { pieceStride } from './pieces.ts'
import { aimOf, mostPieces, type Problem } from './problem.ts'
import { unknowns } from './unknowns.ts'
import { apartSquared } from './secant.ts'
import type { Sizes } from './sizes.ts'
import type { View } from './view.ts'
import { emptyRow, type Row, wallRow } from './wall.ts'

/**
 * A core inside the given one whose dimensions can be had: each rounded down, about its middle.
 * @returns undefined where a dimension has no size that small
 */
export function haveable(sizes: readonly Sizes[], faces: Float64Array): Float64Array | undefined {
  const out = faces.slice()
  for (let k = 0; k < 3; k++) {
    const length = faces[3 + k] - faces[k]
    const size = sizes[k].down(length)
    if (!(size > 0)) return undefined
    if (!sizes[k].stepped && size >= length) continue
    const spare = (length - size) / 2
    out[k] = faces[k] + spare
    out[3 + k] = out[k] + size
  }
  return out
}

/** One tilt's view of what a core must keep: obstacles with what answers keep beyond what is asked, and walls as rows. */
export class Standard {
  readonly problem: Problem
  readonly view: View
  readonly seen: SeenObstacles
  readonly rows: readonly Row[]
  /** Kept for now beyond everything else, mm: see `repaired`. */
  spare = 0

  constructor(problem: Problem, view: View) {
    this.problem = problem
    this.view = view
    this.seen = new SeenObstacles(view, problem.obstacles, guard.kept)
    const anywhere = { low: problem.low, high: problem.high }
    this.rows = problem.walls.map((wall) => {
      const row = emptyRow()
      wallRow(wall, view, anywhere, row)
      // Limits are met as they are; only what is measured has something kept beyond it.
      if (typeof wall.from === 'number') row.b += guard.kept - guard.proved + guard.bound
      return row
    })
  }

  /** By how much a pair is broken, mm; not above 0 where it is kept. */
  brokenBy(code: number, x: Float64Array): number {
    const { seen, problem } = this
    const i = Math.floor(code / mostPieces)
    const t = code - i * mostPieces
    const wanted = seen.numbers[i * obstacleStride + 9] + problem.pieces.tolerances[t] + this.spare
    if (wanted <= 0) return wanted
    const squared = apartSquared(seen.numbers, problem.pieces.numbers, i * obstacleStride, t, x)
    // A hundredth of what lies between proof and answer: pulled faces land on the wanted distance but for rounding.
    const enough = wanted - (guard.kept - guard.proved) / 2
    return squared >= enough * enough ? -1 : wanted - Math.sqrt(squared)
  }

  /** By how much a pair is more than kept, mm. */
  slackOf(code: number, x: Float64Array): number {
    const { seen, problem } = this
    const i = Math.floor(code / mostPieces)
    const t = code - i * mostPieces
    const wanted = seen.numbers[i * obstacleStride + 9] + problem.pieces.tolerances[t]
    if (wanted <= 0) return Infinity
    return Math.sqrt(apartSquared(seen.numbers, problem.pieces.numbers, i * obstacleStride, t, x)) - wanted
  }

  /** Draws in the face that costs least so that the pair is kept; false where that leaves no core. */
  pull(x: Float64Array, code: number): boolean {
    const { seen, problem } = this
    const i = Math.floor(code / mostPieces)
    const t = code - i * mostPieces
    const n = seen.numbers
    const p = problem.pieces.numbers
    const o = i * obstacleStride
    const wanted = n[o + 9] + problem.pieces.tolerances[t] + this.spare
    const squared = apartSquared(n, p, o, t, x)
    this.cheapest = Infinity
    for (let k = 0; k < 3; k++) {
      const q = t * pieceStride + 6 * k
      const above = n[o + k] - p[q + 5] - p[q + 3] * x[k] - p[q + 4] * x[3 + k]
      const below = p[q + 2] + p[q] * x[k] + p[q + 1] * x[3 + k] - n[o + 3 + k]
      const gap = Math.max(above, below, 0)
      const need = Math.sqrt(Math.max(0, wanted * wanted - (squared - gap * gap)))
      if (p[q + 4] > 0) this.consider(x, 3 + k, (need - above) / p[q + 4])
      if (p[q] > 0) this.consider(x, k, (need - below) / p[q])
    }
    return this.drawCheapest(x)
  }

  private cheapest = Infinity
  private face = 0
  private by = 0

  private consider(x: Float64Array, face: number, by: number): void {
    if (!(by > 0)) return
    const { shares, sizes } = this.problem
    const k = face % 3
    const length = x[3 + k] - x[k]
    const left = length - by
    if (!(left >= sizes[k].least)) return
    const cost = shares[k] > 0 ? shares[k] * Math.log(length / left) : 1e-6 * by
    if (cost >= this.cheapest) return
    this.cheapest = cost
    this.face = face
    this.by = by
  }

  private drawCheapest(x: Float64Array): boolean {
    if (this.cheapest === Infinity) return false
    x[this.face] += this.face < 3 ? this.by : -this.by
    return true
  }

  /** Draws faces in until the walls are kept. */
  pullFromWalls(x: Float64Array): boolean {
    for (let round = 0; round < 20; round++) {
      let isKept = true
      for (const row of this.rows) {
        const missing = missingIn(row, x)
        if (missing <= guard.bound) continue
        isKept = false
        this.cheapest = Infinity
        for (let face = 0; face < 6; face++) {
          const slope = face < 3 ? row.a[face] : -row.a[face]
          if (slope > 1e-6) this.consider(x, face, missing / slope)
        }
        if (!this.drawCheapest(x)) return false
      }
      if (isKept) return true
    }
    return false
  }

  keepsWalls(x: Float64Array): boolean {
    return this.rows.every((row) => missingIn(row, x) <= 2 * guard.bound)
  }
}

/** What the row lacks at a core, mm where its slopes are those of a unit direction. */
export function missingIn({ a, b }: Row, x: Float64Array): number {
  let missing = b
  for (let j = 0; j < unknowns - 1; j++) missing -= a[j] * x[j]
  return missing
}

/**
 * Draws in the faces of a core until it stands clear of everything: known obstacles first, then the keep-outs are asked.
 * @param x     faces, changed in place
 * @param codes pairs to be kept
 * @param least aim that the core must beat all along
 * @param found receives the codes that the keep-outs add
 * @returns the core, or undefined where none came out
 */
export function repaired(
  standard: Standard,
  x: Float64Array,
  codes: Int32Array,
  least: number,
  found: number[],
): Float64Array | undefined {
  const { problem } = standard
  const { shares, sizes } = problem
  let watched = brokenAmong(standard, x, codes)
  for (let round = 0; round < mostRounds; round++) {
    standard.spare = round < patience ? 0 : 0.01 * 2 ** ((round - patience) / 2)
    const isDrawnIn = drawnIn(standard, x, watched, least)
    standard.spare = 0
    const core = isDrawnIn ? haveable(sizes, x) : undefined
    if (!core || !(aimOf(shares, core) > least) || !standard.keepsWalls(core)) return undefined
    const answer = problem.ask(core, standard.view, 0, guard.proved)
    if (answer.clear) return core
    if (answer.codes.length === 0) return undefined
    standard.seen.update()
    found.push(...answer.codes)
    watched = [...watched, ...answer.codes]
    x.set(core)
  }
  return undefined
}

const mostRounds = 40
/** Along a surface that is kept closely, each point that is drawn away from shows its neighbour: from here on more is drawn. */
const patience = 16

function drawnIn(standard: Standard, x: Float64Array, watched: readonly number[], least: number): boolean {
  if (!standard.pullFromWalls(x)) return false
  for (let code = worst(standard, x, watched); code >= 0; code = worst(standard, x, watched)) {
    if (!standard.pull(x, code)) return false
    if (!(aimOf(standard.problem.shares, x) > least)) return false
  }
  return true
}

function brokenAmong(standard: Standard, x: Float64Array, codes: Int32Array): number[] {
  const broken: number[] = []
  for (let j = 0; j < codes.length; j++) if (standard.brokenBy(codes[j], x) > 0) broken.push(codes[j])
  return broken
}

function worst(standard: Standard, x: Float64Array, watched: readonly number[]): number {
  let code = -1
  let by = 0
  for (const each of watched) {
    const here = standard.brokenBy(each, x)
    if (here > by) {
      by = here
      code = each
    }
  }
  return code
}
