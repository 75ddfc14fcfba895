import { expect, test } from 'vitest'
import { anyBody, boxBody, movedBody, outsideBy, polytope } from '../../test/kit/bodies.ts'
import { seeded } from '../../test/kit/random.ts'
import { cubeMesh } from '../../test/kit/tinyBay.ts'
import { hullPolytope } from '../shape/hull.ts'
import { identity, scale, turnMatrix, type Vec3 } from '../shape/vec.ts'
import { deepestOfBody } from './bodyInMesh.ts'
import { meshTree } from './meshTree.ts'

// About the origin: the tree's frame is the mesh's own.
const cube = meshTree(cubeMesh([-50, -50, -50], 100))
const inCube = (p: Vec3): number => 50 - Math.max(...p.map(Math.abs))

test('400 bodies in, across and beside a cube: a point of the body, as deep as told (seed 3201)', () => {
  const random = seeded(3201)
  let deep = 0
  for (let i = 0; i < 400; i++) {
    const body = movedBody(anyBody(random, 40), { turn: random.turn(), at: random.point(90) })
    const { depth, at } = deepestOfBody(body, cube)
    if (depth === 0) continue
    deep++
    expect(outsideBy(body, at)).toBeLessThan(1e-9)
    expect(Math.abs(inCube(at) - depth)).toBeLessThan(1e-8)
  }
  expect(deep).toBeGreaterThan(120)
  expect(deep).toBeLessThan(340)
})

test.each<[string, Parameters<typeof deepestOfBody>[0], number]>([
  ['wholly inside', boxBody(5, 5, 5), 50],
  ['with a corner', movedBody(boxBody(20, 20, 20), { turn: identity, at: [60, 60, 60] }), 10],
  ['with the middle of a face', movedBody(boxBody(80, 80, 10), { turn: identity, at: [0, 0, 55] }), 5],
  // Its end's rim reaches 100 − 60 along X; the middle of the end stays out.
  ['with the rim of a cylinder', { kind: 'cylinder', from: [100, 0, 10], to: [100, 0, 200], radius: 60 }, 10],
])('%s: %s mm deep', (_, body, depth) => {
  expect(deepestOfBody(body, cube).depth).toBeCloseTo(depth, 6)
})

test('of 1,000 corners some are looked at, spread over the body', () => {
  const random = seeded(3202)
  const ball = hullPolytope(Array.from({ length: 1000 }, () => scale(random.unit(), 60)))
  if (!ball.ok) throw new Error('no hull')
  const turn = turnMatrix([10, 20, 30])
  // 30 mm of it reach in; points half way to the middle are 12 mm apart or so.
  const found = deepestOfBody(movedBody(ball.value, { turn, at: [80, 0, 0] }), cube)
  expect(found.depth).toBeGreaterThan(10)
  expect(found.depth).toBeLessThan(30.1)
})

test('an open mesh has nothing in it, and a body beside a closed one neither', () => {
  expect(deepestOfBody(boxBody(5, 5, 5), meshTree(cubeMesh([-50, -50, -50], 100, false))).depth).toBe(0)
  const triangle: Vec3[] = [
    [60, 0, 0],
    [70, 0, 0],
    [60, 10, 0],
    [60, 0, 10],
  ]
  const body = polytope(triangle, [
    [0, 1, 2],
    [0, 1, 3],
    [0, 2, 3],
    [1, 2, 3],
  ])
  expect(deepestOfBody(body, cube).depth).toBe(0)
})
