import { boundsOf } from '../shape/bounds.ts'
import type { Bounds, Form } from '../shape/form.ts'

const kept = new WeakMap<Form, Bounds>()

/** Axis-aligned bounds of one form, mm, kept as long as the form itself is: a mesh is walked once. */
export function formBounds(form: Form): Bounds {
  let bounds = kept.get(form)
  if (!bounds) {
    bounds = boundsOf(form)
    kept.set(form, bounds)
  }
  return bounds
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
  return Math.max(gap, 0)
}
