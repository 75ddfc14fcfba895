import { grownBounds, unionBounds } from '../../shape/bounds.ts'
import type { Bounds } from '../../shape/form.ts'
import { along, type Vec3 } from '../../shape/vec.ts'
import type { RouteObstacle, RouteProblem } from './problem.ts'

interface End {
  readonly at: Vec3
  readonly direction: Vec3
}

/**
 * Where a route is looked for: round both ports and three bend radii before them, a bend radius to the sides, and past
 * every bounded obstacle that reaches in there by all that the pipe keeps from it, so that there is a way round it. An
 * upright wall without end (a half-space square to an axis) ends the box where the centreline could not be anyway.
 */
export function searchBox(
  from: End,
  to: End,
  { radius, bendRadius, obstacles }: Pick<RouteProblem, 'radius' | 'bendRadius' | 'obstacles'>,
): Bounds {
  const reach = ({ at, direction }: End) => [at, along(at, direction, 3 * bendRadius)]
  const points = [...reach(from), ...reach(to)]
  const near = grownBounds(unionBounds(points.map((point) => ({ min: point, max: point }))), 2 * bendRadius)
  const bounded = obstacles.filter(({ solid: { bounds } }) => [...bounds.min, ...bounds.max].every(Number.isFinite))
  const around = bounded
    .map(({ solid, need }) => grownBounds(solid.bounds, need + radius + bendRadius))
    .filter((bounds) => meet(bounds, near))
  return obstacles.reduce(cutByWall(radius), unionBounds([near, ...around]))
}

const meet = (a: Bounds, b: Bounds): boolean => [0, 1, 2].every((k) => a.min[k] <= b.max[k] && b.min[k] <= a.max[k])

const cutByWall =
  (radius: number) =>
  (box: Bounds, { solid, need, exempt }: RouteObstacle): Bounds => {
    const [form] = solid.forms
    if (solid.forms.length !== 1 || form.form !== 'halfSpace' || exempt.from > 0 || exempt.to > 0) return box
    const { min, max } = solid.bounds
    const clear = need + radius
    const low = box.min.map((x, k) => (max[k] < Infinity ? Math.max(x, max[k] + clear) : x))
    const high = box.max.map((x, k) => (min[k] > -Infinity ? Math.min(x, min[k] - clear) : x))
    // A port behind a wall leaves nothing: the box stays as it is, and every route fails for the wall.
    if (low.some((x, k) => x >= high[k])) return box
    return { min: low as unknown as Vec3, max: high as unknown as Vec3 }
  }
