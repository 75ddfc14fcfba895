import { expect, test } from 'vitest'
import { seeded } from '../../../test/kit/random.ts'
import { dimensionSizes, laneDimensions, type LaneWish } from './lanes.ts'
import { textWidth } from './textWidth.ts'

const half = ({ text }: LaneWish) => textWidth(text, dimensionSizes.text) / 2

test('neither lines nor texts of a lane meet, and longer ones stand outside: 2,000 sides of a view (seed 41)', () => {
  const random = seeded(41)
  let [beside, lanes, crossed, all] = [0, 0, 0, 0]
  for (let round = 0; round < 2000; round++) {
    const wishes = Array.from({ length: 1 + random.int(7) }, (): LaneWish => {
      const from = random.real(0, 150)
      return { from, to: from + random.size(0.5, 80), text: random.pick(['9', '104.63', '13 21/32', '⌀ 57']) }
    })
    const places = laneDimensions(wishes)
    const spans = wishes.map((wish, i) => ({
      low: Math.min(wish.from, places[i].textAt - half(wish)),
      high: Math.max(wish.to, places[i].textAt + half(wish)),
      lane: places[i].lane,
    }))
    spans.forEach((a, i) => {
      spans.slice(0, i).forEach((b, k) => {
        if (a.lane === b.lane) expect(a.low >= b.high || b.low >= a.high).toBe(true)
        // One within the other: the shorter is the nearer one, so that no extension line crosses a dimension line.
        const [inner, outer] = wishes[i].to - wishes[i].from < wishes[k].to - wishes[k].from ? [i, k] : [k, i]
        if (wishes[outer].from <= wishes[inner].from && wishes[outer].to >= wishes[inner].to)
          expect(places[inner].lane).toBeLessThan(places[outer].lane)
      })
      lanes = Math.max(lanes, a.lane)
      const at = places[i].textAt
      if (at < wishes[i].from || at > wishes[i].to) beside++
      all++
      const others = wishes.flatMap(({ from, to }, k) => (k === i ? [] : [from, to]))
      if (others.some((x) => Math.abs(x - at) < half(wishes[i]))) crossed++
    })
  }
  expect(beside).toBeGreaterThan(500)
  expect(lanes).toBeGreaterThan(3)
  // An extension line crosses a text only where there is no free place along its line.
  expect(crossed / all).toBeLessThan(0.01)
})
