import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { anyNumber } from '../../test/kit/anyShape.ts'
import { tinyBay } from '../../test/kit/tinyBay.ts'
import { pipeEnd, stubsOf } from '../bay/pipeEnds.ts'
import type { Candidate, Pipe, TankPort } from '../bay/schema.ts'
import { cross, dot, length, sub, turnMatrix, unit, type Vec3 } from '../shape/vec.ts'
import { followPorts } from './follow.ts'

type Point = Pipe['path'][number]

/** Stub ends at (0, ∓150, 0), leaving along ∓Y. */
const port = (id: string, change: Partial<TankPort> = {}): TankPort => ({
  id,
  face: 'end',
  u: 0,
  v: 0,
  outsideDiameter: 50,
  length: 20,
  ...change,
})
const tank = (one: TankPort) => ({ length: 30, front: 0, rear: 0, below: 0, above: 0, ports: [one] })
const pipe = (path: Point[], change: Partial<Pipe> = {}): Pipe => ({
  id: 'hot',
  name: 'Hot',
  from: 'turbo',
  to: 'tank-left:in',
  outsideDiameter: 50,
  wall: 1.5,
  bendRadius: 75,
  path,
  ...change,
})
const candidate = (pipes: Pipe[], change: Partial<Candidate> = {}): Candidate => ({
  id: 'only',
  name: 'Only',
  at: [0, 0, 0],
  turn: [0, 0, 0],
  core: { depth: 100, width: 200, height: 80 },
  tanks: { left: tank(port('in')), right: tank(port('out')) },
  pipes,
  ...change,
})
const bayOf = (one: Candidate) =>
  tinyBay([], one, [{ id: 'turbo', name: 'Turbo', at: [300, -400, 100], direction: [-1, 0, 0], outsideDiameter: 50 }])
const follow = (before: Candidate, change: Partial<Candidate>): Candidate =>
  followPorts(bayOf(before), before, { ...before, ...change })
const pathOf = ({ pipes = [] }: Candidate): readonly Vec3[] => pipes[0].path

describe('the corner next to the port that moved', () => {
  const before = candidate([
    pipe([
      [100, -400, 100],
      [0, -400, 0],
    ]),
  ])

  test('keeps its distance along the port’s axis when the core grows', () => {
    // The stub's end goes from Y −150 to −170, and the last corner with it.
    expect(pathOf(follow(before, { core: { depth: 100, width: 240, height: 80 } }))).toEqual([
      [100, -400, 100],
      [0, -420, 0],
    ])
  })

  test('goes with a candidate that is moved', () => {
    expect(pathOf(follow(before, { at: [-12.5, 3, 40] }))).toEqual([
      [100, -400, 100],
      [-12.5, -397, 40],
    ])
  })

  test('goes with a candidate that is turned', () => {
    // 90° about Z takes −Y to +X.
    expect(pathOf(follow(before, { turn: [0, 0, 90] }))).toEqual([
      [100, -400, 100],
      [400, 0, 0],
    ])
  })

  test('goes with a port whose own direction changes', () => {
    const tanks = { left: tank(port('in', { direction: [1, -1, 0] })) }
    const after = follow(before, { tanks })
    const end = pipeEnd(pipe([]), 'to', bayOf(after), stubsOf(after, { turn: turnMatrix([0, 0, 0]), at: [0, 0, 0] }))
    const out = sub(pathOf(after)[1], end?.at ?? [0, 0, 0])
    expect(length(out)).toBeCloseTo(250, 5)
    expect(length(cross(out, unit([1, -1, 0])))).toBeCloseTo(0, 5)
    expect(pathOf(after)[0]).toEqual([100, -400, 100])
  })

  test('stays where only the other tank changed, and nothing is made anew', () => {
    const after = { ...before, tanks: { ...before.tanks, right: tank(port('out', { length: 90 })) } }
    expect(followPorts(bayOf(before), before, after)).toBe(after)
  })

  test('is the first one at a pipe’s beginning', () => {
    const turnedRound = candidate([
      pipe(
        [
          [0, -400, 0],
          [100, -400, 100],
        ],
        { from: 'tank-left:in', to: 'turbo' },
      ),
    ])
    expect(pathOf(follow(turnedRound, { at: [5, 0, 0] }))).toEqual([
      [5, -400, 0],
      [100, -400, 100],
    ])
  })

  test('at both ends of a pipe from tank to tank', () => {
    const both = candidate([
      pipe(
        [
          [0, -300, 0],
          [200, -300, 0],
          [200, 300, 0],
          [0, 300, 0],
        ],
        { from: 'tank-left:in', to: 'tank-right:out' },
      ),
    ])
    expect(pathOf(follow(both, { core: { depth: 100, width: 220, height: 80 } }))).toEqual([
      [0, -310, 0],
      [200, -300, 0],
      [200, 300, 0],
      [0, 310, 0],
    ])
  })
})

