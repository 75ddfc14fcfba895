import { solidFrom } from '../../shape/solid.ts'
import { along, distance, dot, sub, type Vec3 } from '../../shape/vec.ts'
import type { RouteObstacle } from './problem.ts'
import type { Roadmap } from './roadmap.ts'

/** Half the length and the radius of the solid in the middle of a ball, mm: next to nothing. */
const speck = 1e-3

/**
 * A ball that the centreline keeps out of: nothing that is there, but a way to ask for other routes. It is a speck of a
 * cylinder with much clearance asked for, so that whatever measures obstacles can measure it.
 * @param ball its middle, bay frame, mm
 * @param apart its radius, mm
 * @param radius the pipe's, mm
 */
export function ballObstacle(ball: Vec3, apart: number, radius: number): RouteObstacle {
  const body = {
    kind: 'cylinder',
    from: along(ball, [0, 0, 1], -speck),
    to: along(ball, [0, 0, 1], speck),
    radius: speck,
  } as const
  return {
    name: `another way ${ball.join(' ')}`,
    kind: 'keepOut',
    solid: solidFrom([{ form: 'convex', body }]),
    need: apart - radius,
    exempt: { from: 0, to: 0 },
  }
}

/** Whether an edge of a roadmap passes nearer to one of the balls' middles than `within` mm; remembered for each edge. */
export function nearsBall(map: Roadmap, balls: readonly Vec3[], within: number): (edge: number) => boolean {
  if (balls.length === 0) return () => false
  const known = new Uint8Array(map.edges)
  const { points } = map.nodes
  return (edge) => {
    if (known[edge] === 0) {
      const [a, b] = [points[map.starts[edge]], points[map.ends[edge]]]
      known[edge] = balls.some((ball) => toSegment(ball, a, b) < within) ? 2 : 1
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
