import { anglesOf, capTriangles, rimOf, ringsOf, sidesOf, wallTriangles } from './displayRound.ts'
import type { Form, RoundForm } from './form.ts'
import { faceTriangles } from './measure.ts'

/** A closed surface of triangles, mm, bay frame: each edge has two triangles, counter-clockwise seen from outside. */
export interface ClosedMesh {
  /** x, y, z after each other. */
  readonly positions: Float64Array
  readonly triangles: readonly number[]
}

/**
 * A form as a closed surface of triangles that share their vertices.
 * @param sag how far facets may lie off a round form's surface, mm (within 96 sides and 90 steps a bend)
 * @returns null for what is not bounded or has no solid of its own: a half-space, a mesh
 * Error: polytopes exact; of round forms no point lies farther than `sag` off the surface, so that the volume is off by no
 * more than `sag` × surface.
 */
export function closedMesh(form: Form, sag: number): ClosedMesh | null {
  if (form.form === 'round') return roundMesh(form, sag)
  if (form.form !== 'convex') return null
  if (form.body.kind === 'polytope') return { positions: form.body.vertices, triangles: faceTriangles(form.body) }
  const { from, to, radius } = form.body
  return roundMesh({ form: 'round', centreline: [{ kind: 'straight', from, to }], radius }, sag)
}

function roundMesh({ centreline, radius }: RoundForm, sag: number): ClosedMesh {
  const sides = sidesOf(radius, sag)
  const circle = anglesOf(sides)
  const rings = ringsOf(centreline, radius, sag)
  return {
    positions: Float64Array.from(rings.flatMap((ring) => rimOf(ring, circle, radius)).flat()),
    triangles: [...wallTriangles(rings.length, sides), ...capTriangles(0, (rings.length - 1) * sides, sides)],
  }
}
