import { describe, expect, it } from 'vitest'
import { type Random, seeded } from '../../../test/kit/random.ts'
import { type Corners, soup } from '../../../test/kit/triangleSoups.ts'
import { meshTree } from '../../clearance/meshTree.ts'
import { along, cross, distance, dot, mix, scale, sub, type Vec3 } from '../../shape/vec.ts'
import { onMeshSize, segmentToMesh } from './distanceMesh.ts'
import { pointToMesh } from './distanceMeshPoint.ts'

/** Triangles anywhere, slivers among them. */
const scattered = (random: Random, count: number): Corners[] =>
  Array.from({ length: count }, (): Corners => {
    const at = random.point(100)
    const thin = random.chance(0.3) ? 0.01 : 1
    const a = scale(random.unit(), random.real(2, 25))
    const b = scale(random.unit(), random.real(2, 25) * thin)
    return [at, along(at, a, 1), along(at, b, 1)]
  })

const toEdge = (p: Vec3, a: Vec3, b: Vec3): number => {
  const e = sub(b, a)
  return distance(p, along(a, e, Math.min(1, Math.max(0, dot(sub(p, a), e) / dot(e, e)))))
}
/** Shares of the corners by areas; where one is negative the edges have it. */
function toTriangle(p: Vec3, [a, b, c]: Corners): number {
  const n = cross(sub(b, a), sub(c, a))
  const nn = dot(n, n)
  const shares = [
    [b, c],
    [c, a],
    [a, b],
  ].map(([u, v]) => dot(cross(sub(v, u), sub(p, u)), n) / nn)
  if (shares.every((s) => s >= 0)) return Math.abs(dot(sub(p, a), n)) / Math.sqrt(nn)
  return Math.min(toEdge(p, a, b), toEdge(p, b, c), toEdge(p, c, a))
}

describe('points and segments against a mesh', () => {
  const random = seeded(31)
  const triangles = scattered(random, 200)
  const tree = meshTree(soup(triangles))
  const inTree = (p: Vec3): Vec3 => sub(p, tree.centre)
  const plain = (p: Vec3): number => Math.min(...triangles.map((t) => toTriangle(p, t)))
  const out = new Float64Array(onMeshSize)

  it('a point is as far as from the nearest of all triangles, with its place: 400 points, seed 31', () => {
    for (let k = 0; k < 400; k++) {
      const p = random.point(k % 2 ? 200 : 100)
      const [x, y, z] = inTree(p)
      const d = pointToMesh(tree, x, y, z, Infinity, out)
      expect(d).toBeCloseTo(plain(p), 9)
      expect(Math.hypot(x - out[1], y - out[2], z - out[3])).toBeCloseTo(d, 9)
      expect(pointToMesh(tree, x, y, z, d * 0.99, out)).toBe(d * 0.99)
      expect(pointToMesh(tree, x, y, z, d * 1.01, out)).toBe(d)
      expect(segmentToMesh(tree, x, y, z, x, y, z, Infinity, out)).toBeCloseTo(d, 9)
    }
  })

  it('a segment is as far as its nearest point, and 0 where it goes through: 200 segments', () => {
    let through = 0
    for (let k = 0; k < 200; k++) {
      const a = random.point(130)
      const [p, q, r] = random.pick(triangles)
      // Every other one is aimed at a triangle and goes 5 mm beyond.
      const aim = sub(mix(mix(p, q, 0.5), r, 0.3), a)
      const b = k % 2 ? along(a, aim, 1 + 5 / Math.hypot(...aim)) : along(a, random.unit(), random.real(1, 45))
      const d = segmentToMesh(tree, ...inTree(a), ...inTree(b), Infinity, out)
      const points = Array.from({ length: 101 }, (_, i) => plain(mix(a, b, i / 100)))
      const least = Math.min(...points)
      expect(d).toBeLessThanOrEqual(least + 1e-9)
      // Distance changes no faster than one moves.
      expect(d).toBeGreaterThanOrEqual(least - distance(a, b) / 200 - 1e-9)
      if (d === 0) through++
      else expect(plain(mix(a, b, out[0]))).toBeCloseTo(d, 7)
    }
    expect(through).toBeGreaterThan(10)
    expect(through).toBeLessThan(150)
  })
})
