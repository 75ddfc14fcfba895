import { type Display, joined } from './displayData.ts'
import { cylinderDisplay, roundDisplay } from './displayRound.ts'
import { meshDisplay } from './displayMesh.ts'
import { polytopesDisplay } from './displayPolytope.ts'
import type { Bounds, Form, HalfSpaceForm, Polytope, Solid } from './form.ts'
import { add, dot, length, scale, squareTo, sub, type Vec3 } from './vec.ts'

export interface DisplayOptions {
  /** Where to look, finite (see `viewBounds`): a half-space is shown as a square patch that spans this. */
  readonly within: Bounds
  /** How far a round form's facets may lie inside its true surface, mm; default 0.05, at most 96 sides. */
  readonly sag?: number
}

export function displayOf(solid: Solid, options: DisplayOptions): Display {
  const bodies: Polytope[] = []
  const parts: Display[] = []
  for (const form of solid.forms) {
    if (form.form === 'convex' && form.body.kind === 'polytope') bodies.push(form.body)
    else parts.push(displayOfForm(form, options))
  }
  return joined(bodies.length > 0 ? [polytopesDisplay(bodies), ...parts] : parts)
}

function displayOfForm(form: Form, { within, sag = 0.05 }: DisplayOptions): Display {
  switch (form.form) {
    case 'convex':
      return form.body.kind === 'polytope' ? polytopesDisplay([form.body]) : cylinderDisplay(form.body, sag)
    case 'round':
      return roundDisplay(form, sag)
    case 'halfSpace':
      return patchDisplay(form, within)
    case 'mesh':
      return meshDisplay(form)
  }
}

/** Square patch of the plane, centred under the bounds and half again as wide as they are across. */
function patchDisplay({ point, normal }: HalfSpaceForm, within: Bounds): Display {
  const middle = scale(add(within.min, within.max), 0.5)
  const half = 0.75 * length(sub(within.max, within.min))
  const foot = sub(middle, scale(normal, dot(sub(middle, point), normal)))
  const [u, v] = squareTo(normal)
  const corner = (s: number, t: number): Vec3 => add(foot, add(scale(u, s * half), scale(v, t * half)))
  const corners = [corner(-1, -1), corner(1, -1), corner(1, 1), corner(-1, 1)]
  return {
    positions: Float32Array.from(corners.flat()),
    normals: Float32Array.from([normal, normal, normal, normal].flat()),
    triangles: Uint32Array.of(0, 1, 2, 0, 2, 3),
    edges: Float32Array.from(corners.flatMap((p, i) => [...p, ...corners[(i + 1) % 4]])),
  }
}
