import { describe, expect, it } from 'vitest'
import { type Random, seeded } from '../../test/kit/random.ts'
import { toSegment, toTriangle } from '../../test/kit/tubes.ts'
import { add, along, cross, distance, dot, mix, scale, sub, unit, type Vec3 } from '../shape/vec.ts'
import { segmentTriangle, segmentTriangleSize } from './segmentTriangle.ts'

type Triangle = [Vec3, Vec3, Vec3]

function measured(a: Vec3, b: Vec3, t: Triangle, limit = Number.POSITIVE_INFINITY) {
  const out = new Float64Array(segmentTriangleSize)
  const squared = segmentTriangle(...a, ...b, Float64Array.from(t.flat()), limit, out)
  return { gap: Math.sqrt(squared), onSegment: mix(a, b, out[0]), onTriangle: [out[1], out[2], out[3]] as Vec3 }
}

/** Every feature against every feature, nothing clever. */
function plain(a: Vec3, b: Vec3, t: Triangle): number {
  const n = cross(sub(t[1], t[0]), sub(t[2], t[0]))
  const ha = dot(n, sub(a, t[0]))
  const hb = dot(n, sub(b, t[0]))
  let gap = Math.min(toTriangle(a, ...t), toTriangle(b, ...t))
  if (ha * hb <= 0 && ha !== hb) gap = Math.min(gap, toTriangle(mix(a, b, ha / (ha - hb)), ...t))
  for (const [p, q] of [
    [t[0], t[1]],
    [t[1], t[2]],
    [t[2], t[0]],
  ] as const) {
    gap = Math.min(gap, toSegment(p, a, b), toSegment(q, a, b), toSegment(a, p, q), toSegment(b, p, q))
    const m = cross(sub(b, a), sub(q, p))
    const mm = dot(m, m)
    if (mm === 0) continue
    const r = sub(p, a)
    const s = dot(cross(r, sub(q, p)), m) / mm
    const u = dot(cross(r, sub(b, a)), m) / mm
    if (s >= 0 && s <= 1 && u >= 0 && u <= 1) gap = Math.min(gap, distance(mix(a, b, s), mix(p, q, u)))
  }
  return gap
}

const families: Record<string, (r: Random) => [Vec3, Vec3, Triangle]> = {
  any: (r) => [r.point(10), r.point(10), [r.point(10), r.point(10), r.point(10)]],
  'segment as a point': (r) => {
    const p = r.point(10)
    return [p, p, [r.point(10), r.point(10), r.point(10)]]
  },
  'slivers 1e-6 wide': (r) => {
    const [p, q] = [r.point(10), r.point(10)]
    return [r.point(10), r.point(10), [p, q, along(mix(p, q, r.real(0, 1)), r.unit(), 1e-6)]]
  },
  'parallel to an edge within 1e-9': (r) => {
    const [p, q] = [r.point(10), r.point(10)]
    const by = r.point(8)
    const shift = (v: Vec3) => along(add(v, by), r.unit(), 1e-9)
    return [shift(p), shift(q), [p, q, r.point(10)]]
  },
  'in the triangle’s plane': (r) => {
    const t: Triangle = [r.point(10), r.point(10), r.point(10)]
    const in2 = () => add(t[0], add(scale(sub(t[1], t[0]), r.real(-2, 2)), scale(sub(t[2], t[0]), r.real(-2, 2))))
    return [in2(), in2(), t]
  },
  'square to the plane, end 1e-9 over it': (r) => {
    const t: Triangle = [r.point(10), r.point(10), r.point(10)]
    const n = unit(cross(sub(t[1], t[0]), sub(t[2], t[0])))
    const foot = mix(mix(t[0], t[1], r.real(0, 1)), t[2], r.real(0, 1))
    return [along(foot, n, 1e-9), along(foot, n, r.real(1, 10)), t]
  },
}

describe('a segment and a triangle', () => {
  it.each(Object.keys(families))('%s: 3000, seed 91, the same as every feature tried', (name) => {
    const random = seeded(91)
    for (let i = 0; i < 3000; i++) {
      const [a, b, t] = families[name](random)
      const got = measured(a, b, t)
      const expected = plain(a, b, t)
      expect(Math.abs(got.gap - expected)).toBeLessThan(1e-9)
      expect(Math.abs(distance(got.onSegment, got.onTriangle) - got.gap)).toBeLessThan(1e-9)
      // Height up to 35 mm times ε · 35 / 1e-6 on a sliver.
      expect(toTriangle(got.onTriangle, ...t)).toBeLessThan(name.startsWith('slivers') ? 3e-7 : 1e-9)
      const limited = measured(a, b, t, 0.99 * expected)
      if (limited.gap !== Number.POSITIVE_INFINITY) expect(Math.abs(limited.gap - expected)).toBeLessThan(1e-9)
      expect(measured(a, b, t, 1.01 * expected + 1e-9).gap).not.toBe(Number.POSITIVE_INFINITY)
    }
  })

  // Triangle (0,0,0), (4,0,0), (0,3,0); Ericson, Real-Time Collision Detection, 5.1.5, from memory; numbers recomputed.
  const t: Triangle = [
    [0, 0, 0],
    [4, 0, 0],
    [0, 3, 0],
  ]
  const rows: [string, Vec3, number][] = [
    ['A2.1 face', [1, 1, 5], 5],
    ['A2.2 first vertex', [-1, -1, 2], Math.sqrt(6)],
    ['A2.3 first edge', [2, -3, 4], 5],
    ['A2.4 second vertex', [6, -1, 0], Math.sqrt(5)],
    ['A2.5 hypotenuse', [4, 3, 0], 2.4],
    ['A2.6 hypotenuse, off plane', [4, 3, 12], Math.sqrt(149.76)],
    ['A2.7 third edge', [-3, 1, 4], 5],
    ['A2.8 third vertex', [-2, 5, 0], 2 * Math.SQRT2],
  ]
  it.each(rows)('%s', (_name, p, expected) => {
    expect(Math.abs(measured(p, p, t).gap - expected)).toBeLessThan(1e-12)
  })
})
