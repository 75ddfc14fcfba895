import fc from 'fast-check'
import { expect, test } from 'vitest'
import { sampleBay } from '../../test/kit/sampleBay.ts'
import { readBay } from './read.ts'
import { baySchema } from './schema.ts'
import type { Bay } from './schema.ts'
import { anyOf } from '../../test/kit/anyOf.ts'
import { writeBay } from './write.ts'

test('short lists stand on one line, fields in the order of the schema', () => {
  const bay = sampleBay()
  const shuffled = { ...Object.fromEntries(Object.entries(bay).reverse()) } as Bay
  const text = writeBay(shuffled)
  expect(text).toBe(writeBay(bay))
  expect(text.split('\n').slice(0, 14)).toMatchInlineSnapshot(`
    [
      "{",
      "  "format": "gapwright-bay",",
      "  "version": 1,",
      "  "name": "Sample bay",",
      "  "frame": { "origin": "centre of the lower rail", "note": "X rearward, Y right, Z up" },",
      "  "units": "mm",",
      "  "keepOuts": [",
      "    {",
      "      "id": "beam",",
      "      "name": "Beam",",
      "      "role": "safety",",
      "      "clearance": 10,",
      "      "uncertainty": 2,",
      "      "shape": { "kind": "box", "at": [-200, 0, 250], "size": [60, 900, 120] }",
    ]
  `)
  expect(text.split('\n').every((line) => line.length <= 140)).toBe(true)
})

test('the sample comes back whole, and written again it is the same text', () => {
  const text = writeBay(sampleBay())
  const read = readBay(text)
  expect(read).toEqual({ ok: true, value: sampleBay() })
  if (read.ok) expect(writeBay(read.value)).toBe(text)
})

test('any bay that the schema takes survives, number for number, −0 and the smallest included (seed 50)', () => {
  const bays = anyOf(baySchema)
  let numbers = 0
  let tiny = 0
  fc.assert(
    fc.property(bays, (bay) => {
      const text = writeBay(bay)
      const back = JSON.parse(text)
      expect(back).toStrictEqual(bay)
      expect(writeBay(back)).toBe(text)
      for (const number of numbersIn(bay)) {
        numbers++
        if (Math.abs(number) < 1e-6 && number !== 0) tiny++
      }
    }),
    { seed: 50, numRuns: 300 },
  )
  expect(numbers).toBeGreaterThan(5000)
  expect(tiny).toBeGreaterThan(100)
})

test('bays that also make sense are read back by readBay to the same value (seed 51)', () => {
  const length = fc.double({ min: -1e7, max: 1e7, noNaN: true })
  const size = fc.double({ min: 1e-3, max: 1e7, noNaN: true })
  const point = fc.tuple(length, length, length)
  fc.assert(
    fc.property(
      fc.array(point, { maxLength: 6 }),
      fc.tuple(size, size, size),
      point,
      length,
      (places, sizes, turn, small) => {
        const bay = sampleBay()
        bay.candidates[0].at = places[0] ?? [small / 1e12, -0, 5e-324]
        bay.candidates[0].turn = [turn[0] / 1e6, turn[1] / 1e6, turn[2] / 1e6]
        places.forEach((at, index) => {
          bay.keepOuts.push({
            id: `k-${index}`,
            name: `Größe ${index} "5″"`,
            role: 'hot',
            note: 'line\nline\t\\',
            shape: { kind: 'box', at, size: sizes, turn },
          })
        })
        expect(readBay(writeBay(bay))).toStrictEqual({ ok: true, value: bay })
      },
    ),
    { seed: 51, numRuns: 200 },
  )
})

test('numbers that JSON cannot hold are refused, not written as null', () => {
  const bay = sampleBay()
  bay.candidates[0].at = [Number.NaN, 0, 0]
  expect(() => writeBay(bay)).toThrow(RangeError)
})

function numbersIn(value: unknown): number[] {
  if (typeof value === 'number') return [value]
  return typeof value === 'object' && value !== null ? Object.values(value).flatMap(numbersIn) : []
}
