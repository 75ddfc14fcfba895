import { expect, test } from 'vitest'
import { type Random, seeded } from '../../test/kit/random.ts'
import { solveProgram } from '../../test/kit/secondFit/fitProgram.ts'
import { certified } from './certificate.ts'
import { Program } from './program.ts'

interface Given {
  readonly c: Float64Array
  readonly low: Float64Array
  readonly high: Float64Array
  readonly rows: readonly { a: Float64Array; b: number }[]
}

function some(random: Random, n: number): Given {
  const low = Float64Array.from({ length: n }, () => random.real(-50, 0))
  const high = low.map((x) => x + (random.chance(0.05) ? 0 : random.real(1, 80)))
  const c = low.map(() => random.real(-1, 1))
  const rows = Array.from({ length: random.int(40) }, () => ({
    a: low.map(() => (random.chance(0.4) ? 0 : random.real(-1, 1))),
    b: random.real(-60, 5),
  })).filter(({ a }) => a.some((x) => x !== 0))
  return { c, low, high, rows }
}

/** Greatest c·x + Σ weight·(a·x − b) over the box: nothing that keeps the rows has more, whatever the weights. */
function dual({ c, low, high }: Given, program: Program): number {
  const slope = c.slice()
  const { n, rows, weights, count } = program
  let bound = 0
  for (let i = 0; i < count; i++) {
    bound -= weights[i] * rows[i * (n + 1) + n]
    for (let j = 0; j < n; j++) slope[j] += weights[i] * rows[i * (n + 1) + j]
  }
  return slope.reduce((sum, s, j) => sum + s * (s > 0 ? high[j] : low[j]), bound)
}

test('500 random programs, rows one after another: as good as the multipliers’ bound, and as another solver has it (seed 21)', () => {
  const random = seeded(21)
  let solved = 0
  let impossible = 0
  for (let run = 0; run < 500; run++) {
    const n = random.chance(0.5) ? 6 : 7
    const given = some(random, n)
    const program = new Program(n)
    program.begin(given.c, given.low, given.high)
    let end = program.solve(400)
    for (const { a, b } of given.rows) {
      program.add(a, b)
      // Now and then in between, as the search does.
      if (random.chance(0.5)) end = program.solve(400)
      if (end === 'impossible') break
    }
    if (end !== 'impossible') end = program.solve(400)
    expect(program.weights.slice(0, program.count).every((w) => w >= 0)).toBe(true)
    const other = solveProgram(given.c, given.rows, given.low, given.high)
    expect(end === 'impossible').toBe(other.infeasible)
    if (end === 'impossible') {
      impossible++
      continue
    }
    expect(end).toBe('solved')
    solved++
    const value = given.c.reduce((sum, c, j) => sum + c * program.x[j], 0)
    for (const { a, b } of given.rows)
      expect(a.reduce((sum, x, j) => sum + x * program.x[j], -b)).toBeGreaterThan(-1e-7)
    program.x.forEach((x, j) => {
      expect(x).toBeGreaterThanOrEqual(given.low[j])
      expect(x).toBeLessThanOrEqual(given.high[j])
    })
    expect(Math.abs(dual(given, program) - value)).toBeLessThan(1e-7)
    expect(Math.abs(other.x.reduce((sum, x, j) => sum + given.c[j] * x, 0) - value)).toBeLessThan(1e-6)
  }
  expect(solved).toBeGreaterThan(150)
  expect(impossible).toBeGreaterThan(50)
})

test('1,000 cells with any weights at all: no core that keeps the rows beats the certificate (seed 22)', () => {
  const random = seeded(22)
  let close = 0
  for (let run = 0; run < 1000; run++) {
    const program = new Program(6)
    const low = new Float64Array(7)
    const high = new Float64Array(7)
    for (let k = 0; k < 3; k++) {
      low[k] = random.real(-200, 0)
      high[k] = low[k] + random.size(0.01, 150)
      low[3 + k] = random.real(low[k] + 0.1, 200)
      high[3 + k] = low[3 + k] + random.size(0.01, 150)
    }
    const shares = random.chance(0.3) ? [0, 1, 1] : [1, 1, 1]
    program.begin(new Float64Array(7), low, high)
    const x = low.map((v, j) => random.real(v, high[j]))
    for (let i = random.int(12); i > 0; i--) {
      const a = low.map((_, j) => (j < 6 && random.chance(0.6) ? random.real(-1, 1) : 0))
      // A row that the core keeps, by much or hardly.
      const b = a.reduce((sum, v, j) => sum + v * x[j], 0) - (random.chance(0.5) ? 0 : random.size(1e-6, 50))
      if (!program.add(a, b)) continue
      program.weights[program.count - 1] = random.chance(0.3) ? 0 : random.size(1e-6, 1)
    }
    const most = Float64Array.from([0, 1, 2], (k) => Math.max(x[3 + k] - x[k], random.real(1, 300)))
    if ([0, 1, 2].some((k) => x[3 + k] <= x[k])) continue
    const aim = [0, 1, 2].reduce((sum, k) => sum + shares[k] * Math.log(x[3 + k] - x[k]), 0)
    const bound = certified(program, shares, {
      low,
      high,
      most,
      least: new Float64Array(3),
      bound: Infinity,
      open: new Int32Array(0),
      heard: 0,
      rest: 0,
      depth: 0,
    })
    expect(bound).toBeGreaterThanOrEqual(aim)
    if (bound - aim < 0.5) close++
  }
  expect(close).toBeGreaterThan(50)
})
