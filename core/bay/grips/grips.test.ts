import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { box } from '../../shape/box.ts'
import type { Shape } from '../../shape/registry.ts'
import { add, along, cross, distance, dot, length, scale, sub, turned, turnMatrix, type Vec3 } from '../../shape/vec.ts'
import { emptyBay } from '../emptyBay.ts'
import { checkBay } from '../read.ts'
import type { Candidate, KeepOut } from '../schema.ts'
import { faceSides } from './boxGrips.ts'
import { candidateGrips } from './candidateGrips.ts'
import type { Grip, Place, Slide, Turn } from './grip.ts'
import { shapeGrips } from './shapeGrips.ts'

const seed = { seed: 20260, numRuns: 200 }
const number = (least: number, most: number) => fc.double({ min: least, max: most, noNaN: true })
const point = fc.tuple(number(-900, 900), number(-900, 900), number(-900, 900))
const turns = fc.tuple(number(-80, 80), number(-80, 80), number(-80, 80))
const sizes = fc.tuple(number(5, 700), number(5, 700), number(5, 700))

const candidate = (at: Vec3, turn: Vec3, [depth, width, height]: Vec3): Candidate => ({
  id: 'one',
  name: 'One',
  at: [...at],
  turn: [...turn],
  core: { depth, width, height },
  tanks: { left: { length: 70, front: 0, rear: 10, below: 0, above: 0 } },
})
const boundsOf = { min: [-10, -20, -30] as Vec3, max: [30, 20, 10] as Vec3 }
const slideOf = <T>(grips: readonly Grip<T>[], id: string) => grips.find((grip) => grip.id === id) as Slide<T>

/** Where a face of a core is, told apart from the code under test: middle plus half a size along the turned axis. */
function faceMiddle({ at, turn, core }: Candidate, face: keyof typeof faceSides): Vec3 {
  const [axis, side] = faceSides[face]
  const size = [core.depth, core.width, core.height][axis]
  const normal = [0, 1, 2].map((k) => (k === axis ? side : 0)) as unknown as Vec3
  return along(at, turned(turnMatrix(turn), normal), size / 2)
}
const opposite = { front: 'rear', rear: 'front', left: 'right', right: 'left', below: 'above', above: 'below' } as const

describe('a candidate in the hand', () => {
  test('a face that is pulled takes its size along and leaves the opposite one where it was (seed 20260)', () => {
    fc.assert(
      fc.property(point, turns, sizes, number(2, 700), (at, turn, size, value) => {
        const before = candidate(at, turn, size)
        for (const face of Object.keys(opposite) as (keyof typeof opposite)[]) {
          const after = slideOf(candidateGrips(before), `face-${face}`).put(value)
          const pulled = sub(faceMiddle(after, face), faceMiddle(before, face))
          const { way, value: old } = slideOf(candidateGrips(before), `face-${face}`)
          expect(distance(faceMiddle(after, opposite[face]), faceMiddle(before, opposite[face]))).toBeLessThan(1e-8)
          expect(distance(pulled, scale(way, value - old))).toBeLessThan(1e-8)
        }
      }),
      seed,
    )
  })

  test('a turn sets its own angle, and a small one carries its grip the right-handed way about its axis', () => {
    fc.assert(
      fc.property(point, turns, sizes, (at, turn, size) => {
        const before = candidate(at, turn, size)
        for (const grip of candidateGrips(before).filter((g): g is Turn<Candidate> => g.kind === 'turn')) {
          const little = 1e-4
          const after = candidateGrips(grip.put(grip.value + little)).find(
            ({ id }) => id === grip.id,
          ) as Turn<Candidate>
          const went = scale(sub(after.at, grip.at), 180 / Math.PI / little)
          const wanted = cross(grip.axis, sub(grip.at, grip.centre))
          // First order: the rest is a radian's square, 3e-12 of a metre at most, over the little.
          expect(distance(went, wanted)).toBeLessThan(1e-2)
          expect(after.value).toBeCloseTo(grip.value + little, 8)
        }
      }),
      seed,
    )
  })

  test('moved along an axis only that coordinate changes, and all that was not touched stays the very same', () => {
    const before = candidate([-70, 3, 190], [0, 12, 0], [90, 540, 260])
    const after = slideOf(candidateGrips(before), 'along-y').put(15.5)
    expect(after).toEqual({ ...before, at: [-70, 15.5, 190] })
    expect(after.core).toBe(before.core)
  })

  test('a tank gets longer outwards; a candidate without one has nothing to pull there', () => {
    const before = candidate([0, 0, 0], [0, 0, 0], [90, 540, 260])
    const grip = slideOf(candidateGrips(before), 'tank-left')
    expect(grip.at).toEqual([5, -340, 0])
    expect(grip.way).toEqual([0, -1, 0])
    expect(grip.put(81).tanks?.left?.length).toBe(81)
    expect(candidateGrips(before).some(({ id }) => id === 'tank-right')).toBe(false)
  })
})

