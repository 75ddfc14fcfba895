import { along, distance, dot, sub, type Vec3 } from '../../shape/vec.ts'
import type { Roadmap } from './roadmap.ts'

/** Whether an edge of a roadmap passes nearer to one of the points than `within` mm; remembered for each edge. */
export function passesNear(map: Roadmap, centres: readonly Vec3[], within: number): (edge: number) => boolean {
  if (centres.length === 0) return () => false
  const known = new Uint8Array(map.edges)
  const { points } = map.nodes
  return (edge) => {
    if (known[edge] === 0) {
      const [a, b] = [points[map.starts[edge]], points[map.ends[edge]]]
      known[edge] = centres.some((centre) => toSegment(centre, a, b) < within) ? 2 : 1
    }
    return known[edge] === 2
  }
}

function toSegment(point: Vec3, a: Vec3, b: Vec3): number {
  const way = sub(b, a)
  const square = dot(way, way)
  const share = square > 0 ? Math.min(1, Math.max(0, dot(sub(point, a), way) / square)) : 0
  return distance(point, along(a, way, share))
}
