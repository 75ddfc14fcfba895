import fc from 'fast-check'
import { expect, test } from 'vitest'
import { decimal, TextScan } from './textScan.ts'

const read = (text: string) => {
  const bytes = new TextEncoder().encode(text)
  return decimal(bytes, 0, bytes.length)
}
const seeded = { seed: 20240611, numRuns: 3000 }

test('any double written by the engine reads back to itself (seed 20240611)', () => {
  let exactPath = 0
  fc.assert(
    fc.property(fc.double({ noNaN: true, noDefaultInfinity: true }), (x) => {
      if (String(x).replace(/\D/g, '').length <= 15) exactPath++
      expect(read(String(x))).toBe(x === 0 ? 0 : x)
    }),
    seeded,
  )
  expect(exactPath).toBeGreaterThan(50)
})

test('short decimals of any form read as the engine reads them (seed 20240611)', () => {
  const digits = fc.stringMatching(/^\d{1,9}$/)
  const text = fc
    .tuple(
      fc.constantFrom('', '-', '+'),
      digits,
      fc.option(fc.stringMatching(/^\d{0,9}$/)),
      fc.option(fc.integer({ min: -40, max: 40 })),
    )
    .map(
      ([sign, whole, part, power]) =>
        `${sign}${whole}${part === null ? '' : `.${part}`}${power === null ? '' : `e${power}`}`,
    )
  fc.assert(
    fc.property(text, (t) => {
      expect(read(t)).toBe(Number(t))
    }),
    seeded,
  )
})

test.each([
  '',
  '.',
  '-',
  'e5',
  '1e',
  '1e+',
  '0x10',
  '1,5',
  '1_000',
  '1 2',
  'nan',
  'inf',
  'Infinity',
  '１２',
  '1.2.3',
  '--1',
  '1f',
  '3.1+e2',
])('%j is not a number', (text) => expect(read(text)).toBeNaN())

test('words, lines and line ends of three kinds', () => {
  const scan = new TextScan(new TextEncoder().encode('\uFEFFone  two\tthree\r\nfour\rfive\n\nsix'))
  const found: [string, number][] = []
  while (scan.wordAnywhere()) found.push([scan.text(), scan.line])
  expect(found).toEqual([
    ['one', 1],
    ['two', 1],
    ['three', 1],
    ['four', 2],
    ['five', 3],
    ['six', 5],
  ])
})
