import { along, distance, dot, scale, squareTo, sub, unit } from '../../shape/vec.ts'
import type { Vec3 } from '../../shape/vec.ts'

/** The beginning of a pipe, as far as its corners need it. */
interface End {
  readonly at: Vec3
  readonly direction: Vec3
}

/**
 * Corners of a detour that can always be rounded: far out along both ends, sideways, across and back. It is long enough for
 * every joined end to be exempt over its full length, so that the bay's own parts say what a pipe between these ends is
 * held against, before there is a route.
 */
export function standInCorners(from: End, to: End, bendRadius: number): Vec3[] {
  const reach = 40 * bendRadius + 4 * distance(from.at, to.at)
  const first = along(from.at, from.direction, reach)
  let last = along(to.at, to.direction, 1.5 * reach)
  if (distance(first, last) < reach / 4) last = along(last, to.direction, reach)
  const across = unit(sub(last, first))
  // Square to the way across both turns there are right angles; of four such ways the one that both ends turn to least.
  const [u, v] = squareTo(across)
  const ways = [u, v, scale(u, -1), scale(v, -1)]
  const turn = (way: Vec3) => Math.min(dot(way, from.direction), dot(way, to.direction))
  const aside = ways.reduce((best, way) => (turn(way) > turn(best) ? way : best))
  return [first, along(first, aside, reach), along(last, aside, reach), last]
}
