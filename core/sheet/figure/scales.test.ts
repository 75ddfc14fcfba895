import { expect, test } from 'vitest'
import { type Scale, scaleFor, shareOf, standardScales } from './scales.ts'

const upTo = (most: number) => (scale: Scale) => shareOf(scale) <= most

test('the scales of ISO 5455 (from memory): 1, 2 and 5 with noughts, the largest first', () => {
  const told = standardScales.map(({ paper, real }) => `${paper}:${real}`)
  expect(told.slice(0, 12)).toEqual([
    '50:1',
    '20:1',
    '10:1',
    '5:1',
    '2:1',
    '1:1',
    '1:2',
    '1:5',
    '1:10',
    '1:20',
    '1:50',
    '1:100',
  ])
  for (let i = 1; i < standardScales.length; i++)
    expect(shareOf(standardScales[i])).toBeLessThan(shareOf(standardScales[i - 1]))
})

test('what is asked for is taken where it fits, else the next smaller one, and that is said', () => {
  expect(scaleFor(5, upTo(0.2))).toEqual({ scale: { paper: 1, real: 5 } })
  expect(scaleFor(5, upTo(0.19))).toEqual({ scale: { paper: 1, real: 10 }, instead: { paper: 1, real: 5 } })
  expect(scaleFor(null, upTo(0.19))).toEqual({ scale: { paper: 1, real: 10 } })
  expect(scaleFor(null, upTo(100))).toEqual({ scale: { paper: 1, real: 1 } })
  expect(scaleFor(null, () => false).scale).toEqual(standardScales.at(-1))
})
