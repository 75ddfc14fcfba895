import { describe, expect, it } from 'vitest'
import { seeded } from '../../../test/kit/random.ts'
import { type QuadraticProgram, solveQuadratic } from './quadraticProgram.ts'

const aimAt = ({ unknowns: n, H, g }: QuadraticProgram, x: Float64Array): number => {
  let value = 0
  for (let k = 0; k < n; k++) {
    value += g[k] * x[k]
    for (let j = 0; j < n; j++) value += 0.5 * x[k] * H[k * n + j] * x[j]
  }
  return value
}
const over = ({ unknowns: n, A, b }: QuadraticProgram, i: number, x: Float64Array): number =>
  x.reduce((sum, value, k) => sum + A[i * n + k] * value, -b[i])

/** Gauss with full choice of pivots; null where singular. */
function linear(M: number[][], right: number[]): number[] | null {
  const n = right.length
  const rows = M.map((row, i) => [...row, right[i]])
  for (let k = 0; k < n; k++) {
    const pivot = rows.slice(k).reduce((best, row, i) => (Math.abs(row[k]) > Math.abs(rows[best][k]) ? k + i : best), k)
    if (Math.abs(rows[pivot][k]) < 1e-9) return null
    ;[rows[k], rows[pivot]] = [rows[pivot], rows[k]]
    for (let i = 0; i < n; i++) {
      if (i === k) continue
      const f = rows[i][k] / rows[k][k]
      for (let j = k; j <= n; j++) rows[i][j] -= f * rows[k][j]
    }
  }
  return rows.map((row, k) => row[n] / row[k])
}

/** Every set of rows taken as equalities: the least value among the points that keep all rows. */
function byAllSets(program: QuadraticProgram): Float64Array | null {
  const { unknowns: n, rows: m, H, g, A, b } = program
  let best: Float64Array | null = null
  for (let set = 0; set < 2 ** m; set++) {
    const active = Array.from({ length: m }, (_, i) => i).filter((i) => set & (1 << i))
    if (active.length > n) continue
    const size = n + active.length
    const M = Array.from({ length: size }, (_, i) =>
      Array.from({ length: size }, (__, j) => {
        if (i < n && j < n) return H[i * n + j]
        if (i < n) return -A[active[j - n] * n + i]
        return j < n ? A[active[i - n] * n + j] : 0
      }),
    )
    const solved = linear(M, [...Array.from({ length: n }, (_, k) => -g[k]), ...active.map((i) => b[i])])
    if (!solved) continue
    const x = Float64Array.from(solved.slice(0, n))
    const keeps = Array.from({ length: m }, (_, i) => over(program, i, x)).every((d) => d > -1e-7)
    if (keeps && (!best || aimAt(program, x) < aimAt(program, best))) best = x
  }
  return best
}

function randomProgram(random: ReturnType<typeof seeded>): QuadraticProgram {
  const n = 1 + random.int(4)
  const m = 1 + random.int(8)
  const root = Float64Array.from({ length: n * n }, () => random.real(-1, 1))
  const H = new Float64Array(n * n)
  for (let i = 0; i < n; i++)
    for (let j = 0; j < n; j++) {
      for (let k = 0; k < n; k++) H[i * n + j] += root[i * n + k] * root[j * n + k]
      if (i === j) H[i * n + j] += 0.05
    }
  const A = Float64Array.from({ length: m * n }, () => random.real(-1, 1))
  // One point keeps all rows, by a little or more.
  const inside = Float64Array.from({ length: n }, () => random.real(-5, 5))
  const b = Float64Array.from({ length: m }, (_, i) => {
    const at = inside.reduce((sum, x, k) => sum + A[i * n + k] * x, 0)
    return at - random.real(0, 3)
  })
  return { unknowns: n, rows: m, H, g: Float64Array.from({ length: n }, () => random.real(-10, 10)), A, b }
}

describe('quadratic programs', () => {
  it('comes to the point that trying all sets of rows comes to, 400 random programs, seed 7', () => {
    const random = seeded(7)
    let bound = 0
    for (let k = 0; k < 400; k++) {
      const program = randomProgram(random)
      const { x, multipliers, converged } = solveQuadratic(program)
      const plain = byAllSets(program)
      expect(plain).not.toBeNull()
      expect(converged).toBe(true)
      for (let i = 0; i < program.unknowns; i++)
        expect(Math.abs(x[i] - plain![i])).toBeLessThan(1e-5 * (1 + Math.abs(plain![i])))
      if (multipliers.some((z) => z > 1e-4)) bound++
    }
    // Rows must matter in most of them, but not in all.
    expect(bound).toBeGreaterThan(200)
    expect(bound).toBeLessThan(400)
  })

  it('takes rows that are there three times, and rows that say the same with other numbers', () => {
    // Least (x − 3)² + (y − 1)² with x ≤ 1: (1, 1).
    const A = [-1, 0, -1, 0, -1, 0, -2, 0, 0, 1]
    const program: QuadraticProgram = {
      unknowns: 2,
      rows: 5,
      H: Float64Array.from([2, 0, 0, 2]),
      g: Float64Array.from([-6, -2]),
      A: Float64Array.from(A),
      b: Float64Array.from([-1, -1, -1, -2, -50]),
    }
    const { x, multipliers } = solveQuadratic(program)
    expect(x[0]).toBeCloseTo(1, 7)
    expect(x[1]).toBeCloseTo(1, 7)
    // Together they hold with the slope of the aim, 4.
    const [a, b, c, d] = multipliers
    expect(a + b + c + 2 * d).toBeCloseTo(4, 5)
  })

  it('is a linear program where nothing bends, and a plain least where nothing holds', () => {
    const corner = solveQuadratic({
      unknowns: 2,
      rows: 3,
      H: new Float64Array(4),
      g: Float64Array.from([1, 2]),
      A: Float64Array.from([1, 0, 0, 1, 1, 1]),
      b: Float64Array.from([-1, -2, -10]),
    })
    expect([...corner.x].map((x) => Math.round(x * 1e6) / 1e6)).toEqual([-1, -2])
    const free = solveQuadratic({
      unknowns: 1,
      rows: 0,
      H: Float64Array.from([4]),
      g: Float64Array.from([-8]),
      A: new Float64Array(0),
      b: new Float64Array(0),
    })
    expect(free.x[0]).toBeCloseTo(2, 8)
  })
})
