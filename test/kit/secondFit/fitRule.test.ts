import { describe, expect, test } from 'vitest'
import { type Random, seeded } from '../random.ts'
import type { Candidate } from '../../../core/bay/schema.ts'
import type { Vec3 } from '../../../core/shape/vec.ts'
import { type Aim, logBound, sizeAbove, sizeBelow, sizesOf } from './fitAim.ts'
import { coreBox, type Faces, tankBox } from './fitFrame.ts'
import {
  distanceTo,
  type FaceBox,
  mustBeOut,
  openWays,
  outBy,
  type Rule,
  secantRow,
  standing,
  tangentRow,
  ways,
} from './fitRule.ts'

const tank = { length: 40, front: 5, rear: -3, below: 2, above: 4, taper: { depth: 0.6, height: 0.8 } }
const candidate: Candidate = {
  id: 'c',
  name: 'c',
  at: [0, 0, 0],
  turn: [0, 0, 0],
  core: { depth: 60, width: 90, height: 70 },
  tanks: { left: tank, right: tank },
}

function anyRule(random: Random): Rule {
  const box = random.pick([
    coreBox,
    tankBox(candidate, 'left', random.real(0, 1)),
    tankBox(candidate, 'right', random.real(0, 1)),
  ])
  const from = random.point(120)
  const to = from.map((x) => x + (random.chance(0.5) ? 0 : random.real(0, 60))) as unknown as Vec3
  return { box, from, to, apart: random.chance(0.15) ? 0 : random.real(0.5, 25), keepOut: 'k' }
}
function anyBox(random: Random): FaceBox {
  const low = Float64Array.from([0, 1, 2, 3, 4, 5], (j) => (j < 3 ? -60 : 20) + random.real(-20, 20))
  return { low, high: low.map((x) => x + (random.chance(0.1) ? 0 : random.real(0, 40))) }
}
const inside = (random: Random, { low, high }: FaceBox): Faces =>
  low.map((x, j) => (high[j] > x ? random.real(x, high[j]) : x))
const dotted = (a: Float64Array, x: Faces) => a.reduce((sum, v, j) => sum + v * x[j], 0)

describe('rules over boxes of faces (seeds in the code)', () => {
  test('a core that keeps a rule keeps its secant row: 3,000 rules, 40 cores each (seed 1)', () => {
    const random = seeded(1)
    let kept = 0
    let cut = 0
    for (let i = 0; i < 3000; i++) {
      const rule = anyRule(random)
      const box = anyBox(random)
      const { a, b } = secantRow(rule, box)
      for (let k = 0; k < 40; k++) {
        const x = inside(random, box)
        const keeps = rule.apart > 0 ? distanceTo(rule, x) >= rule.apart : ways.some((way) => outBy(rule, way, x) >= 0)
        if (keeps) {
          kept++
          expect(dotted(a, x)).toBeGreaterThanOrEqual(b - 1e-9)
        } else if (dotted(a, x) < b) cut++
      }
    }
    expect(kept).toBeGreaterThan(5000)
    expect(cut).toBeGreaterThan(2000)
  })

  test('a core that keeps a tangent row keeps the rule: 3,000 rules (seed 2)', () => {
    const random = seeded(2)
    let tried = 0
    for (let i = 0; i < 3000; i++) {
      const rule = anyRule(random)
      const box = anyBox(random)
      const { a, b } = tangentRow(rule, inside(random, box), (_, missing) => missing)
      for (let k = 0; k < 40; k++) {
        const x = inside(random, box)
        if (dotted(a, x) < b) continue
        tried++
        expect(
          rule.apart > 0 ? distanceTo(rule, x) : Math.max(...ways.map((way) => outBy(rule, way, x))),
        ).toBeGreaterThanOrEqual(rule.apart - 1e-9)
      }
    }
    expect(tried).toBeGreaterThan(5000)
  })

  test('standing, open ways and what must be out hold for every core of the box (seed 3)', () => {
    const random = seeded(3)
    const seen = { kept: 0, broken: 0, open: 0 }
    for (let i = 0; i < 3000; i++) {
      const rule = anyRule(random)
      const box = anyBox(random)
      const stands = standing(rule, box)
      seen[stands]++
      const must = mustBeOut(rule, box)
      const open = openWays(rule, box)
      for (let k = 0; k < 20; k++) {
        const x = inside(random, box)
        const keeps = rule.apart > 0 ? distanceTo(rule, x) >= rule.apart : ways.some((way) => outBy(rule, way, x) >= 0)
        if (stands === 'kept') expect(keeps || distanceTo(rule, x) > rule.apart - 1e-6).toBe(true)
        if (stands === 'broken') expect(keeps).toBe(false)
        if (!keeps || rule.apart === 0) continue
        for (let axis = 0; axis < 3; axis++) {
          const out = Math.max(...ways.filter((way) => way.axis === axis).map((way) => outBy(rule, way, x)))
          expect(Math.max(0, out)).toBeGreaterThanOrEqual(must[axis] - 1e-6)
        }
        for (const way of ways) if (outBy(rule, way, x) > 0) expect(open).toContainEqual(way)
      }
    }
    expect(Math.min(seen.kept, seen.broken, seen.open)).toBeGreaterThan(60)
  })
})

test('the logarithmic bound is above every core of the box that keeps the rows, whatever the multipliers (seed 4)', () => {
  const random = seeded(4)
  for (let i = 0; i < 2000; i++) {
    const box = anyBox(random)
    const weights: Aim['weights'] = random.chance(0.5) ? [1, 1, 1] : [0, 1, 1]
    const aim: Aim = {
      weights,
      sizes: [0, 1, 2].map(() => ({ least: 1, most: 500 })) as unknown as Aim['sizes'],
      rows: [],
    }
    const caps = [random.real(40, 200), random.real(40, 200), random.real(40, 200)]
    const rows = Array.from({ length: random.int(6) }, () => ({
      a: Float64Array.from({ length: 6 }, () => random.real(-1, 1)),
      b: random.real(-80, 20),
    }))
    const bound = logBound(
      aim,
      box,
      caps,
      rows,
      Float64Array.from(rows, () => random.real(0, 0.1)),
    )
    for (let k = 0; k < 30; k++) {
      const x = inside(random, box)
      const sizes = [0, 1, 2].map((j) => x[3 + j] - x[j])
      if (sizes.some((s, j) => s <= 0 || s > caps[j]) || rows.some(({ a, b }) => dotted(a, x) < b)) continue
      expect([...weights].reduce((sum, w, j) => sum + w * Math.log(sizes[j]), 0)).toBeLessThanOrEqual(bound)
    }
  }
})

test('sizes: stock, rows and ranges, from above and below', () => {
  const stock = sizesOf({ stock: [90, 65, 76] }, 1e7)
  expect(
    stock && [
      sizeBelow(stock, 89.99),
      sizeBelow(stock, 90),
      sizeBelow(stock, 60),
      sizeAbove(stock, 77),
      sizeAbove(stock, 91),
    ],
  ).toEqual([76, 90, undefined, 90, undefined])
  const rows = sizesOf({ pitch: 10.5, offset: 8, min: 150, max: 200 }, 1e7)
  expect(rows?.list).toEqual([155, 165.5, 176, 186.5, 197])
  expect(sizesOf({ min: 100, max: 50 }, 1e7)).toBeUndefined()
  expect(sizesOf({ pitch: 10, offset: 0, min: 21, max: 29 }, 1e7)).toBeUndefined()
})
