import { describe, expect, test } from 'vitest'
import type { Route, RouteAllAnswer, RouteAnswer } from '../../core/pipe/route/answer.ts'
import { sampleBay } from '../../test/kit/sampleBay.ts'
import { cautions } from '../wording/cautions.ts'
import type { Io } from './io.ts'
import { routeJson, wholeAnswer } from './routeJson.ts'
import { type RouteTelling, routeText } from './routeText.ts'

const bay = sampleBay()
const [candidate] = bay.candidates
const io: Io = { out: () => {}, err: () => {}, colour: false, ascii: false }

const route: Route = {
  path: [
    [90, -300.004, 40],
    [12.345678, 300, 60],
  ],
  bendRadius: 85,
  length: 1068.743,
  bends: 2,
  cost: 1268.743,
  least: { margin: 0.0041, keepOut: 'floor', at: [64.2, -268.7, -46.5] },
  passes: [
    { keepOut: 'floor', side: 'above', gap: 8.004 },
    { keepOut: 'lamp-mirror', side: 'left', gap: 40 },
  ],
}
const one: RouteAnswer = {
  answer: 'found',
  routes: [route, { ...route, path: [], bends: 0, least: { margin: 3, keepOut: 'tank-left' }, passes: [] }],
  proved: {
    fewestBends: 2,
    lengthAtLeast: 1000.07,
    passage: { spareAtLeast: 21.843, spareAtMost: 21.861, at: [10, -20, 30], between: ['floor', 'lamp'] },
  },
  weights: { bend: 100, loss: 0 },
  tried: 43,
  stopped: 'done',
}
const closed: RouteAnswer = {
  ...one,
  answer: 'closed',
  closedBy: { between: ['floor', 'beam'], shortBy: 1.248, at: [10, -20, 30], everywhere: false },
  routes: [],
  proved: {
    fewestBends: 0,
    lengthAtLeast: 500,
    passage: { spareAtLeast: -Infinity, spareAtMost: -1.248, at: [10, -20, 30], between: ['floor', 'beam'] },
  },
}
const none: RouteAnswer = { ...one, answer: 'none found', routes: [], stopped: 'time' }
const whole = (...answers: RouteAnswer[]): RouteAllAnswer => {
  const pipes = answers.map((answer, n) => ({ pipe: n === 0 ? 'cold' : `other-${n}`, answer }))
  const order = pipes.map(({ pipe }) => pipe)
  return { order, pipes, tried: [{ order, found: 1, cost: 1268.743 }] }
}
const telling = (answer: RouteAllAnswer, change: Partial<RouteTelling> = {}): RouteTelling => ({
  bay,
  candidate,
  answer,
  leftOut: [],
  taken: null,
  units: 'mm',
  ...change,
})
const body = (told: RouteTelling) => {
  const text = routeText(told, io)
  return text.slice(0, text.indexOf('Gapwright is'))
}

