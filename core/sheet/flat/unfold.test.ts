import { expect, test } from 'vitest'
import { boxBody, frustum, tankBody } from '../../../test/kit/bodies.ts'
import { seeded } from '../../../test/kit/random.ts'
import type { Polytope } from '../../shape/form.ts'
import { measureForm } from '../../shape/measure.ts'
import { vertexAt } from '../../shape/polytope.ts'
import { distance } from '../../shape/vec.ts'
import { areaOf, unionOf } from '../drawing/region.ts'
import { type Net, unfold } from './unfold.ts'

const long = (a: readonly number[], b: readonly number[]) => Math.hypot(a[0] - b[0], a[1] - b[1])
const areaOfNet = ({ faces }: Net) => faces.reduce((sum, { corners }) => sum + areaOf([corners]), 0)
const covered = ({ faces }: Net) => areaOf(unionOf(faces.map(({ corners }) => corners)))

function foldsUp(body: Polytope, net: Net): void {
  for (const { face, corners } of net.faces) {
    const loop = body.faces[face]
    // True size: every distance within a face is the body's.
    for (let i = 0; i < loop.length; i++)
      for (let j = 0; j < i; j++)
        expect(long(corners[i], corners[j])).toBeCloseTo(distance(vertexAt(body, loop[i]), vertexAt(body, loop[j])), 9)
    expect(areaOf([corners])).toBeGreaterThan(0)
  }
}

test('a box 300 × 76 × 80: six faces in true size that do not overlap, square folds, fourteen cut edges', () => {
  const body = boxBody(150, 38, 40)
  const net = unfold(body, 0)
  foldsUp(body, net)
  expect(areaOfNet(net)).toBeCloseTo(2 * (300 * 76 + 76 * 80 + 300 * 80), 6)
  // Places are rounded to 10⁻⁵ mm along some 1,500 mm of rim.
  expect(Math.abs(covered(net) - areaOfNet(net))).toBeLessThan(0.02)
  expect(net.hinges.map(({ fold }) => fold)).toEqual([90, 90, 90, 90, 90].map((x) => expect.closeTo(x, 9)))
  expect(net.seams).toHaveLength(14)
})

test('the tank of check A6.1 and the frustum of A6.2: without their foot, areas by hand', () => {
  // A6.1: 300 × 76 → 60 × 60, 80 high; a prismatoid, V = 1,004,800 mm³ (prismoidal formula, handbook).
  const tank = frustum(rect(150, 38, 0), rect(30, 30, 80))
  expect(measureForm({ form: 'convex', body: tank })?.volume).toBeCloseTo(1_004_800, 4)
  const end = farFace(tank)
  const foot = tank.faces.findIndex((_, f) => tank.planes[4 * f + 2] < -0.99)
  const net = unfold(tank, end, [foot])
  foldsUp(tank, net)
  const slant = (out: number) => Math.hypot(80, out)
  const sides = 2 * (((300 + 60) / 2) * slant(38 - 30) + ((76 + 60) / 2) * slant(150 - 30))
  expect(areaOfNet(net)).toBeCloseTo(60 * 60 + sides, 6)
  // Places are rounded to 10⁻⁵ mm along some 1,500 mm of rim.
  expect(Math.abs(covered(net) - areaOfNet(net))).toBeLessThan(0.02)
  expect(net.hinges).toHaveLength(4)
  // Eight edges up the corners are cut, and four at the foot, beyond which nothing is.
  expect(net.seams.filter(({ other }) => other === null)).toHaveLength(4)
  expect(net.seams).toHaveLength(12)
  // A6.2: square frustum 4 and 2, 6 high, V = 56 (Moscow Mathematical Papyrus, problem 14).
  const small = frustum(rect(2, 2, 0), rect(1, 1, 6))
  expect(measureForm({ form: 'convex', body: small })?.volume).toBeCloseTo(56, 9)
  expect(areaOfNet(unfold(small, farFace(small)))).toBeCloseTo(16 + 4 + 4 * 3 * Math.hypot(6, 1), 9)
})

test('any tank folds up again: cut edges of two faces are equally long, folds are those of the body (seed 12)', () => {
  const random = seeded(12)
  for (let round = 0; round < 60; round++) {
    const body = tankBody(
      random.real(10, 60),
      random.real(10, 200),
      random.real(10, 80),
      random.real(0.3, 1),
      random.real(0.3, 1),
    )
    const net = unfold(body, random.int(6))
    foldsUp(body, net)
    expect(areaOfNet(net)).toBeCloseTo(measureForm({ form: 'convex', body })?.area ?? Number.NaN, 5)
    const twice = new Map<string, number[]>()
    for (const { from, to, face, other } of net.seams) {
      const name = [face, other].sort().join()
      twice.set(name, [...(twice.get(name) ?? []), long(from, to)])
    }
    for (const [one, another, ...more] of twice.values()) {
      expect(more).toEqual([])
      expect(one).toBeCloseTo(another, 9)
    }
    expect(net.hinges).toHaveLength(5)
  }
})

const rect = (x: number, y: number, z: number) =>
  [
    [-x, -y, z],
    [x, -y, z],
    [x, y, z],
    [-x, y, z],
  ] as [number, number, number][]
const farFace = (body: Polytope) => body.faces.findIndex((_, f) => body.planes[4 * f + 2] > 0.99)
