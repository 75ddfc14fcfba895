import type { Vec3 } from '../../../core/shape/vec.ts'

export const unitAxes: readonly Vec3[] = [
  [1, 0, 0],
  [0, 1, 0],
  [0, 0, 1],
]

/** The axis of the bay that a line lies nearest to. */
export const mainAxisOf = (axis: Vec3): number =>
  [0, 1, 2].reduce((most, k) => (Math.abs(axis[k]) > Math.abs(axis[most]) ? k : most), 0)

/** The axis of the bay that a line runs along, that way round; null for all other lines. */
export function axisOf(axis: Vec3): number | null {
  const k = mainAxisOf(axis)
  return axis[k] > 0.99999 * Math.hypot(...axis) ? k : null
}