describe('routes for people', () => {
  test('each route, what is proved and what is not, the cautions', () => {
    expect(body(telling(whole(one)))).toMatchInlineSnapshot(`
      "Sample bay · candidate wide (Wide core) · mm

      Pipe cold (Cold side), 57.0 mm outside, from turbo to throttle

      ✓ found. 2 routes, best first.

      Route 1
      bends    2 bends of radius 85.0 mm, 1068.7 mm long, cost 1268.7 mm
      margin   0.00 mm at least, to Floor, at 64.2 mm rearward, 268.7 mm left, 46.5 mm down
      passes   above Floor (8.0 mm), left of Lamp, mirrored (40.0 mm)
      corners  90.00, −300.00, 40.00
               12.35, 300.00, 60.00

      Route 2
      bends    no bends, 1068.7 mm long, cost 1268.7 mm
      margin   3.00 mm at least, to tank left
      passes   past nothing that is near
      corners  none: straight from port to port

      proved      fewer than 2 bends of this radius is impossible inside the search box, as the best route
                  has
                  no route is shorter than 1000.0 mm, 93 % of the best route’s length
                  widest passage for this tube: 21.84 mm to 21.87 mm to spare on each side, between Floor
                  and Lamp, at 10.0 mm rearward, 20.0 mm left, 30.0 mm up
      not proved  The cheapest of 2 routes from 43 starts; a cheaper one may exist: none below 1200.0 mm
                  is possible, 5.5 % less.
      minimised   developed length and 100.0 mm for each bend

      Corners are rounded here; --json and --adopt have them in full, and the margins belong to those.

      "
    `)
    expect(routeText(telling(whole(one)), io).replace(/\s+/g, ' ')).toContain(cautions)
  })

  test('closed, and none found', () => {
    expect(body(telling(whole(closed)))).toMatchInlineSnapshot(`
      "Sample bay · candidate wide (Wide core) · mm

      Pipe cold (Cold side), 57.0 mm outside, from turbo to throttle

      ✕ closed. No tube of this diameter gets through with the clearances asked for, whatever its bends:
      proved inside the search box, closed by Floor and Beam, at least 1.24 mm short on each side.

      proved     widest passage for this tube: at least 1.24 mm too narrow on each side, between Floor and
                 Beam, at 10.0 mm rearward, 20.0 mm left, 30.0 mm up
      minimised  developed length and 100.0 mm for each bend

      "
    `)
    expect(body(telling(whole(none)))).toMatchInlineSnapshot(`
      "Sample bay · candidate wide (Wide core) · mm

      Pipe cold (Cold side), 57.0 mm outside, from turbo to throttle

      ? none found. A passage is open (21.84 mm to spare on each side), but no sequence of bends was found
      in 43 starts before the clock stopped it. That there is none is not proved.

      proved     fewer than 2 bends of this radius is impossible inside the search box
                 no route is shorter than 1000.0 mm
                 widest passage for this tube: 21.84 mm to 21.87 mm to spare on each side, between Floor
                 and Lamp, at 10.0 mm rearward, 20.0 mm left, 30.0 mm up
      minimised  developed length and 100.0 mm for each bend

      "
    `)
  })

  test('in inches, and what was adopted, left out, and routed in another order', () => {
    const both: RouteAllAnswer = {
      ...whole(one, none),
      order: ['other-1', 'cold'],
      tried: [
        { order: ['cold', 'other-1'], found: 1, cost: 1300 },
        { order: ['other-1', 'cold'], found: 1, cost: 1268.743 },
      ],
    }
    const taken = { file: 'new.bay.json', pipes: [{ pipe: 'cold', route: 1 }], missing: true }
    const told = telling(both, { units: 'inch', leftOut: ['beam'], taken })
    expect(body(told)).toMatchInlineSnapshot(`
      "Sample bay · candidate wide (Wide core) · inches

      Pipe cold (Cold side), 2 1/4″ outside, from turbo to throttle

      ✓ found. 2 routes, best first.

      Route 1
      bends    2 bends of radius 3 11/32″, 42 1/16″ long, cost 49 15/16″
      margin   0″ at least, to Floor, at 2 17/32″ rearward, 10 19/32″ left, 1 27/32″ down
      passes   above Floor (5/16″), left of Lamp, mirrored (1 9/16″)
      corners  3 35/64, −11 13/16, 1 37/64
               31/64, 11 13/16, 2 23/64

      Route 2
      bends    no bends, 42 1/16″ long, cost 49 15/16″
      margin   7/64″ at least, to tank left
      passes   past nothing that is near
      corners  none: straight from port to port

      proved      fewer than 2 bends of this radius is impossible inside the search box, as the best route
                  has
                  no route is shorter than 39 11/32″, 93 % of the best route’s length
                  widest passage for this tube: 55/64″ to 7/8″ to spare on each side, between Floor and
                  Lamp, at 13/32″ rearward, 25/32″ left, 1 3/16″ up
      not proved  The cheapest of 2 routes from 43 starts; a cheaper one may exist: none below 47 7/32″ is
                  possible, 5.5 % less.
      minimised   developed length and 3 15/16″ for each bend

      Pipe other-1

      ? none found. A passage is open (55/64″ to spare on each side), but no sequence of bends was found
      in 43 starts before the clock stopped it. That there is none is not proved.

      proved     fewer than 2 bends of this radius is impossible inside the search box
                 no route is shorter than 39 11/32″
                 widest passage for this tube: 55/64″ to 7/8″ to spare on each side, between Floor and
                 Lamp, at 13/32″ rearward, 25/32″ left, 1 3/16″ up
      minimised  developed length and 3 15/16″ for each bend

      Corners are rounded here; --json and --adopt have them in full, and the margins belong to those.

      Routed in the order other-1 and cold: 1 of 2 found, at a cost of 49 15/16″ in all. In the other
      order, cold and other-1: 1 of 2 found, at a cost of 51 3/16″ in all.

      Left out for a look, and not held against any route: beam.

      Wrote new.bay.json: in candidate wide, pipe cold takes route 1.

      "
    `)
  })

  test('where nothing stands there is no margin to tell', () => {
    const alone: Route = { ...route, least: { margin: Infinity, keepOut: '' } }
    expect(body(telling(whole({ ...one, routes: [alone] })))).toContain(
      'margin   to nothing: nothing stands near any of it\n',
    )
    expect(JSON.stringify(routeJson(telling(whole({ ...one, routes: [alone] })), '', true))).toContain('"margin":null')
  })

  test('a candidate that is not the first is to be named to the next command', () => {
    const second = { ...bay, candidates: [{ ...candidate, id: 'first' }, candidate] }
    const taken = { file: 'new.bay.json', pipes: [{ pipe: 'cold', route: 2 }], missing: false }
    expect(body(telling(whole(one), { bay: second, taken })).replace(/\s+/g, ' ')).toContain(
      'Wrote new.bay.json: in candidate wide, which is meant with --candidate wide, pipe cold takes route 2.',
    )
  })

  test('no line is wider than the terminal', () => {
    for (const columns of [60, 80]) {
      const text = routeText(telling(whole(one, none)), { ...io, columns })
      expect(Math.max(...text.split('\n').map((line) => [...line].length))).toBeLessThanOrEqual(columns)
    }
  })
})

