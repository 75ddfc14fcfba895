import fc from 'fast-check'
import { orient2d } from 'robust-predicates'
import { Vector3 } from 'three'
import { ConvexHull } from 'three/examples/jsm/math/ConvexHull.js'
import { describe, expect, it } from 'vitest'
import { anyNumber, anyPoint, type Triple, tripleOf } from '../../test/kit/anyShape.ts'
import { above, convexHull } from './convexHull.ts'
import { surfaceMeasure } from './measure.ts'
import { resolved } from './polytope.ts'
import { add, type Vec3 } from './vec.ts'

const flat = (points: readonly Vec3[]) => Float64Array.from(points.flat())
const unequal = (points: readonly Vec3[]): Vec3[] => {
  const seen = points.map(([x, y, z]): Vec3 => [resolved(x), resolved(y), resolved(z)])
  return [...new Map(seen.map((p) => [p.join(), p])).values()]
}

/** Scattered, gridded, on a sphere, on a cone's rim, and each of them far from the origin. */
const anyCloud = fc
  .tuple(
    fc.oneof(
      fc.array(tripleOf(anyNumber(-100, 100)), { minLength: 12, maxLength: 60 }),
      fc.array(tripleOf(fc.integer({ min: 0, max: 3 }).map((x) => x + 0)), { minLength: 12, maxLength: 60 }),
      fc
        .array(fc.tuple(anyNumber(0, Math.PI), anyNumber(0, 2 * Math.PI)), { minLength: 12, maxLength: 60 })
        .map((angles) =>
          angles.map(
            ([a, b]): Vec3 => [50 * Math.sin(a) * Math.cos(b), 50 * Math.sin(a) * Math.sin(b), 50 * Math.cos(a)],
          ),
        ),
      fc
        .array(anyNumber(0, 2 * Math.PI), { minLength: 12, maxLength: 60 })
        .map((angles) => [...angles.map((a): Vec3 => [50 * Math.cos(a), 50 * Math.sin(a), 0]), [0, 0, 80] as Vec3]),
    ),
    fc.oneof(fc.constant<Triple>([0, 0, 0]), anyPoint),
  )
  .map(([points, at]) => unequal(points.map((p) => add(p, at))))

/** Volume of the hull that three.js finds (its own quickhull, with a tolerance). */
function otherVolume(points: readonly Vec3[]): number {
  const hull = new ConvexHull().setFromPoints(points.map((p) => new Vector3(...p)))
  const corners = hull.faces.flatMap(({ edge }) => [edge.head(), edge.next.head(), edge.next.next.head()])
  return surfaceMeasure(
    flat(corners.map(({ point }): Vec3 => [point.x, point.y, point.z])),
    corners.map((_, i) => i),
  ).volume
}

/** Whether three points do not lie on a line, exactly: one of the projections shows it. */
function spans(at: Float64Array, a: number, b: number, c: number): boolean {
  const flatIn = (k: number, l: number) =>
    orient2d(at[3 * a + k], at[3 * a + l], at[3 * b + k], at[3 * b + l], at[3 * c + k], at[3 * c + l])
  return flatIn(0, 1) !== 0 || flatIn(1, 2) !== 0 || flatIn(2, 0) !== 0
}

describe('convexHull', () => {
  it('should leave no point outside any triangle, by exact test, and be one closed surface (seed 4110)', () => {
    let solid = 0
    fc.assert(
      fc.property(anyCloud, (points) => {
        const at = flat(points)
        const triangles = convexHull(at)
        if (!triangles) return
        solid++
        const edges = new Set<string>()
        for (let t = 0; t < triangles.length; t += 3) {
          const [a, b, c] = triangles.slice(t, t + 3)
          for (let i = 0; i < points.length; i++) expect(above(at, a, b, c, i)).toBeLessThanOrEqual(0)
          expect(spans(at, a, b, c)).toBe(true)
          for (const edge of [`${a} ${b}`, `${b} ${c}`, `${c} ${a}`]) {
            expect(edges.has(edge)).toBe(false)
            edges.add(edge)
          }
        }
        for (const edge of edges) expect(edges.has(edge.split(' ').reverse().join(' '))).toBe(true)
        const corners = new Set(triangles).size
        expect(corners - edges.size / 2 + triangles.length / 3).toBe(2)
      }),
      { seed: 4110, numRuns: 400 },
    )
    expect(solid).toBeGreaterThan(200) // the rest lie in a plane: small numbers and equal ones are drawn often
  })

  it('should say null exactly where every four points lie in a plane (seed 4111)', () => {
    const anyFew = fc
      .array(tripleOf(fc.integer({ min: 0, max: 1 }).map((x) => x + 0)), { minLength: 1, maxLength: 6 })
      .map(unequal)
    const found = { planar: 0, solid: 0 }
    fc.assert(
      fc.property(anyFew, (points) => {
        const at = flat(points)
        const n = points.map((_, i) => i)
        const planar = n.every((a) => n.every((b) => n.every((c) => n.every((d) => above(at, a, b, c, d) === 0))))
        expect(convexHull(at) === null).toBe(planar)
        found[planar ? 'planar' : 'solid']++
      }),
      { seed: 4111, numRuns: 400 },
    )
    expect(found.planar).toBeGreaterThan(50)
    expect(found.solid).toBeGreaterThan(50)
  })

  it('should enclose the volume that an independent library finds (seed 4112)', () => {
    fc.assert(
      fc.property(fc.array(tripleOf(anyNumber(-100, 100)), { minLength: 8, maxLength: 80 }).map(unequal), (points) => {
        const triangles = convexHull(flat(points))
        fc.pre(triangles !== null)
        const own = surfaceMeasure(flat(points), triangles as number[]).volume
        fc.pre(own > 1)
        const other = otherVolume(points)
        expect(Math.abs(own - other)).toBeLessThan(1e-9 * own + 1e-7)
      }),
      { seed: 4112, numRuns: 200 },
    )
  })

  it('should manage ten thousand points on a sphere', () => {
    const points = Array.from({ length: 10_000 }, (_, i): Vec3 => {
      const z = 1 - (2 * i + 1) / 10_000
      const [r, a] = [Math.sqrt(1 - z * z), i * 2.399963]
      return [300 * r * Math.cos(a), 300 * r * Math.sin(a), 300 * z]
    })
    const triangles = convexHull(flat(points)) as number[]
    expect(triangles.length / 3).toBe(2 * 10_000 - 4)
  })
})
