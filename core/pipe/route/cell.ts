import type { Bounds } from '../../shape/form.ts'
import type { Vec3 } from '../../shape/vec.ts'

/** A box: middle and half sides, mm. */
export interface Cell {
  readonly x: number
  readonly y: number
  readonly z: number
  readonly hx: number
  readonly hy: number
  readonly hz: number
}

/** Whether a point lies in a box. */
export const holds = ({ min, max }: Bounds, point: Vec3): boolean =>
  [0, 1, 2].every((k) => point[k] >= min[k] && point[k] <= max[k])

/** Whether a cell and a block of cells share more than a border. */
export const meets = ({ min, max }: Bounds, { x, y, z, hx, hy, hz }: Cell): boolean =>
  Math.min(x + hx - min[0], max[0] - x + hx) > 0.1 * hx &&
  Math.min(y + hy - min[1], max[1] - y + hy) > 0.1 * hy &&
  Math.min(z + hz - min[2], max[2] - z + hz) > 0.1 * hz

export const isWithin = ({ min, max }: Bounds, { x, y, z, hx, hy, hz }: Cell): boolean =>
  Math.min(x - min[0], max[0] - x) > 0.9 * hx &&
  Math.min(y - min[1], max[1] - y) > 0.9 * hy &&
  Math.min(z - min[2], max[2] - z) > 0.9 * hz

/** Middle of the side that two cells share. */
export function portal(a: Cell, b: Cell): Vec3 {
  const middle = (p: number, hp: number, q: number, hq: number) =>
    (Math.max(p - hp, q - hq) + Math.min(p + hp, q + hq)) / 2
  return [middle(a.x, a.hx, b.x, b.hx), middle(a.y, a.hy, b.y, b.hy), middle(a.z, a.hz, b.z, b.hz)]
}
