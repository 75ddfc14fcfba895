import fc from 'fast-check'

/** Three numbers as the schema reads them; also a point or direction for the core. */
export type Triple = [number, number, number]

/** Numbers in a range, never −0, which JSON does not keep. */
export const anyNumber = (min: number, max: number): fc.Arbitrary<number> =>
  fc.double({ min, max, noNaN: true }).map((x) => x + 0)

/** Places in a bay, now and then far out, on whole numbers or at the origin. */
export const anyPoint: fc.Arbitrary<Triple> = fc.oneof(
  { weight: 4, arbitrary: tripleOf(anyNumber(-2000, 2000)) },
  { weight: 2, arbitrary: tripleOf(fc.integer({ min: -500, max: 500 }).map((x) => x + 0)) },
  { weight: 1, arbitrary: tripleOf(anyNumber(-1e5, 1e5)) },
)

/** Lengths from a hundredth of a millimetre to a metre, small ones as often as large ones. */
export const anySize: fc.Arbitrary<number> = anyNumber(-2, 3).map((power) => 10 ** power)

/** Turns in degrees: any, quarter turns, and turns a hair off them. */
export const anyTurn: fc.Arbitrary<Triple> = fc.oneof(
  tripleOf(anyNumber(-180, 180)),
  tripleOf(fc.constantFrom(0, 90, 180, 270, -90)),
  tripleOf(fc.constantFrom(0, 1e-9, 90 - 1e-9, 45)),
)

/** A vector that is not zero, of any length. */
export const anyDirection: fc.Arbitrary<Triple> = fc
  .tuple(tripleOf(anyNumber(-1, 1)), fc.constantFrom(1e-3, 1, 250))
  .map(([v, size]): Triple => [v[0] * size + 0, v[1] * size + 0, v[2] * size + 0])
  .filter((v) => Math.hypot(...v) > 1e-6)

export function tripleOf(one: fc.Arbitrary<number>): fc.Arbitrary<Triple> {
  return fc.tuple(one, one, one)
}
