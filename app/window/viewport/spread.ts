import type { Point } from './dimension.ts'

/** So many steps aside at most. */
const farthest = 3

/** Steps aside, the least ones first; of the same size, across before up. */
const steps: readonly Point[] = Array.from({ length: (2 * farthest + 1) ** 2 }, (_, i): Point => {
  const wide = 2 * farthest + 1
  return [(i % wide) - farthest, Math.floor(i / wide) - farthest]
}).sort(([ax, ay], [bx, by]) => ax * ax + ay * ay - bx * bx - by * by || ay * ay - by * by || bx - ax)

/**
 * Moves marks that would cover each other aside; the earlier ones stay where they are. Where there is no room near by,
 * a mark stays as well.
 * @param apart what two middles are apart at least, pixels
 */
export function spread(places: readonly Point[], apart: number): readonly Point[] {
  const taken: Point[] = []
  for (const [x, y] of places) {
    const free = steps
      .map(([dx, dy]): Point => [x + dx * apart, y + dy * apart])
      .find((at) => taken.every((other) => Math.hypot(at[0] - other[0], at[1] - other[1]) >= apart))
    taken.push(free ?? [x, y])
  }
  return taken
}
