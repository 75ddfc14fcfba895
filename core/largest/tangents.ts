import { guard, obstacleStride } from './obstacles.ts'
import { pieceStride } from './pieces.ts'
import { Program } from './program.ts'
import { aimOf, mostPieces } from './problem.ts'
import { unknowns } from './unknowns.ts'
import { haveable, type Standard } from './incumbent.ts'
import { emptyRow, type Row } from './wall.ts'

/** Between what the faces and dimensions of an improved core may lie. */
export interface Room {
  readonly low: Float64Array
  readonly high: Float64Array
  readonly most: Float64Array
  readonly least: Float64Array
}

const programs = 24
const tangentRounds = 12
const tangentsARound = 6

/**
 * The best core near a given one: a linear program with tangents where the secants of the bound were. The distance of a
 * point from a box that follows the faces is a convex function of them, so that what keeps all its tangents keeps it.
 * Unlike `repaired` it also shifts a core whose dimensions are fixed.
 * @returns a core that stands clear and beats `least`, or undefined
 * Source: cutting planes, J. E. Kelley (1960), from memory.
 */
export function improved(
  standard: Standard,
  start: Float64Array,
  room: Room,
  codes: Int32Array,
  least: number,
  found: number[],
): Float64Array | undefined {
  const { problem, view } = standard
  const { shares, sizes } = problem
  const x = start.slice()
  const program = begun(standard, x, room)
  leaned(standard, program, x, codes)
  let watched: ArrayLike<number> = codes
  for (let asked = 0; asked < programs; asked++) {
    if (!settled(standard, program, x, watched, least)) return undefined
    const core = haveable(sizes, x)
    if (!core || !(aimOf(shares, core) > least) || !standard.keepsWalls(core)) return undefined
    const answer = problem.ask(core, view, 0, guard.proved)
    if (answer.clear) return core
    if (answer.codes.length === 0) return undefined
    standard.seen.update()
    found.push(...answer.codes)
    watched = [...answer.codes, ...Array.from(watched)]
    x.set(core)
  }
  return undefined
}

/** So near to what they keep clear of pairs hold the core, mm, and at most so many of them. */
const leaning = 3
const mostLeaning = 36

/** A start that keeps everything has nothing to be cut off: what it leans on is told by its tangents beforehand. */
function leaned(standard: Standard, program: Program, x: Float64Array, codes: Int32Array): void {
  const near: { code: number; slack: number }[] = []
  for (let j = 0; j < codes.length; j++) {
    const slack = standard.slackOf(codes[j], x)
    if (slack < -1e-7) return
    if (slack < leaning) near.push({ code: codes[j], slack })
  }
  near.sort((a, b) => a.slack - b.slack || a.code - b.code)
  for (const { code } of near.slice(0, mostLeaning)) {
    tangent(standard, code, x)
    program.add(row.a, row.b)
  }
  if (program.solve() === 'solved') x.set(program.x)
}

const row: Row = emptyRow()
const slope = new Float64Array(unknowns)

function begun({ problem, rows }: Standard, x: Float64Array, room: Room): Program {
  const { shares, sizes } = problem
  const program = new Program(unknowns - 1)
  for (let k = 0; k < 3; k++) {
    slope[3 + k] = shares[k] / Math.max(1e-6, x[3 + k] - x[k])
    slope[k] = -slope[3 + k]
  }
  program.begin(slope, room.low, room.high)
  for (let k = 0; k < 3; k++) {
    const length = x[3 + k] - x[k]
    // Of sizes that can be had the one the core has; it is the tree that tries the others.
    const size = Math.max(room.least[k], sizes[k].down(Math.min(room.most[k], length + 1e-6)))
    addSize(program, k, -1, sizes[k].stepped ? size : room.most[k])
    addSize(program, k, 1, sizes[k].stepped ? size : room.least[k])
  }
  for (const wall of rows) program.add(wall.a, wall.b)
  return program
}

function addSize(program: Program, k: number, sign: 1 | -1, length: number): void {
  if (!Number.isFinite(length)) return
  row.a.fill(0)
  row.a[3 + k] = sign
  row.a[k] = -sign
  program.add(row.a, sign * length)
}

/** Adds tangents until the program's best core keeps all that is known; false where none does or it is no better. */
function settled(
  standard: Standard,
  program: Program,
  x: Float64Array,
  watched: ArrayLike<number>,
  least: number,
): boolean {
  const { shares } = standard.problem
  for (let round = 0; round < tangentRounds; round++) {
    const worst = mostBroken(standard, x, watched)
    if (worst.length === 0) return true
    for (const code of worst) {
      if (program.isFull) return false
      tangent(standard, code, x)
      if (!program.add(row.a, row.b)) return false
    }
    if (program.solve() !== 'solved') return false
    x.set(program.x)
    if (!(aimOf(shares, x) > least)) return false
  }
  return true
}

/** The pairs that are broken most, worst first. */
function mostBroken(standard: Standard, x: Float64Array, watched: ArrayLike<number>): number[] {
  const codes: number[] = []
  const by: number[] = []
  for (let j = 0; j < watched.length; j++) {
    const here = standard.brokenBy(watched[j], x)
    if (here <= 0 || (by.length === tangentsARound && here <= by[by.length - 1])) continue
    let at = by.length
    while (at > 0 && by[at - 1] < here) at--
    by.splice(at, 0, here)
    codes.splice(at, 0, watched[j])
    if (by.length > tangentsARound) {
      by.pop()
      codes.pop()
    }
  }
  return codes
}

/** Tangent of the distance at x into `row`; where the obstacle lies in the piece, the side of least way out. */
function tangent({ seen, problem }: Standard, code: number, x: Float64Array): void {
  const i = Math.floor(code / mostPieces)
  const t = code - i * mostPieces
  const n = seen.numbers
  const p = problem.pieces.numbers
  const o = i * obstacleStride
  const wanted = n[o + 9] + problem.pieces.tolerances[t]
  const { a } = row
  a.fill(0)
  let squared = 0
  let out = -Infinity
  let side = 0
  for (let k = 0; k < 3; k++) {
    const q = t * pieceStride + 6 * k
    const above = n[o + k] - p[q + 5] - p[q + 3] * x[k] - p[q + 4] * x[3 + k]
    const below = p[q + 2] + p[q] * x[k] + p[q + 1] * x[3 + k] - n[o + 3 + k]
    if (Math.max(above, below) > out) {
      out = Math.max(above, below)
      side = above >= below ? k : 3 + k
    }
    const gap = Math.max(above, below)
    if (gap <= 0) continue
    squared += gap * gap
    addSlope(p, q, k, above >= below, gap)
  }
  if (out <= 1e-7) {
    a.fill(0)
    addSlope(p, t * pieceStride + 6 * (side % 3), side % 3, side < 3, 1)
    row.b = wanted - out + along(a, x)
    return
  }
  const distance = Math.sqrt(squared)
  for (let j = 0; j < unknowns; j++) a[j] /= distance
  row.b = wanted - distance + along(a, x)
}

function addSlope(p: Float64Array, q: number, k: number, isAbove: boolean, by: number): void {
  const { a } = row
  if (isAbove) {
    a[k] -= by * p[q + 3]
    a[3 + k] -= by * p[q + 4]
  } else {
    a[k] += by * p[q]
    a[3 + k] += by * p[q + 1]
  }
}

const along = (a: Float64Array, x: Float64Array): number => {
  let sum = 0
  for (let j = 0; j < unknowns - 1; j++) sum += a[j] * x[j]
  return sum
}
