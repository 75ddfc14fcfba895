import { describe, expect, test } from 'vitest'
import type { Passage, Route, RouteAnswer } from '../../core/pipe/route/answer.ts'
import { sampleBay } from '../../test/kit/sampleBay.ts'
import {
  cheapestText,
  closedText,
  costAtLeast,
  fewestBendsText,
  lengthText,
  minimisedText,
  noneText,
  obstacleName,
  passageText,
  passesText,
} from './routeWords.ts'

const bay = sampleBay()
const route: Route = {
  path: [[0, 0, 0]],
  bendRadius: 85,
  length: 868.743,
  bends: 3,
  cost: 1168.743,
  least: { margin: 0.004, keepOut: 'beam' },
  passes: [
    { keepOut: 'beam', side: 'below', gap: 12.399 },
    { keepOut: 'lamp-mirror', side: 'left', gap: 40 },
    { keepOut: 'tank-left', side: 'front', gap: 29.999_999_99 },
    { keepOut: 'pipe-cold', side: 'behind', gap: 6.35 },
  ],
}
const passage = (spareAtLeast: number, spareAtMost: number, between = ['beam', 'floor']): Passage => ({
  spareAtLeast,
  spareAtMost,
  at: [10, -20, 30],
  between,
})
const answer = (change: Partial<RouteAnswer> = {}): RouteAnswer => ({
  answer: 'found',
  routes: [route],
  proved: { fewestBends: 3, lengthAtLeast: 570.46, passage: passage(21.843, 21.861) },
  weights: { bend: 100, loss: 0 },
  tried: 43,
  stopped: 'done',
  ...change,
})
const proved = (change: Partial<RouteAnswer['proved']>) => answer({ proved: { ...answer().proved, ...change } })

describe('where a route leads', () => {
  test('each thing it passes by its name, with the side and the gap, rounded down', () => {
    expect(passesText(bay, 'wide', route, 'mm')).toBe(
      'below Beam (12.3 mm), left of Lamp, mirrored (40.0 mm), in front of tank left (30.0 mm), behind pipe Cold side (6.3 mm)',
    )
    expect(passesText(bay, 'wide', { passes: route.passes.slice(3) }, 'inch')).toBe('behind pipe Cold side (1/4″)')
    expect(passesText(bay, 'wide', { passes: [] }, 'mm')).toBe('past nothing that is near')
  })

  test('the nearest six, without hoses and clamps', () => {
    const pass = (keepOut: string, gap: number) => ({ keepOut, side: 'below' as const, gap })
    const passes = [pass('clamp-cold-to-pipe', 1), pass('coupler-cold-to', 2), pass('stub-left-in', 3)]
    expect(passesText(bay, 'wide', { passes }, 'mm')).toBe('past nothing that is near')
    const eight = ['a', 'b', 'c', 'd', 'e', 'f', 'g', 'h'].map((id, n) => pass(id, n + 4))
    expect(passesText(bay, 'wide', { passes: [...passes, ...eight] }, 'mm').split(', ')).toEqual(
      ['a', 'b', 'c', 'd', 'e', 'f'].map((id, n) => `below ${id} (${n + 4}.0 mm)`),
    )
  })

  test('what has no name keeps its id', () => {
    expect(obstacleName(bay, 'wide', 'nothing-like-it')).toBe('nothing like it')
    expect(obstacleName(bay, 'no-candidate', 'pipe-cold')).toBe('pipe cold')
    // Only what the bay mirrors has a mirror image.
    expect(obstacleName(bay, 'wide', 'beam-mirror')).toBe('beam mirror')
  })
})

