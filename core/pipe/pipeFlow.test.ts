import { describe, expect, test } from 'vitest'
import { cornerHose, jointedBay, straightPipe, turboPort } from '../../test/kit/jointedBay.ts'
import { pipeEnd, pipePoints, stubsOf } from '../bay/pipeEnds.ts'
import type { Bay, Pipe, Port } from '../bay/schema.ts'
import type { Conditions } from '../bay/workshopSchema.ts'
import { identity } from '../shape/vec.ts'
import { bendTable } from './bendTable.ts'
import { airAt } from './fluid.ts'
import { pipeLoss } from './loss.ts'
import type { PipeLoss } from './loss.ts'
import { flowLoss } from './pipeFlow.ts'

const air: Conditions = {
  flow: {
    fluid: 'air',
    massFlow: 0.02,
    toCooler: { temperature: 420, pressure: 2.2e5 },
    fromCooler: { temperature: 330, pressure: 2.1e5 },
  },
}

function lossOf(pipe: Partial<Pipe>, change: Partial<Bay> = {}, port: Partial<Port> = {}): PipeLoss | null {
  const whole = straightPipe(pipe)
  const bay: Bay = { ...jointedBay([whole], [], [turboPort(port)]), conditions: air, ...change }
  const [candidate] = bay.candidates
  const stubs = stubsOf(candidate, { turn: identity, at: candidate.at })
  const [from, to] = [pipeEnd(whole, 'from', bay, stubs), pipeEnd(whole, 'to', bay, stubs)]
  const points = from && to && pipePoints(whole, from, to)
  const run = points && bendTable(points, whole.bendRadius)
  if (!from || !to || !points || !run?.ok) throw new Error('the pipe of the test is not routed')
  return flowLoss({ bay, candidate, pipe: whole, from, to, points, straights: run.value.straights }, run.value)
}
const plain = { outsideDiameter: 20, wall: 1.5, bends: [], massFlow: 0.02 }

describe('what the bay says of the flow', () => {
  test('none, or a pipe that does not say which: no loss is told', () => {
    expect(lossOf({ flow: 'to-cooler' }, { conditions: undefined })).toBeNull()
    expect(lossOf({ flow: 'to-cooler' }, { conditions: {} })).toBeNull()
    expect(lossOf({})).toBeNull()
  })

  test('hot before the cooler, cold behind it', () => {
    const at = (fluid: ReturnType<typeof airAt>) => pipeLoss({ ...plain, developed: 200, fluid })
    expect(lossOf({ flow: 'to-cooler' })?.atLeast).toBeCloseTo(at(airAt(420, 2.2e5)).atLeast, 9)
    expect(lossOf({ flow: 'from-cooler' })?.atLeast).toBeCloseTo(at(airAt(330, 2.1e5)).atLeast, 9)
  })

  test('the stock tube’s roughness', () => {
    const tube = { id: 't', name: 'Tube', outsideDiameter: 20, wall: 1.5, material: 'steel', roughness: 0.1 }
    const rough = lossOf({ flow: 'to-cooler', tube: 't' }, { stock: { tubes: [tube] } })
    const expected = pipeLoss({ ...plain, developed: 200, fluid: airAt(420, 2.2e5), roughness: 0.1 })
    expect(rough?.atMost).toBeCloseTo(expected.atMost, 9)
    expect(rough?.atMost).toBeGreaterThan(1.3 * (lossOf({ flow: 'to-cooler' })?.atMost ?? Infinity))
  })
})

test('bends carry the number of their point', () => {
  const path: Pipe['path'] = [
    [0, 340, 0],
    [60, 300, 0],
    [0, 260, 0],
  ]
  const loss = lossOf({ flow: 'to-cooler', path, bendRadius: 25 })
  expect(loss?.items.map(({ what, point }) => [what, point])).toEqual([
    ['friction', undefined],
    ['bend', 1],
    ['bend', 2],
    ['bend', 3],
  ])
})

describe('couplers', () => {
  test('the length between two tubes is straight pipe', () => {
    const joint = { kind: 'coupler', coupler: 'short', gap: 4 } as const
    const joined = lossOf({ flow: 'to-cooler', joints: { from: joint, to: joint } })
    expect(joined?.atLeast).toBeCloseTo(lossOf({ flow: 'to-cooler' })?.atLeast ?? Number.NaN, 9)
  })

  test('an elbow is a bend at that end, with its legs beyond the tubes', () => {
    // The pipe begins 40 further on and aside of the port, which looks along Z: 10, the arc, 10.
    const port: Partial<Port> = { at: [0, 440, -40], direction: [0, 0, 1] }
    const loss = lossOf(
      { flow: 'to-cooler', joints: { from: { kind: 'coupler', coupler: 'corner', roll: 270 } } },
      {},
      port,
    )
    expect(loss?.items.map(({ what, end }) => [what, end])).toEqual([
      ['friction', undefined],
      ['bend', 'from'],
    ])
    const expected = pipeLoss({
      ...plain,
      developed: 200 + 20,
      bends: [{ radius: cornerHose.form === 'elbow' ? cornerHose.radius : 0, angle: 90 }],
      fluid: airAt(420, 2.2e5),
    })
    // 47.1 of arc are taken from the developed length in that sum.
    expect(loss?.items[1].atLeast).toBeCloseTo(expected.items[1].atLeast, 9)
    expect(loss?.items[0].atLeast).toBeCloseTo((expected.items[0].atLeast * 220) / (220 - 15 * Math.PI), 9)
  })

  test.each<[NonNullable<Pipe['flow']>, boolean, 'widening' | 'narrowing']>([
    ['to-cooler', false, 'widening'],
    ['from-cooler', false, 'narrowing'],
    ['to-cooler', true, 'widening'],
    ['from-cooler', true, 'narrowing'],
  ])('a narrower port of the car: %s, pipe named the other way round: %s, is a %s', (flow, back, what) => {
    const ends = back ? { from: 'tank-right:p', to: 'turbo' } : {}
    const loss = lossOf({ flow, ...ends }, {}, { outsideDiameter: 18 })
    expect(loss?.items.map((item) => [item.what, item.end])).toEqual([
      ['friction', undefined],
      [what, back ? 'to' : 'from'],
    ])
  })
})
