import { describe, expect, it } from 'vitest'
import { anyPolytope, boxBody, movedBody } from '../../test/kit/bodies.ts'
import { convexKit, halfSpaceKit } from '../../test/kit/convexForms.ts'
import { checkSame } from '../../test/kit/everyPair.ts'
import { closedMeshKit } from '../../test/kit/meshForms.ts'
import { type Random, seeded } from '../../test/kit/random.ts'
import { roundKit } from '../../test/kit/roundForms.ts'
import type { ConvexForm, Form, Solid } from '../shape/form.ts'
import { solidFrom } from '../shape/solid.ts'
import { add, identity, scale, type Vec3 } from '../shape/vec.ts'
import { clearance } from './clearance.ts'
import { FailedPair, pairAsText, pairFromText } from './failedPair.ts'
import { boxGap, formBounds } from './formBounds.ts'
import { pairClearance } from './pairs.ts'

const box = (half: Vec3, at: Vec3): ConvexForm => ({
  form: 'convex',
  body: movedBody(boxBody(...(half as [number, number, number])), { turn: identity, at }),
})
const solid = (...forms: Form[]): Solid => solidFrom(forms)

/** Two to six forms of all kinds but half-spaces, round about `at`. */
function anySolid(random: Random, at: Vec3, count = 2 + random.int(5)): Solid {
  return solid(
    ...Array.from({ length: count }, (): Form => {
      const pose = { turn: random.turn(), at: add(at, random.point(120)) }
      const kind = random.int(8)
      if (kind === 0) return roundKit.placed(roundKit.make(random, 70), pose)
      if (kind === 1) return closedMeshKit.placed(closedMeshKit.make(random, 70), pose)
      return convexKit.placed(convexKit.make(random, 70), pose)
    }),
  )
}

describe('solids of several forms', () => {
  it('have the least gap of any two of their forms, and the greatest depth (300 random solids, seed 3501)', () => {
    const random = seeded(3501)
    let met = 0
    for (let i = 0; i < 300; i++) {
      const a = anySolid(random, [0, 0, 0])
      const b = anySolid(random, scale(random.unit(), random.real(0, 300)))
      const got = clearance(a, b)
      const all = a.forms.flatMap((p) => b.forms.map((q) => pairClearance(p, q, {})))
      const least = Math.min(...all.map((c) => c.atMost))
      expect(got.atMost).toBeGreaterThanOrEqual(Math.min(...all.map((c) => c.atLeast)) - 1e-9)
      expect(got.atLeast).toBeLessThanOrEqual(least + 1e-9)
      expect(got.atMost - got.atLeast).toBeLessThan(1e-6)
      expect(got.stopped).toBe('converged')
      const deepest = Math.max(...all.map((c) => c.overlap?.depthAtLeast ?? -1))
      expect(got.overlap === undefined).toBe(deepest < 0)
      if (!got.overlap) continue
      met++
      expect(got.overlap.kind).toBe('atLeast')
      expect(got.overlap.direction).toBeUndefined()
      expect(Math.abs(got.overlap.depthAtLeast - deepest)).toBeLessThan(1e-6)
    }
    expect(met / 300).toBeGreaterThan(0.3)
    expect(met / 300).toBeLessThan(0.7)
  })

  it('change places as any pair does, and upTo changes nothing below it (200 random solids, seed 3502)', () => {
    const random = seeded(3502)
    let early = 0
    for (let i = 0; i < 200; i++) {
      const a = anySolid(random, [0, 0, 0])
      const b = anySolid(random, scale(random.unit(), random.real(150, 500)))
      const got = clearance(a, b)
      checkSame(got, clearance(b, a))
      const upTo = got.atMost * random.real(0.3, 1.7)
      const short = clearance(a, b, { upTo })
      if (got.atMost < upTo) checkSame(got, short)
      else expect(short.atLeast).toBeGreaterThanOrEqual(Math.min(upTo, got.atLeast) - 1e-9)
      expect(short.atLeast).toBeLessThanOrEqual(got.atMost + 1e-9)
      expect(short.atMost).toBeGreaterThanOrEqual(got.atLeast - 1e-9)
      if (short.stopped === 'upTo') early++
    }
    expect(early).toBeGreaterThan(20)
  })

  it('one box against an L of two: the depth is a lower bound, since the shortest way out of one leg leads into the other', () => {
    const part = solid(box([10, 10, 10], [0, 0, 0]))
    const corner = solid(box([50, 10, 50], [0, 15, 0]), box([10, 50, 50], [15, 0, 0]))
    const got = clearance(part, corner)
    expect(got.overlap?.kind).toBe('atLeast')
    expect(got.overlap?.depthAtLeast).toBeCloseTo(5, 9)
  })
})

