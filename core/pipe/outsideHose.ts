import type { ClampPlace } from '../bay/joints.ts'
import type { Form, Piece, Solid, StraightPiece } from '../shape/form.ts'
import { solidFrom } from '../shape/solid.ts'
import { along, distance, dot, mix, sub } from '../shape/vec.ts'

/**
 * A solid without what a tool at a clamp can never meet since it lies within the hose: the tubes that the hose goes over.
 * The tool stays outside the hose's circle (see `toolAt`), in a slab as thick as itself about the band.
 * @param slab half the slab that is looked at, mm: half the tool's diameter and what must lie between
 * @param need what must lie between tool and solid, mm
 * @returns the same solid where nothing of it does; null where nothing else is left. Only straight round pieces are left
 *   out, at the ends of a sweep: all that reaches into the slab is at least `need` within the hose's circle.
 */
export function outsideHose(solid: Solid, place: ClampPlace, slab: number, need: number): Solid | null {
  const inHose = (piece: StraightPiece, radius: number) => liesInHose(piece, radius, place, slab, need)
  const kept = solid.forms.flatMap((form): Form[] => {
    if (form.form === 'convex' && form.body.kind === 'cylinder') {
      const { from, to, radius } = form.body
      return inHose({ kind: 'straight', from, to }, radius) ? [] : [form]
    }
    if (form.form !== 'round') return [form]
    const { centreline, radius } = form
    const isIn = (piece: Piece) => piece.kind === 'straight' && inHose(piece, radius)
    const first = centreline.findIndex((piece) => !isIn(piece))
    if (first < 0) return []
    const last = centreline.findLastIndex((piece) => !isIn(piece))
    if (first === 0 && last === centreline.length - 1) return [form]
    return [{ ...form, centreline: centreline.slice(first, last + 1) }]
  })
  if (kept.length === 0) return null
  return kept.every((form, k) => form === solid.forms[k]) && kept.length === solid.forms.length
    ? solid
    : solidFrom(kept)
}

function liesInHose(
  { from, to }: StraightPiece,
  radius: number,
  { at, axis, closesOn }: ClampPlace,
  slab: number,
  need: number,
): boolean {
  const [a, b] = [dot(sub(from, at), axis), dot(sub(to, at), axis)]
  const tilt = Math.abs(b - a) / distance(from, to)
  // Its discs lean with it: those whose middle lies further off still reach into the slab.
  const near = slab + radius * Math.sqrt(Math.max(0, 1 - tilt * tilt))
  if (Math.min(a, b) > near || Math.max(a, b) < -near) return true
  // The middles of the discs that reach into the slab, and how far from the axis these are at most: at an end of them.
  const shareAt = (depth: number) => (a === b ? 0 : Math.min(1, Math.max(0, (depth - a) / (b - a))))
  const ends = a === b ? [from, to] : [mix(from, to, shareAt(-near)), mix(from, to, shareAt(near))]
  const off = Math.max(...ends.map((point) => distance(point, along(at, axis, dot(sub(point, at), axis)))))
  return off + radius + need <= closesOn / 2
}
