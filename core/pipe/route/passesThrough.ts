import type { Vec3 } from '../../shape/vec.ts'
import type { Ball } from './polish.ts'
import type { Roadmap } from './roadmap.ts'

/** Edges lead from corner to corner, outside of the bends: they may cut a ball by this share of its radius. */
const share = 0.8

/** Whether an edge of a roadmap passes through one of the balls; remembered for each edge. */
export function passesThrough(map: Roadmap, balls: readonly Ball[]): (edge: number) => boolean {
  if (balls.length === 0) return () => false
  const known = new Uint8Array(map.edges)
  const { points } = map.nodes
  return (edge) => {
    if (known[edge] === 0) {
      const [a, b] = [points[map.starts[edge]], points[map.ends[edge]]]
      known[edge] = balls.some(({ centre, radius }) => toSegment(centre, a, b) < share * radius) ? 2 : 1
    }
    return known[edge] === 2
  }
}

function toSegment(point: Vec3, a: Vec3, b: Vec3): number {
  // Asked for every edge: no points are made.
  const [x, y, z] = [b[0] - a[0], b[1] - a[1], b[2] - a[2]]
  const [u, v, w] = [point[0] - a[0], point[1] - a[1], point[2] - a[2]]
  const square = x * x + y * y + z * z
  const onward = square > 0 ? Math.min(1, Math.max(0, (u * x + v * y + w * z) / square)) : 0
  return Math.hypot(u - onward * x, v - onward * y, w - onward * z)
}
