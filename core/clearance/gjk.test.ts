import { describe, expect, it } from 'vitest'
import type { Vec3 } from '../shape/vec.ts'
import { convexDistance } from './gjk.ts'
import { emptyNearest, type Nearest } from './nearest.ts'
import { type ConvexSet, emptySet, setSegment, setTriangle } from './support.ts'

const segment = (p: Vec3, q: Vec3): ConvexSet => setSegment(emptySet(), p[0], p[1], p[2], q[0], q[1], q[2])
const triangle = (...corners: Vec3[]): ConvexSet => setTriangle(emptySet(), corners.flat())
function nearest(a: ConvexSet, b: ConvexSet): Nearest {
  const out = emptyNearest()
  convexDistance(a, b, Infinity, out)
  return out
}

describe('segment to segment (checks A1)', () => {
  // A1.1–A1.5 derived from the definition; A1.6–A1.8 textbook classics, from memory, arithmetic recomputed.
  const rows: [string, Vec3, Vec3, Vec3, Vec3, number][] = [
    ['A1.1 interior–interior', [0, 0, 0], [10, 0, 0], [5, -5, 3], [5, 5, 3], 3],
    ['A1.2 parallel, no overlap', [0, 0, 0], [10, 0, 0], [13, 4, 0], [20, 4, 0], 5],
    ['A1.3 parallel, overlapping', [0, 0, 0], [10, 0, 0], [5, 0, 7], [20, 0, 7], 7],
    ['A1.4 endpoint–interior', [0, 0, 0], [10, 0, 0], [4, 3, 4], [4, 9, 12], 5],
    ['A1.5 general skew', [1, 2, 3], [4, 6, 8], [0, 5, 1], [7, 1, 9], 61 / Math.sqrt(4425)],
    ['A1.6 cube diagonal to skew edge', [0, 0, 0], [1, 1, 1], [1, 0, 0], [1, 0, 1], Math.SQRT1_2],
    ['A1.7 diagonals of adjacent faces', [0, 0, 0], [1, 1, 0], [1, 0, 0], [1, 1, 1], 1 / Math.sqrt(3)],
    ['A1.8 space and face diagonal', [0, 0, 0], [1, 1, 1], [1, 0, 0], [0, 1, 0], 1 / Math.sqrt(6)],
  ]
  it.each(rows)('%s', (_name, p0, p1, q0, q1, expected) => {
    const got = nearest(segment(p0, p1), segment(q0, q1))
    expect(Math.abs(got.atMost - expected)).toBeLessThan(1e-12)
    expect(got.atLeast).toBeLessThanOrEqual(expected)
    expect(got.atMost - got.atLeast).toBeLessThan(2e-9)
  })

  // Near-parallel set: D. Eberly, Robust Computation of Distance Between Line Segments (Geometric Tools, 2015), samples as
  // quoted by public test programs; results recomputed with 50 digits.
  it('A1.E1 nearly parallel, crossing: 0 within 2e-9', () => {
    const got = nearest(
      segment([-1.0264718499965966, 9.6163341007195407e-7, 0], [0.91950808032415809, -1.0094441192690283e-6, 0]),
      segment([-1.062944738380611, 9.2709540082141753e-7, 0], [1.0811583868227901, -1.0670017179567367e-6, 0]),
    )
    expect(got.atLeast).toBe(0)
    expect(got.atMost).toBeLessThan(2e-9)
  })
  it('A1.E2 nearly parallel, 1.157e-7 apart', () => {
    const got = nearest(
      segment([-1.0896217473782599, 9.7236145595088601e-7, 0], [0.91220578597858548, -9.4369829432107506e-7, 0]),
      segment([-0.90010447502136237, 9.0671446351334441e-7, 0], [1.073087717872113, -9.818578763399274e-7, 0]),
    )
    expect(Math.abs(got.atMost - 1.1575046138574e-7)).toBeLessThan(1e-9)
    expect(got.atLeast).toBeLessThanOrEqual(1.1575046138574e-7)
  })
  it('A1.E3 well apart', () => {
    const got = nearest(
      segment(
        [0.77998990099877119, 0.61192502360790968, -0.22703111823648214],
        [0.53215344529598951, 0.85724585503339767, -0.10102437809109688],
      ),
      segment(
        [-0.21277333982288837, 0.35091548087075353, -0.49557160679250956],
        [0.11881479667499661, 0.022494725417345762, -0.66426620958372951],
      ),
    )
    expect(Math.abs(got.atMost - 0.982923971164887)).toBeLessThan(1e-12)
  })
})

describe('point to triangle, one point per region (checks A2)', () => {
  // Regions: C. Ericson, Real-Time Collision Detection, 5.1.5, from memory; numbers derived, exact.
  const rows: [string, Vec3, number][] = [
    ['A2.1 face', [1, 1, 5], 5],
    ['A2.2 vertex 1', [-1, -1, 2], Math.sqrt(6)],
    ['A2.3 edge 1–2', [2, -3, 4], 5],
    ['A2.4 vertex 2', [6, -1, 0], Math.sqrt(5)],
    ['A2.5 hypotenuse', [4, 3, 0], 2.4],
    ['A2.6 hypotenuse, off plane', [4, 3, 12], Math.sqrt(149.76)],
    ['A2.7 edge 1–3', [-3, 1, 4], 5],
    ['A2.8 vertex 3', [-2, 5, 0], 2 * Math.SQRT2],
  ]
  it.each(rows)('%s', (_name, point, expected) => {
    const got = nearest(segment(point, point), triangle([0, 0, 0], [4, 0, 0], [0, 3, 0]))
    expect(Math.abs(got.atMost - expected)).toBeLessThan(1e-12)
    expect(got.atLeast).toBeLessThanOrEqual(expected)
    expect(got.stopped).toBe('converged')
  })
})

describe('convex polygons (checks A5)', () => {
  // W. Bittle, GJK – Distance & Closest Points (2010), worked example: nearest edge (−4,−1)–(1,3), printed "≈ 1.71" (cut off,
  // not rounded); exact 11/√41. Vertices from memory, they reproduce that edge. The quadrilateral as its two triangles.
  it('A5 worked example: 11/√41', () => {
    const a = triangle([4, 5, 0], [9, 9, 0], [4, 11, 0])
    const halves = [triangle([8, 6, 0], [10, 2, 0], [13, 1, 0]), triangle([8, 6, 0], [13, 1, 0], [15, 6, 0])]
    const gap = Math.min(...halves.map((b) => nearest(a, b).atMost))
    expect(Math.abs(gap - 11 / Math.sqrt(41))).toBeLessThan(1e-12)
  })
})
