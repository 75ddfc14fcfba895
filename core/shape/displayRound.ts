import { arcSteps } from './arcSteps.ts'
import { pointAlong } from './centreline.ts'
import type { Display } from './displayData.ts'
import type { Cylinder, Piece, RoundForm } from './form.ts'
import { add, cross, dot, scale, squareTo, sub, unit, type Vec3 } from './vec.ts'

export const cylinderDisplay = ({ from, to, radius }: Cylinder, sag: number): Display =>
  roundDisplay({ form: 'round', centreline: [{ kind: 'straight', from, to }], radius }, sag)

/** A disc of the sweep: its centre, and two unit vectors across it; `u × v` points along the travel. */
interface Ring {
  readonly centre: Vec3
  readonly u: Vec3
  readonly v: Vec3
}

/** A round form as rings of facets with flat ends; the ends' circles are its only edges. */
export function roundDisplay({ centreline, radius }: RoundForm, sag: number): Display {
  const sides = sidesOf(radius, sag)
  const rings = ringsOf(centreline, radius, sag)
  const circle = anglesOf(sides)
  const rim = (ring: Ring) => rimOf(ring, circle, radius)
  const [first, last] = [rings[0], rings[rings.length - 1]]
  const ends = [rim(first), rim(last)]
  const travel = (ring: Ring, s: number) => scale(cross(ring.u, ring.v), s)
  const wall = rings.length * sides
  const positions = [...rings.flatMap(rim), ...ends[0], ...ends[1]]
  const normals = [
    ...rings.flatMap((ring) => circle.map((a) => outward(ring, a))),
    ...circle.map(() => travel(first, -1)),
    ...circle.map(() => travel(last, 1)),
  ]
  return {
    positions: Float32Array.from(positions.flat()),
    normals: Float32Array.from(normals.flat()),
    triangles: Uint32Array.from([...wallTriangles(rings.length, sides), ...capTriangles(wall, wall + sides, sides)]),
    edges: Float32Array.from(ends.flatMap((end) => end.flatMap((p, i) => [...p, ...end[(i + 1) % sides]]))),
  }
}

export const sidesOf = (radius: number, sag: number): number =>
  Math.max(12, Math.min(96, arcSteps(2 * Math.PI, radius, sag)))

export const anglesOf = (sides: number): number[] => Array.from({ length: sides }, (_, i) => (2 * Math.PI * i) / sides)

const outward = ({ u, v }: Ring, a: number): Vec3 => add(scale(u, Math.cos(a)), scale(v, Math.sin(a)))

export const rimOf = (ring: Ring, circle: readonly number[], radius: number): Vec3[] =>
  circle.map((a) => add(ring.centre, scale(outward(ring, a), radius)))

/** Rings at all ends of pieces and between, each turned over from the one before without twist. */
export function ringsOf(pieces: readonly Piece[], radius: number, sag: number): Ring[] {
  const start = pointAlong(pieces[0], 0)
  const [u, v] = squareTo(start.direction)
  const rings: Ring[] = [{ centre: start.point, u, v }]
  for (const piece of pieces) {
    const steps =
      piece.kind === 'straight' ? 1 : Math.min(90, Math.max(2, arcSteps(piece.angle, piece.radius + radius, 2 * sag)))
    for (let i = 1; i <= steps; i++) {
      const { point, direction } = pointAlong(piece, i / steps)
      const before = rings[rings.length - 1].u
      // In an arc the disc turns within the arc's plane: taking out what lies along the travel does just that, nearly.
      const across = unit(sub(before, scale(direction, dot(before, direction))))
      rings.push({ centre: point, u: across, v: cross(direction, across) })
    }
  }
  return rings
}

export function wallTriangles(rings: number, sides: number): number[] {
  const triangles: number[] = []
  for (let r = 0; r + 1 < rings; r++)
    for (let i = 0; i < sides; i++) {
      const [a, b] = [r * sides + i, r * sides + ((i + 1) % sides)]
      triangles.push(a, b, b + sides, a, b + sides, a + sides)
    }
  return triangles
}

/** Flat ends as fans; rings begin at these vertices. */
export function capTriangles(first: number, last: number, sides: number): number[] {
  const triangles: number[] = []
  for (let i = 1; i + 1 < sides; i++) {
    triangles.push(first, first + i + 1, first + i)
    triangles.push(last, last + i, last + i + 1)
  }
  return triangles
}