describe('what is proved', () => {
  test('closed: by which two, and how much is wanting at the least', () => {
    const closedBy = { between: ['beam', 'floor'], shortBy: 1.248, at: [1, 2, 3], everywhere: false } as const
    expect(closedText(bay, 'wide', { closedBy }, 'mm')).toBe(
      'No tube of this diameter gets through with the clearances asked for, whatever its bends: proved inside the search box, closed by Beam and Floor, at least 1.24 mm short on each side.',
    )
    const atEnd = { ...closedBy, between: ['beam'], everywhere: true }
    expect(closedText(bay, 'wide', { closedBy: atEnd }, 'mm')).toMatch(
      /whatever its bends: proved, closed by Beam, at least 1\.24 mm short at one of its ends or beside it\.$/,
    )
    expect(closedText(bay, 'wide', {}, 'mm')).toMatch(/whatever its bends: proved inside the search box\.$/)
  })

  test('fewest bends, and whether the best route has no more', () => {
    expect(fewestBendsText(answer().proved, route)).toBe(
      'fewer than 3 bends of this radius is impossible inside the search box, as the best route has',
    )
    expect(fewestBendsText({ ...answer().proved, fewestBends: 1 }, route)).toBe(
      'fewer than 1 bend of this radius is impossible inside the search box',
    )
    expect(fewestBendsText(answer().proved, route, 'all')).toContain(
      '3 bends of any radius that was tried is impossible',
    )
    expect(fewestBendsText({ ...answer().proved, fewestBends: 0 }, route)).toBeNull()
  })

  test('least length, rounded down, with its share of the best route', () => {
    expect(lengthText(answer().proved, route, 'mm')).toBe(
      'no route is shorter than 570.4 mm, 65 % of the best route’s length',
    )
    expect(lengthText(answer().proved, undefined, 'mm')).toBe('no route is shorter than 570.4 mm')
  })

  test('the widest passage as an interval, whichever of its ends are known', () => {
    const said = (atLeast: number, atMost: number, between?: string[]) =>
      passageText(bay, 'wide', { ...answer().proved, passage: passage(atLeast, atMost, between) }, 'mm')
    expect(said(21.843, 21.861)).toBe('21.84 mm to 21.87 mm to spare on each side, between Beam and Floor')
    expect(said(21.843, Infinity, ['beam'])).toBe('at least 21.84 mm to spare on each side, beside Beam')
    expect(said(-Infinity, 3, [])).toBe('at most 3.00 mm to spare on each side')
    expect(said(-2, -1.248)).toBe('at least 1.24 mm too narrow on each side, between Beam and Floor')
    expect(passageText(bay, 'wide', { ...answer().proved, passage: null }, 'mm')).toBeNull()
  })
})

describe('what is not proved', () => {
  test('cheapest of those tried, with the bound', () => {
    expect(costAtLeast(answer())).toBeCloseTo(870.46, 9)
    // 1 − 870.46 / 1168.743 = 25.52 %
    expect(cheapestText(answer(), 'mm')).toBe(
      'The cheapest of 1 route from 43 starts; a cheaper one may exist: none below 870.4 mm is possible, 25.6 % less.',
    )
    const straight = answer({ proved: { fewestBends: 3, lengthAtLeast: 868.743, passage: null } })
    expect(cheapestText(straight, 'mm')).toBe(
      'The cheapest of 1 route from 43 starts, and proved to be the cheapest there is.',
    )
  })

  test('none found never says that there is none', () => {
    const none = { routes: [], tried: 1 }
    expect(noneText(answer(none), 'mm')).toBe(
      'A passage is open (21.84 mm to spare on each side), but no sequence of bends was found in 1 start. That there is none is not proved.',
    )
    expect(noneText({ ...proved({ passage: passage(-1, 2) }), stopped: 'time' }, 'mm')).toBe(
      'No sequence of bends was found in 43 starts before the clock stopped it, nor a passage that is proved to be open. That there is none is not proved.',
    )
    expect(noneText({ ...proved({ passage: null }), stopped: 'cancelled' }, 'mm')).toMatch(
      /43 starts before it was stopped, nor/,
    )
  })

  test('what was minimised', () => {
    expect(minimisedText(answer(), 'mm')).toBe('developed length and 100.0 mm for each bend')
    expect(minimisedText({ weights: { bend: 0, loss: 250 } }, 'mm')).toBe(
      'developed length and 0.0 mm for each bend, and 250.0 mm for each unit of loss coefficient',
    )
  })
})