describe('solids far from the origin', () => {
  it('keep their gap to 1e-8 mm at 100 m, to 1e-7 at 10 km (seed 3503)', () => {
    const random = seeded(3503)
    for (let i = 0; i < 200; i++) {
      const half = (): Vec3 => [random.int(50) + 1, random.int(50) + 1, random.int(50) + 1]
      // Whole numbers, so that carrying them off rounds nothing.
      const at: Vec3 = [random.int(200) - 100, random.int(200) - 100, random.int(200) - 100]
      const [p, q] = [half(), half()]
      const near = clearance(solid(box(p, [0, 0, 0])), solid(box(q, at)))
      for (const far of [1e5, 1e7]) {
        const off: Vec3 = [far, -far, far]
        const got = clearance(solid(box(p, off)), solid(box(q, add(at, off))))
        checkSame(near, got)
        expect(Math.abs(near.atMost - got.atMost)).toBeLessThan(far * 1e-14 + 1e-11)
        expect(Math.abs(got.onPart[0] - far)).toBeLessThan(200)
      }
    }
  })

  it('one ulp apart at 100 m: not contact, and no wider than it is', () => {
    const x = 1e5
    const ulp = 2 ** -36
    const left = box([5, 5, 5], [x - 5, 0, 0])
    const right = box([5, 5, 5], [x + 5, 0, 0])
    if (right.body.kind !== 'polytope') throw new Error('a box is a polytope')
    const shifted = right.body.vertices.map((v, i) => (i % 3 === 0 && v === x ? x + ulp : v))
    const apart = clearance(solid(left), solid({ form: 'convex', body: { ...right.body, vertices: shifted } }))
    expect(apart.overlap).toBeUndefined()
    expect(apart.atMost).toBe(ulp)
    expect(apart.atLeast).toBeGreaterThan(0)
  })

  it('a half-space whose point lies 10 km off along its plane', () => {
    const floor: Form = { form: 'halfSpace', point: [1e7, -1e7, -60], normal: [0, 0, 1] }
    const got = clearance(solid(box([10, 10, 10], [0, 0, 0])), solid(floor))
    expect(got.atMost).toBe(50)
    expect(got.atLeast).toBeGreaterThan(50 - 1e-9)
    expect(got.overlap).toBeUndefined()
  })

  it('two half-spaces, part and keep-out in either order', () => {
    const floor: Form = { form: 'halfSpace', point: [0, 0, 5000], normal: [0, 0, 1] }
    const roof: Form = { form: 'halfSpace', point: [9, 9, 5100], normal: [0, 0, -1] }
    expect(clearance(solid(floor), solid(roof)).atMost).toBe(100)
    expect(clearance(solid(roof), solid(floor)).atMost).toBe(100)
  })
})

describe('the bounds that prune', () => {
  it('for any two forms the distance of their boxes is no more than the least distance found (seed 3504)', () => {
    const random = seeded(3504)
    let apart = 0
    for (let i = 0; i < 1000; i++) {
      const kit = random.pick([convexKit, roundKit, closedMeshKit] as const) as typeof convexKit
      const a = kit.placed(kit.make(random, 50), { turn: random.turn(), at: random.point(300) })
      const b = convexKit.placed(convexKit.make(random, 50), { turn: random.turn(), at: random.point(300) })
      const bound = boxGap(formBounds(a), formBounds(b))
      if (bound > 0) apart++
      expect(bound).toBeLessThanOrEqual(pairClearance(a, b, {}).atMost)
    }
    expect(apart).toBeGreaterThan(300)
    const wall = halfSpaceKit.make(random, 50)
    expect(boxGap(formBounds(wall), formBounds(wall))).toBe(0)
  })
})

describe('what cannot be answered', () => {
  it('a solid without forms is a named fault', () => {
    const nothing: Solid = { forms: [], bounds: { min: [0, 0, 0], max: [0, 0, 0] }, open: false }
    expect(() => clearance(nothing, solid(box([1, 1, 1], [0, 0, 0])))).toThrow('empty-solid')
  })

  it('coordinates that are not numbers fail loudly, with both solids ready to be pasted into a test', () => {
    const random = seeded(3505)
    const body = anyPolytope(random, 10)
    const broken = solid({
      form: 'convex',
      body: { ...body, vertices: body.vertices.map((v, i) => (i === 4 ? Number.NaN : v)) },
    })
    const other = solid(box([1, 1, 1], [1 / 3, 0, 0]), { form: 'halfSpace', point: [0, 0, 0], normal: [0, 0, 1] })
    try {
      clearance(broken, solid(other.forms[0]))
      expect.unreachable()
    } catch (error) {
      expect(error).toBeInstanceOf(FailedPair)
      expect((error as FailedPair).message).toContain('1.3333333333333333')
    }
    const pair = { part: broken, keepOut: other, options: { upTo: Infinity } }
    expect(pairFromText(pairAsText(pair))).toEqual(pair)
  })
})
