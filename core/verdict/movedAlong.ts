import type { Cylinder, Form, Polytope, Solid } from '../shape/form.ts'
import { distance, placed, placedBack, type Pose, type Vec3 } from '../shape/vec.ts'

/** A rigid motion: from where something stood to where it stands. */
export interface Motion {
  readonly from: Pose
  readonly to: Pose
}

export const movedPoint = ({ from, to }: Motion, point: Vec3): Vec3 => placed(to, placedBack(from, point))

/**
 * How far a solid is from being a former one that was moved along, mm: no point of either is farther than this from the
 * other. So the gap between two solids that both went along with one motion is their former gap, give or take what both stray.
 * Infinity where they are not made alike, or hold forms that are not compared here (round sweeps with bends, meshes,
 * half-spaces: none of them goes along with a candidate).
 * Error: what the comparison itself rounds is far below what the solids were rounded to when they were made.
 */
export function stray(before: Solid, after: Solid, motion: Motion): number {
  if (before.forms.length !== after.forms.length) return Infinity
  let most = 0
  for (let i = 0; i < after.forms.length && most < Infinity; i++)
    most = Math.max(most, formStray(before.forms[i], after.forms[i], motion))
  return most
}

function formStray(before: Form, after: Form, motion: Motion): number {
  if (before.form !== 'convex' || after.form !== 'convex') return Infinity
  const [a, b] = [before.body, after.body]
  if (a.kind === 'polytope') return b.kind === 'polytope' ? polytopeStray(a, b, motion) : Infinity
  return b.kind === 'cylinder' ? cylinderStray(a, b, motion) : Infinity
}

/** A hull is no farther off than its farthest corner. */
function polytopeStray({ vertices: a }: Polytope, { vertices: b }: Polytope, motion: Motion): number {
  if (a.length !== b.length) return Infinity
  let most = 0
  for (let i = 0; i < a.length; i += 3)
    most = Math.max(most, distance(movedPoint(motion, [a[i], a[i + 1], a[i + 2]]), [b[i], b[i + 1], b[i + 2]]))
  return most
}

/** An axis whose ends are off by d is askew by no more than 2 d over its length, which the discs' rims turn with. */
function cylinderStray(a: Cylinder, b: Cylinder, motion: Motion): number {
  const off = Math.max(distance(movedPoint(motion, a.from), b.from), distance(movedPoint(motion, a.to), b.to))
  const askew = (4 * off * b.radius) / distance(b.from, b.to)
  return off + askew + Math.abs(a.radius - b.radius)
}
