import type { Bounds, Form, Piece } from '../shape/form.ts'
import { placed, type Vec3 } from '../shape/vec.ts'

const kept = new WeakMap<Form, Bounds>()
const unlimited: Bounds = { min: [-Infinity, -Infinity, -Infinity], max: [Infinity, Infinity, Infinity] }

/**
 * Axis-aligned bounds of one form, mm: never smaller than the form but for rounding, larger where an exact answer is not
 * worth its cost (arcs: their whole circle). Kept as long as the form itself is: a mesh is walked once.
 */
export function formBounds(form: Form): Bounds {
  let bounds = kept.get(form)
  if (!bounds) {
    bounds = boundsOf(form)
    kept.set(form, bounds)
  }
  return bounds
}

function boundsOf(form: Form): Bounds {
  if (form.form === 'halfSpace') return unlimited
  const box = new Box()
  if (form.form === 'mesh') {
    const { positions } = form.mesh
    for (let i = 0; i < positions.length; i += 3)
      box.hold(placed(form.pose, [positions[i], positions[i + 1], positions[i + 2]]), 0)
  } else if (form.form === 'round') {
    for (const piece of form.centreline) holdPiece(box, piece, form.radius)
  } else if (form.body.kind === 'cylinder') {
    box.hold(form.body.from, form.body.radius)
    box.hold(form.body.to, form.body.radius)
  } else {
    const { vertices } = form.body
    for (let i = 0; i < vertices.length; i += 3) box.hold([vertices[i], vertices[i + 1], vertices[i + 2]], 0)
  }
  return { min: box.min, max: box.max }
}

function holdPiece(box: Box, piece: Piece, radius: number): void {
  if (piece.kind === 'arc') return box.hold(piece.centre, piece.radius + radius)
  box.hold(piece.from, radius)
  box.hold(piece.to, radius)
}

class Box {
  readonly min: [number, number, number] = [Infinity, Infinity, Infinity]
  readonly max: [number, number, number] = [-Infinity, -Infinity, -Infinity]
  hold(point: Vec3, around: number): void {
    for (let k = 0; k < 3; k++) {
      if (point[k] - around < this.min[k]) this.min[k] = point[k] - around
      if (point[k] + around > this.max[k]) this.max[k] = point[k] + around
    }
  }
}

/** Lower bound on the distance of anything in one box to anything in the other, mm; rounding taken off, never below 0. */
export function boxGap(a: Bounds, b: Bounds): number {
  let squared = 0
  let largest = 0
  for (let k = 0; k < 3; k++) {
    const above = a.min[k] - b.max[k]
    const below = b.min[k] - a.max[k]
    if (above > 0) largest = Math.max(largest, Math.abs(a.min[k]), Math.abs(b.max[k]))
    if (below > 0) largest = Math.max(largest, Math.abs(b.min[k]), Math.abs(a.max[k]))
    const apart = Math.max(above, below, 0)
    squared += apart * apart
  }
  // A bound may itself be some roundings short of its solid; 16 units in the last place cover that and the sums here.
  const gap = Math.sqrt(squared) - 16 * Number.EPSILON * largest
  return gap > 0 ? gap : 0
}
