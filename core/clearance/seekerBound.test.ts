import { expect, test } from 'vitest'
import { anyBody, boxBody, movedBody } from '../../test/kit/bodies.ts'
import { bumpyMesh } from '../../test/kit/meshes.ts'
import { seeded } from '../../test/kit/random.ts'
import type { MeshForm } from '../shape/form.ts'
import { hullPolytope } from '../shape/hull.ts'
import { mirrorY, product, scale } from '../shape/vec.ts'
import { convexDistance } from './gjk.ts'
import { meshTree } from './meshTree.ts'
import { emptyNearest } from './nearest.ts'
import { Seeker } from './seeker.ts'
import { boxBound, triangleBound } from './seekerBound.ts'
import { type ConvexSet, emptySet, setTriangle } from './support.ts'

const mesh = bumpyMesh(4, 4, 1)
const tree = meshTree(mesh)

/** A box as the hull of its eight corners. */
function setBox(box: Float64Array): ConvexSet {
  const points = new Float64Array(24)
  for (let i = 0; i < 8; i++) for (let k = 0; k < 3; k++) points[3 * i + k] = box[k + ((i >> k) & 1 ? 3 : 0)]
  return { ...emptySet(), points, count: 8, reach: Math.max(...box.map(Math.abs)) }
}

test('3,000 bodies in any pose, mirrored too: no bound beyond the distance, before a plane is turned and after (seed 61)', () => {
  const random = seeded(61)
  const near = emptyNearest()
  let [tight, overTwo, turned] = [0, 0, 0]
  for (let i = 0; i < 3000; i++) {
    const turn = random.chance(0.4) ? product(random.turn(), mirrorY) : random.turn()
    const form: MeshForm = { form: 'mesh', mesh, pose: { turn, at: random.point(300) } }
    const half = random.size(0.5, 60)
    const made = random.chance(0.3) ? boxBody(half, random.size(0.5, 60), 5) : anyBody(random, half)
    const body = movedBody(made, { turn: random.turn(), at: random.point(300) })
    const seeker = new Seeker().fill(body, form, tree)
    seeker.readyPlanes()
    const middle = random.point(250)
    const sizes = [random.size(0.01, 90), random.size(0.01, 90), random.size(0.01, 90)]
    const box = Float64Array.from([...middle.map((x, k) => x - sizes[k]), ...middle.map((x, k) => x + sizes[k])])
    const corners = Float64Array.from([random.point(250), random.point(250), random.point(250)].flat())
    for (const [set, bound] of [
      [setBox(box), () => boxBound(seeker, box, 0, Infinity)],
      [setTriangle(emptySet(), corners), () => triangleBound(seeker, corners, Infinity)],
    ] as const) {
      convexDistance(seeker.set, set, Infinity, near)
      const first = bound()
      expect(first).toBeLessThanOrEqual(near.atMost + 1e-9)
      if (near.atMost === 0) continue
      const alone = Math.max(
        ...Array.from({ length: seeker.planeEnd / 4 - 1 }, (_, k) => overPlane(seeker, 4 * k + 4, set)),
      )
      if (first > alone + 1e-6 && first > boxGap(seeker.box, set) + 1e-6) overTwo++
      if (first > 0.999 * near.atMost) tight++
      // Turned to the nearest pair itself, one plane says it all.
      seeker.face(near.bx - near.ax, near.by - near.ay, near.bz - near.az)
      const last = bound()
      expect(last).toBeLessThanOrEqual(near.atMost + 1e-9)
      expect(last).toBeGreaterThanOrEqual(near.atLeast - 1e-6)
      seeker.face(0, 0, 0)
      expect(bound()).toBe(first)
      turned++
    }
  }
  expect(turned).toBeGreaterThan(4000)
  expect(tight / turned).toBeGreaterThan(0.1)
  expect(overTwo / turned).toBeGreaterThan(0.05)
})

const overPlane = ({ planes }: Seeker, i: number, { points, count }: ConvexSet): number =>
  Math.min(
    ...Array.from(
      { length: count },
      (_, k) => planes[i] * points[3 * k] + planes[i + 1] * points[3 * k + 1] + planes[i + 2] * points[3 * k + 2],
    ),
  ) - planes[i + 3]

function boxGap(box: Float64Array, { points, count }: ConvexSet): number {
  return Math.hypot(
    ...[0, 1, 2].map((k) => {
      const along = Array.from({ length: count }, (_, i) => points[3 * i + k])
      return Math.max(Math.min(...along) - box[3 + k], box[k] - Math.max(...along), 0)
    }),
  )
}

test('of a body of 1,996 faces some planes are looked at, and no bound is beyond the distance (300 boxes, seed 62)', () => {
  const random = seeded(62)
  const near = emptyNearest()
  const ball = hullPolytope(Array.from({ length: 1000 }, () => scale(random.unit(), 50)))
  if (!ball.ok) throw new Error('no hull')
  let tight = 0
  for (let i = 0; i < 300; i++) {
    const form: MeshForm = { form: 'mesh', mesh, pose: { turn: random.turn(), at: random.point(100) } }
    const seeker = new Seeker().fill(ball.value, form, tree)
    seeker.readyPlanes()
    expect(seeker.planeEnd / 4 - 1).toBeGreaterThanOrEqual(128)
    expect(seeker.planeEnd / 4 - 1).toBeLessThan(256)
    const middle = random.point(250)
    const size = random.size(0.01, 90)
    const box = Float64Array.from([...middle.map((x) => x - size), ...middle.map((x) => x + size)])
    convexDistance(seeker.set, setBox(box), Infinity, near)
    const bound = boxBound(seeker, box, 0, Infinity)
    expect(bound).toBeLessThanOrEqual(near.atMost + 1e-9)
    if (bound > 0.8 * near.atMost) tight++
  }
  expect(tight).toBeGreaterThan(200)
})

test('a bound beyond what is asked for is enough', () => {
  const body = boxBody(10, 10, 10)
  const form: MeshForm = { form: 'mesh', mesh, pose: { turn: [1, 0, 0, 0, 1, 0, 0, 0, 1], at: [0, 0, 0] } }
  const seeker = new Seeker().fill(body, form, tree)
  seeker.readyPlanes()
  const box = Float64Array.of(30, 25, 0, 40, 35, 5)
  const exact = Math.hypot(20 + tree.centre[0], 15 + tree.centre[1])
  expect(boxBound(seeker, box, 0, Infinity)).toBeCloseTo(exact, 9)
  expect(boxBound(seeker, box, 0, 12)).toBeGreaterThanOrEqual(12)
})
