import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { anyDirection, anyNumber, anyPoint, type Triple } from '../../test/kit/anyShape.ts'
import { everySolid } from '../../test/kit/everySolid.ts'
import { solidOf } from './solid.ts'
import { add, dot, scale, unit, type Vec3 } from './vec.ts'

const hose = {
  kind: 'tube',
  path: [
    [0, 0, 0],
    [200, 0, 0],
    [200, 200, 0],
  ],
  radius: 12,
  bendRadius: 30,
}

/** Paths whose straights hold their bends: turns of up to 120° at radius 60 need 104 mm on either side. */
const anyTube = fc
  .record({
    start: anyPoint,
    legs: fc.array(fc.tuple(anyDirection, anyNumber(210, 500)), { minLength: 1, maxLength: 6 }),
    radius: anyNumber(2, 30),
    ratio: anyNumber(1, 2),
  })
  .map(({ start, legs, radius, ratio }) => {
    const path: Vec3[] = [start]
    let before: Vec3 | null = null
    for (const [way, long] of legs) {
      const towards: Vec3 = unit(way)
      const direction: Vec3 = before && dot(before, towards) < -0.5 ? scale(towards, -1) : towards
      path.push(add(path[path.length - 1], scale(direction, long)))
      before = direction
    }
    return { kind: 'tube' as const, path: path as Triple[], radius, bendRadius: radius * ratio }
  })

everySolid({
  kind: 'tube',
  seed: 4106,
  any: anyTube,
  broken: [
    { name: 'a radius of zero', shape: { ...hose, radius: 0 }, fault: 'schema' },
    { name: 'a path of one point', shape: { ...hose, path: [[0, 0, 0]] }, fault: 'schema' },
    {
      name: 'a bend radius below the radius',
      shape: { ...hose, bendRadius: 11 },
      fault: ['bend-too-tight', 'shape.bendRadius'],
    },
    {
      name: 'a repeated point',
      shape: {
        ...hose,
        path: [
          [0, 0, 0],
          [200, 0, 0],
          [200, 0, 0],
        ],
      },
      fault: ['repeated-point', 'shape.path[2]'],
    },
    {
      name: 'a path that turns back',
      shape: {
        ...hose,
        path: [
          [0, 0, 0],
          [200, 0, 0],
          [100, 0, 0],
        ],
      },
      fault: ['turns-back', 'shape.path[1]'],
    },
    {
      name: 'a straight that cannot hold its bend',
      shape: {
        ...hose,
        path: [
          [0, 0, 0],
          [200, 0, 0],
          [200, 29, 0],
        ],
      },
      fault: ['straight-too-short', 'shape.path[1]'],
    },
    {
      name: 'a straight that cannot hold two bends',
      shape: {
        ...hose,
        path: [
          [0, 0, 0],
          [200, 0, 0],
          [200, 59, 0],
          [0, 59, 0],
        ],
      },
      fault: ['straight-too-short', 'shape.path[2]'],
    },
    {
      name: 'a radius below what coordinates resolve',
      shape: { ...hose, radius: 1e-9 },
      fault: ['too-small', 'shape.radius'],
    },
  ],
})

describe('tube', () => {
  it('should have metal between 63.5 and 127.0 from the axis of a bend (checks A4.13: CLR 95.25, OD 63.5)', () => {
    const made = solidOf(
      {
        kind: 'tube',
        path: [
          [-300, 0, 0],
          [0, 0, 0],
          [0, 300, 0],
        ],
        radius: 31.75,
        bendRadius: 95.25,
      },
      { meshes: new Map() },
    )
    if (!made.ok) throw new Error('no solid')
    const [form] = made.value.forms
    if (form.form !== 'round') throw new Error('not round')
    const arc = form.centreline[1]
    if (arc.kind !== 'arc') throw new Error('no arc')
    expect([arc.radius + form.radius, arc.radius - form.radius]).toEqual([127, 63.5])
    ;[-95.25, 95.25, 0].forEach((x, k) => {
      expect(arc.centre[k]).toBeCloseTo(x, 12)
    })
    // Ends are flat: the tube starts at −300 and reaches 31.75 to the side.
    expect(made.value.bounds.min[0]).toBeCloseTo(-300, 9)
    expect(made.value.bounds.min[1]).toBeCloseTo(-31.75, 9)
  })

  it('should leave a straight path one straight, whatever the points on it', () => {
    const made = solidOf(
      {
        kind: 'tube',
        path: [
          [0, 0, 0],
          [10, 20, 30],
          [11, 22, 33],
          [50, 100, 150],
        ],
        radius: 5,
        bendRadius: 40,
      },
      { meshes: new Map() },
    )
    expect(made).toMatchObject({
      ok: true,
      value: { forms: [{ centreline: [{ kind: 'straight', from: [0, 0, 0], to: [50, 100, 150] }] }] },
    })
  })
})
