import { describe, expect, test } from 'vitest'
import { emptyBay } from '../bay/emptyBay.ts'
import type { Bay } from '../bay/schema.ts'
import type { Vec3 } from '../shape/vec.ts'
import { ledger } from './ledger.ts'
import { roomAlong } from './roomAlong.ts'

/** A core of 100 mm, and a ball-nosed bar (a short tube) or a wall before it; 10 mm asked for, 2 mm uncertain. */
const bayOf = (shape: Bay['keepOuts'][number]['shape'], at: Vec3): Bay => ({
  ...emptyBay('Room', 'here', '', 'mm'),
  keepOuts: [{ id: 'it', name: 'It', role: 'body', clearance: 10, uncertainty: 2, shape }],
  candidates: [{ id: 'one', name: 'One', at: [...at], turn: [0, 0, 0], core: { depth: 100, width: 100, height: 100 } }],
})
const pairOf = (bay: Bay) => {
  const answer = ledger(bay, undefined, new Map())
  if (!answer.ok) throw new Error(JSON.stringify(answer.faults))
  return answer.value.pairs[0]
}
const wall = { kind: 'halfSpace', point: [-100, 0, 0], normal: [1, 0, 0] } as const
const rod = { kind: 'cylinder', from: [-120, -300, 60], to: [-120, 300, 60], radius: 10 } as const

describe('room along a way', () => {
  test('towards a wall it is exact: gone that far, the margin is 0', () => {
    const shape = { ...wall, point: [...wall.point], normal: [...wall.normal] } as Bay['keepOuts'][number]['shape']
    const far = pairOf(bayOf(shape, [0, 0, 0]))
    expect(far.margin).toBeCloseTo(38, 6)
    const room = roomAlong(far, [-1, 0, 0]) ?? Number.NaN
    expect(pairOf(bayOf(shape, [-room, 0, 0])).margin).toBeCloseTo(0, 6)
    expect(roomAlong(far, [1, 0, 0])).toBeCloseTo(-38, 6)
    // Too near already: it has to go back.
    const near = pairOf(bayOf(shape, [-45, 0, 0]))
    expect(roomAlong(near, [-1, 0, 0])).toBeCloseTo(-7, 6)
  })

  test('past it there is nothing to aim at, nor where the two meet', () => {
    const shape = { ...wall, point: [...wall.point], normal: [...wall.normal] } as Bay['keepOuts'][number]['shape']
    expect(roomAlong(pairOf(bayOf(shape, [0, 0, 0])), [0, 1, 0])).toBeNull()
    expect(roomAlong(pairOf(bayOf(shape, [-60, 0, 0])), [1, 0, 0])).toBeNull()
  })

  test('towards a rod that it meets aslant, aimed at anew on the way it comes to rest where the margin is 0', () => {
    const shape = { ...rod, from: [...rod.from], to: [...rod.to] } as Bay['keepOuts'][number]['shape']
    let x = 0
    for (let i = 0; i < 8; i++) x -= roomAlong(pairOf(bayOf(shape, [x, 0, 0])), [-1, 0, 0]) ?? 0
    expect(pairOf(bayOf(shape, [x, 0, 0])).margin).toBeCloseTo(0, 3)
  })
})
