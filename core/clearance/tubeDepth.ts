import { along, mix, type Vec3 } from '../shape/vec.ts'
import type { Overlap } from './answer.ts'
import { roomInTube } from './tubeRoom.ts'
import { touch, touchSize } from './tubeDiscs.ts'
import { spanStride, type TubeSpans } from './tubeSpans.ts'

/**
 * Radius of a ball about y in the other solid; outside of it minus a distance within which it has a point. mm.
 * Where it is less than `wanted`, any number less than that may be given instead.
 */
export type Room = (y: Vec3, wanted: number) => number

/**
 * A proved least depth of overlap of a tube and another solid.
 *
 * With room a in the tube and b in the other solid at one point y, the depth is at least a + b: while the shift τ of the
 * tube is shorter than that, the ball of radius a about y + τ and the ball of radius b about y still meet (for b < 0: the
 * other solid has a point within −b < a of y, which the first ball still holds after a shift shorter than a + b).
 * Any y proves something, so the search for a good one need not be complete: points along the centreline and the
 * witnesses, then small steps from the best.
 * @param room  of the other solid, rounded to the safe side
 * @param seeds points near the contact
 */
export function depthAtLeast(tube: TubeSpans, room: Room, seeds: readonly Vec3[]): Overlap {
  let best: Vec3 = seeds[0]
  let depth = 0
  const tried = (y: Vec3): boolean => {
    const inTube = roomInTube(tube, y)
    const d = inTube > 0 ? inTube + room(y, depth - inTube) : 0
    if (!(d > depth)) return false
    depth = d
    best = y
    return true
  }
  const out = new Float64Array(touchSize)
  for (const seed of seeds) {
    tried(seed)
    // Its place on the centreline: there the tube has all its room.
    for (let span = 0; span < tube.pieces; span++) {
      touch(tube, span, seed[0], seed[1], seed[2], out)
      tried([out[3], out[4], out[5]])
    }
  }
  for (let span = 0; span < tube.pieces; span++) for (const y of alongSpan(tube, span, out)) tried(y)
  climb(tube.radius, () => best, tried)
  return { kind: 'atLeast', depthAtLeast: depth }
}

/** Compass search: steps along the axes, halved when none helps. Both rooms have slope 1 at most, so the step bounds the gain. */
function climb(start: number, best: () => Vec3, tried: (y: Vec3) => boolean): void {
  const axes: Vec3[] = [
    [1, 0, 0],
    [0, 1, 0],
    [0, 0, 1],
  ]
  for (let step = start; step > 1e-2 * start; step *= 0.5) {
    for (let round = 0; round < 3; round++) {
      let better = false
      for (const axis of axes) better = tried(along(best(), axis, step)) || tried(along(best(), axis, -step)) || better
      if (!better) break
    }
  }
}

const samples = 8

function alongSpan(tube: TubeSpans, span: number, out: Float64Array): Vec3[] {
  const { spans } = tube
  const s = spanStride * span
  const from: Vec3 = [spans[s], spans[s + 1], spans[s + 2]]
  const to: Vec3 = [spans[s + 3], spans[s + 4], spans[s + 5]]
  const points: Vec3[] = []
  for (let i = 0; i <= samples; i++) {
    const on = mix(from, to, i / samples)
    touch(tube, span, on[0], on[1], on[2], out)
    points.push([out[3], out[4], out[5]])
  }
  return points
}
