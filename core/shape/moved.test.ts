import { expect, test } from 'vitest'
import { cubeMesh } from '../../test/kit/tinyBay.ts'
import type { Form } from './form.ts'
import { measureForm } from './measure.ts'
import { movedSolid } from './moved.ts'
import { boxPolytope } from './polytope.ts'
import { solidFrom } from './solid.ts'
import { dot, identity, placed, placedBack, sub, turned, turnMatrix, type Vec3 } from './vec.ts'

const pose = { turn: turnMatrix([10, -25, 130]), at: [300, -40, 70] as Vec3 }
const box = boxPolytope([1, 2, 3], [40, 60, 80], turnMatrix([5, 6, 7]))
if (!box.ok) throw new Error('a box')
const forms: readonly Form[] = [
  { form: 'convex', body: box.value },
  { form: 'convex', body: { kind: 'cylinder', from: [0, 0, 0], to: [10, 20, 30], radius: 7 } },
  {
    form: 'round',
    radius: 5,
    centreline: [
      { kind: 'straight', from: [0, 0, 0], to: [0, 50, 0] },
      { kind: 'arc', centre: [20, 50, 0], x: [-1, 0, 0], y: [0, 1, 0], radius: 20, angle: 1.2 },
    ],
  },
  { form: 'mesh', mesh: cubeMesh([-5, -5, -5], 10), pose: { turn: identity, at: [1, 2, 3] } },
]

test.each(forms.map((form) => [form.form, form] as const))('%s: volume, surface and middle go along', (_, form) => {
  const [before, after] = [measureForm(form), measureForm(movedSolid(solidFrom([form]), pose).forms[0])]
  if (!before || !after) throw new Error('each has a volume')
  expect(after.volume).toBeCloseTo(before.volume, 6)
  expect(after.area).toBeCloseTo(before.area, 6)
  placed(pose, before.centroid).forEach((x, k) => {
    expect(after.centroid[k]).toBeCloseTo(x, 8)
  })
})

test('a half-space keeps the points that it holds', () => {
  const point: Vec3 = [3, 4, 5]
  const normal = turned(turnMatrix([30, 40, 50]), [0, 0, 1])
  const [after] = movedSolid(solidFrom([{ form: 'halfSpace', point, normal }]), pose).forms
  if (after.form !== 'halfSpace') throw new Error('it stays one')
  for (const p of [
    [0, 0, 0],
    [100, 200, -50],
    [-7, 30, 90],
  ] as Vec3[]) {
    const depth = dot(normal, sub(point, p))
    expect(dot(after.normal, sub(after.point, placed(pose, p)))).toBeCloseTo(depth, 8)
  }
})

test('planes of a polytope err outward afterwards too, and moving back gives the same again', () => {
  const [form] = forms
  const there = movedSolid(solidFrom([form]), pose)
  const [moved] = there.forms
  if (moved.form !== 'convex' || moved.body.kind !== 'polytope') throw new Error('it stays one')
  const { vertices, planes, faces } = moved.body
  for (let f = 0; f < faces.length; f++)
    for (let i = 0; i < vertices.length; i += 3) {
      const n: Vec3 = [planes[4 * f], planes[4 * f + 1], planes[4 * f + 2]]
      expect(dot(n, [vertices[i], vertices[i + 1], vertices[i + 2]])).toBeLessThanOrEqual(planes[4 * f + 3])
    }
  const back = { turn: turnMatrix([0, 0, 0]), at: [0, 0, 0] as Vec3 }
  const own = Array.from({ length: vertices.length / 3 }, (_, i) =>
    placedBack(pose, [vertices[3 * i], vertices[3 * i + 1], vertices[3 * i + 2]]),
  ).flat()
  if (!box.ok) throw new Error('a box')
  own.forEach((x, i) => {
    expect(x).toBeCloseTo(box.value.vertices[i], 9)
  })
  expect(movedSolid(there, back).bounds).toEqual(there.bounds)
})