describe('a single corner', () => {
  const before = candidate([pipe([[0, -400, 0]])])
  const level = (one: Candidate) => ({
    ...bayOf(one),
    ports: [
      { id: 'turbo', name: 'Turbo', at: [300, -400, 0] as Point, direction: [-1, 0, 0] as Point, outsideDiameter: 50 },
    ],
  })
  const to = (change: Partial<Candidate>) => pathOf(followPorts(level(before), before, { ...before, ...change }))

  test('goes where the axes meet', () => {
    expect(to({ at: [-20, 0, 0] })).toEqual([[-20, -400, 0]])
    expect(to({ core: { depth: 100, width: 240, height: 80 } })).toEqual([[0, -400, 0]])
  })

  test('goes half-way between axes that pass each other', () => {
    expect(to({ at: [-20, 0, 30] })).toEqual([[-20, -400, 15]])
  })

  test('keeps what it lay beside', () => {
    const beside = candidate([pipe([[1, -402, 3]])])
    expect(pathOf(followPorts(level(beside), beside, { ...beside, at: [-20, 0, 0] }))).toEqual([[-19, -402, 3]])
  })

  test('goes with the port where the axes run side by side', () => {
    const sideBySide = candidate([pipe([[10, -300, 0]], { from: 'turbo' })])
    const bay = {
      ...bayOf(sideBySide),
      ports: [
        { id: 'turbo', name: 'Turbo', at: [30, -500, 0] as Point, direction: [0, 1, 0] as Point, outsideDiameter: 50 },
      ],
    }
    expect(pathOf(followPorts(bay, sideBySide, { ...sideBySide, at: [7, 0, 0] }))).toEqual([[17, -300, 0]])
  })
})

test('a tube’s end that the joint fixes goes along', () => {
  const joints = { to: { kind: 'coupler' as const, coupler: 'hose', end: [1, -155, 0] as Point } }
  const before = candidate([
    pipe(
      [
        [100, -400, 100],
        [1, -400, 0],
      ],
      { joints },
    ),
  ])
  const bay = {
    ...bayOf(before),
    stock: {
      couplers: [
        {
          form: 'straight' as const,
          id: 'hose',
          name: 'Hose',
          insideDiameters: [50, 50] as [number, number],
          wall: 4,
          insertion: 30,
          largestAngle: 3,
          largestOffset: 2,
          largestGap: 10,
          length: 75,
        },
      ],
    },
  }
  const after = followPorts(bay, before, { ...before, at: [0, 10, 5] })
  expect(after.pipes?.[0].joints?.to).toMatchObject({ coupler: 'hose', end: [1, -145, 5] })
  expect(pathOf(after)[1]).toEqual([1, -390, 5])
})

test('a pipe without corners is left alone', () => {
  const before = candidate([pipe([])])
  expect(pathOf(follow(before, { at: [1, 2, 3] }))).toEqual([])
})

test('there and back gives the old path (seed 502)', () => {
  const coordinate = fc.integer({ min: -400_000_000, max: 400_000_000 }).map((x) => x / 1e6 + 0)
  const point = fc.tuple(coordinate, coordinate, coordinate).map((p): Point => p)
  const change = fc.record({
    at: fc.tuple(anyNumber(-50, 50), anyNumber(-50, 50), anyNumber(-50, 50)),
    turn: fc.tuple(anyNumber(-40, 40), anyNumber(-40, 40), anyNumber(-40, 40)),
    core: fc.record({ depth: anyNumber(50, 150), width: anyNumber(100, 400), height: anyNumber(50, 150) }),
  })
  let moved = 0
  fc.assert(
    fc.property(fc.array(point, { minLength: 1, maxLength: 5 }), change, (path, there) => {
      const before = candidate([pipe(path)])
      const after = follow(before, there)
      const { at, turn, core } = before
      const back = followPorts(bayOf(after), after, { ...after, at, turn, core })
      if (dot(sub(pathOf(after)[path.length - 1], path[path.length - 1]), [1, 1, 1]) !== 0) moved++
      // Rounded to 1e-6 mm on the way, at up to some hundred mm from the port.
      for (const [i, p] of pathOf(back).entries()) expect(length(sub(p, path[i]))).toBeLessThan(5e-6)
    }),
    { seed: 502, numRuns: 300 },
  )
  expect(moved).toBeGreaterThan(250)
})