const shapes: readonly Shape[] = [
  { kind: 'box', at: [1, 2, 3], size: [10, 20, 30], turn: [0, 10, 20] },
  { kind: 'cylinder', from: [0, 0, 0], to: [0, 100, 10], radius: 20 },
  {
    kind: 'hull',
    points: [
      [0, 0, 0],
      [10, 0, 0],
      [0, 10, 0],
      [0, 0, 10],
    ],
  },
  { kind: 'halfSpace', point: [0, 0, -60], normal: [0, 0, 2] },
  {
    kind: 'sweep',
    section: [
      [-5, -5],
      [5, -5],
      [5, 5],
    ],
    path: [
      [0, 0, 7],
      [100, 0, 7],
      [200, 60, 7],
    ],
    up: [0, 0, 1],
  },
  {
    kind: 'tube',
    path: [
      [0, 0, 0],
      [100, 0, 0],
      [200, 60, 0],
    ],
    radius: 8,
    bendRadius: 20,
  },
  { kind: 'mesh', file: 'cover.stl', unit: 'mm' },
]

const asKeepOut = (shape: Shape): KeepOut => ({ id: 'it', name: 'It', role: 'body', shape })
const isGood = (shape: Shape) => checkBay({ ...emptyBay('Grips', 'here', '', 'mm'), keepOuts: [asKeepOut(shape)] }).ok

describe('a keep-out in the hand', () => {
  test.each(shapes)('$kind: each grip has a name of its own, keeps what it has and takes a little more', (shape) => {
    const grips = shapeGrips(shape, boundsOf)
    expect(grips.length).toBeGreaterThan(0)
    expect(new Set(grips.map(({ id }) => id)).size).toBe(grips.length)
    for (const grip of grips) {
      if (grip.off) expect(length(grip.off)).toBeCloseTo(1, 9)
      const same = grip.kind === 'place' ? grip.put(grip.value) : grip.put(grip.value)
      const again = shapeGrips(same, boundsOf).find(({ id }) => id === grip.id)
      expect(again?.value).toEqual(grip.value)
      const changed = grip.kind === 'place' ? grip.put(add(grip.value, [1, 2, 0])) : grip.put(grip.value + 1)
      expect(isGood(changed)).toBe(true)
      expect(changed).not.toEqual(same)
    }
  })

  test.each(shapes.filter(({ kind }) => kind !== 'halfSpace'))(
    '$kind: moved as a whole nothing of it is bent',
    (shape) => {
      const grip = shapeGrips(shape, boundsOf).find(({ id }) => id === 'place') as Place<Shape>
      const there = grip.put(add(grip.value, [5, -6, 7]))
      const back = shapeGrips(there)
      const again = (back.find(({ id }) => id === 'place') as Place<Shape>).put(grip.value)
      expect({ ...again, ...(shape.kind === 'mesh' && { at: undefined }) }).toEqual({
        ...shape,
        ...(shape.kind === 'mesh' && { at: undefined }),
      })
    },
  )

  test('a sweep stays in its plane however its points are pulled', () => {
    const shape = shapes[4]
    const grip = shapeGrips(shape, boundsOf).find(({ id }) => id === 'point-1') as Place<Shape>
    expect(grip.put([90, 20, 400])).toMatchObject({
      path: [
        [0, 0, 7],
        [90, 20, 7],
        [200, 60, 7],
      ],
    })
  })

  test('a half-space goes along its normal, however long that is', () => {
    const [grip] = shapeGrips(shapes[3], boundsOf) as Slide<Shape>[]
    expect(grip.value).toBe(-60)
    expect(grip.put(-50)).toMatchObject({ point: [0, 0, -50] })
  })

  test('the six faces of a box keep-out are those of its solid', () => {
    const shape = shapes[0] as Extract<Shape, { kind: 'box' }>
    const made = box.solid(shape)
    const [form] = made.ok ? made.value : []
    if (form?.form !== 'convex' || form.body.kind !== 'polytope') throw new Error('a box is a polytope')
    const { vertices } = form.body
    const corners = Array.from(
      { length: vertices.length / 3 },
      (_, i) => [...vertices.slice(3 * i, 3 * i + 3)] as unknown as Vec3,
    )
    for (const grip of shapeGrips(shape, boundsOf)) {
      if (grip.what.kind !== 'face' || grip.kind !== 'slide') continue
      const farthest = Math.max(...corners.map((corner) => dot(corner, grip.way)))
      expect(farthest).toBeCloseTo(dot(grip.at, grip.way), 9)
    }
  })

  test('a hull of very many points is moved as a whole only', () => {
    const points = Array.from({ length: 81 }, (_, i): [number, number, number] => [i, i * i, i ** 3])
    expect(shapeGrips({ kind: 'hull', points }, boundsOf).map(({ group }) => group)).not.toContain('points')
  })
})
