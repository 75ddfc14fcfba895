import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { tripleOf } from '../../test/kit/anyShape.ts'
import { viewBounds } from './bounds.ts'
import { displayOf } from './display.ts'
import type { Solid } from './form.ts'
import { type Shape, shapeSchema } from './registry.ts'
import { solidFrom, solidOf } from './solid.ts'

/** Numbers at the edge of what the schema takes: vast, vanishing, equal, a bit apart, −0. */
const edgy = fc.oneof(
  fc.constantFrom(0, -0, 1, -1, 1e7, -1e7, 1e-7, 5e-324, 1e-200, 1 + Number.EPSILON, 1e-6, 1e5, 1e5 + 1e-10),
  fc.double({ min: -1e7, max: 1e7, noNaN: true }),
  fc.integer({ min: -3, max: 3 }),
)
const size = fc.oneof(
  { weight: 1, arbitrary: fc.constantFrom(5e-324, 1e-300, 1e-7) },
  { weight: 5, arbitrary: fc.constantFrom(1e-6, 0.3, 1, 1000, 1e7) },
)
const point = tripleOf(edgy)
const anyEdgyShape = fc.oneof(
  fc.record({ kind: fc.constant('box'), at: point, size: tripleOf(size), turn: point }),
  fc.record({ kind: fc.constant('cylinder'), from: point, to: point, radius: size }),
  fc.record({ kind: fc.constant('hull'), points: fc.array(point, { minLength: 4, maxLength: 12 }) }),
  fc.record({ kind: fc.constant('halfSpace'), point, normal: point }),
  fc.record({
    kind: fc.constant('sweep'),
    section: fc.array(fc.tuple(edgy, edgy), { minLength: 3, maxLength: 6 }),
    path: fc.array(fc.tuple(edgy, edgy, fc.constant(0)), { minLength: 2, maxLength: 4 }),
    up: fc.tuple(fc.constant(0), fc.constant(0), size),
  }),
  fc.record({
    kind: fc.constant('tube'),
    path: fc.array(point, { minLength: 2, maxLength: 4 }),
    radius: size,
    bendRadius: size,
  }),
)

function expectWholeNumbers(solid: Solid): void {
  const numbers = (value: unknown): number[] =>
    typeof value === 'number'
      ? [value]
      : value && typeof value === 'object'
        ? Object.values(value).flatMap(numbers)
        : []
  for (const x of numbers(solid.forms)) expect(Number.isFinite(x)).toBe(true)
  for (const x of numbers(solid.bounds)) expect(Number.isNaN(x)).toBe(false)
  for (const form of solid.forms) {
    if (form.form !== 'convex' || form.body.kind !== 'polytope') continue
    const { planes } = form.body
    for (let f = 0; f < planes.length; f += 4)
      expect(Math.hypot(planes[f], planes[f + 1], planes[f + 2])).toBeCloseTo(1, 12)
  }
}

describe('solidOf', () => {
  it('should answer every shape that the schema takes with whole numbers or named faults (seed 4180)', () => {
    const seen = new Map<string, number>()
    const count = (what: string) => seen.set(what, (seen.get(what) ?? 0) + 1)
    fc.assert(
      fc.property(anyEdgyShape, fc.boolean(), (raw, mirrored) => {
        const shape = shapeSchema.safeParse(raw)
        if (!shape.success) return count('schema') && undefined
        const made = solidOf(shape.data as Shape, { meshes: new Map(), mirrored })
        count(`${raw.kind} ${made.ok}`)
        if (!made.ok) {
          for (const fault of made.faults) {
            expect(fault.code).toMatch(/^[a-z-]+$/)
            expect(fault.field).toMatch(/^shape\./)
            expect(fault.expected).toBeTypeOf('string')
          }
          return
        }
        expectWholeNumbers(made.value)
        displayOf(made.value, { within: viewBounds([made.value.bounds]) })
      }),
      { seed: 4180, numRuns: 2500 },
    )
    for (const kind of ['box', 'cylinder', 'hull', 'sweep', 'tube'])
      for (const ok of [true, false])
        expect([kind, ok, (seen.get(`${kind} ${ok}`) ?? 0) >= 20]).toEqual([kind, ok, true])
  })

  it('should hold the bounds of all its forms, and be open when one is', () => {
    const mesh = {
      positions: Float64Array.of(0, 0, 0, 9, 0, 0, 0, 9, 5),
      triangles: Uint32Array.of(0, 1, 2),
      closed: false,
    }
    const solid = solidFrom([
      { form: 'mesh', mesh, pose: { turn: [1, 0, 0, 0, 1, 0, 0, 0, 1], at: [0, 0, 0] } },
      { form: 'convex', body: { kind: 'cylinder', from: [0, 0, 0], to: [0, 0, -7], radius: 2 } },
    ])
    expect(solid.open).toBe(true)
    expect(solid.bounds.min[2]).toBeCloseTo(-7, 12)
    expect(solid.bounds.max[0]).toBeCloseTo(9, 12)
  })
})

describe('viewBounds', () => {
  it('should leave out what has no end, and never be empty', () => {
    const floor = { min: [-Infinity, -Infinity, -Infinity], max: [Infinity, Infinity, 0] } as const
    const box = { min: [1, 2, 3], max: [4, 5, 6] } as const
    expect(viewBounds([floor, box])).toEqual(box)
    expect(viewBounds([floor])).toEqual({ min: [-500, -500, -500], max: [500, 500, 500] })
  })
})
