import type { Vec3 } from './vec.ts'

/**
 * A sweep's path with one coordinate changed. The path lies in a plane square to `up`: where up runs along an axis, its
 * coordinate is one for all points, and changing it for one changes it for all.
 * @param axis 0, 1, 2
 */
export function withPathCoordinate(
  { path, up }: { readonly path: readonly Vec3[]; readonly up: Vec3 },
  index: number,
  axis: number,
  mm: number,
): [number, number, number][] {
  const isHeight = up.every((x, k) => (x !== 0) === (k === axis))
  return path.map((point, i) => {
    const [x, y, z] = point.map((old, k) => (k === axis && (isHeight || i === index) ? mm : old))
    return [x, y, z]
  })
}