describe('routes as JSON', () => {
  const json = (answer: RouteAllAnswer, flat: boolean) =>
    JSON.parse(JSON.stringify(routeJson(telling(answer), 'f00d', flat)))

  test('one pipe: its answer among the fields of the whole', () => {
    const answer = json(whole(one), true)
    expect(Object.keys(answer)).toEqual([
      'command',
      'bay',
      'candidate',
      'pipe',
      'answer',
      'routes',
      'proved',
      'weights',
      'tried',
      'stopped',
      'leftOut',
    ])
    expect(answer).toMatchObject({ command: 'route', bay: { name: 'Sample bay', sha256: 'f00d' }, pipe: 'cold' })
    expect(answer.routes[0]).toEqual({ ...route, words: 'above Floor (8.0 mm), left of Lamp, mirrored (40.0 mm)' })
    expect(answer.proved).toEqual(one.proved)
  })

  test('closed: by which, and by how much; what is not known is null', () => {
    const answer = json(whole(closed), true)
    expect(answer.proved.passage.spareAtLeast).toBeNull()
    expect(answer.closedBy).toEqual(closed.closedBy)
    expect(json(whole(one), true)).not.toHaveProperty('closedBy')
  })

  test('several pipes: a list, and the answer of the worst', () => {
    const answer = json(whole(one, closed), false)
    expect(answer.answer).toBe('closed')
    expect(answer.pipes.map(({ pipe }: { pipe: string }) => pipe)).toEqual(['cold', 'other-1'])
    expect(answer.order).toEqual(['cold', 'other-1'])
    expect(wholeAnswer(whole(one, one))).toBe('found')
    expect(wholeAnswer(whole(one, none))).toBe('none found')
    expect(wholeAnswer(whole(one, { ...none, answer: 'cancelled' }))).toBe('cancelled')
  })
})
