import type { Clearance, Overlap } from './answer.ts'
import { convexDepth } from './convexDepth.ts'
import { convexDistance } from './gjk.ts'
import { emptyNearest } from './nearest.ts'
import type { PairClearance } from './pair.ts'
import { BodySet } from './support.ts'

/**
 * Gap or depth of two convex solids, polytope or cylinder each.
 * @param part, keepOut  in one frame near the origin, mm
 * @returns bounds in mm. Overlapping: both 0, the depth exact with its direction, and the deepest points as witnesses.
 * Touching to rounding: atLeast 0, atMost the distance of the witnesses, an overlap only if they coincide.
 * Error: ≤ 1e-9 mm + 1e-12 of the largest coordinate unless stopped is not 'converged'; of the depth see `convexDepth`.
 * Nearest points jump between equal features (parallel faces); gap and depth are continuous in the pose.
 */
export const convexConvex: PairClearance<'convex', 'convex'> = (part, keepOut, options): Clearance => {
  const a = roomA.of(part.body)
  const b = roomB.of(keepOut.body)
  const upTo = options.upTo ?? Infinity
  const guess = options.near
  if (guess) {
    const { onPart: p, onKeepOut: q } = guess
    convexDistance(a, b, upTo, near, p[0] - q[0], p[1] - q[1], p[2] - q[2])
  } else convexDistance(a, b, upTo, near)
  const answer: Clearance = {
    atLeast: near.atLeast,
    atMost: near.atMost,
    onPart: [near.ax, near.ay, near.az],
    onKeepOut: [near.bx, near.by, near.bz],
    stopped: near.stopped,
  }
  // Neither parted nor met (a gap or depth near rounding): the depth, decided exactly, may still tell.
  const isOpen = near.contact !== 'none' || (near.atLeast === 0 && near.stopped !== 'upTo')
  if (!isOpen) return answer
  if (options.depth === false) {
    return near.atMost > 0 ? answer : { ...answer, overlap: { kind: 'atLeast', depthAtLeast: 0 } }
  }
  const depth = convexDepth(a, b)
  if (depth.atLeast === 0 && near.atMost > 0) return answer
  const { direction, onA, onB } = depth
  const overlap: Overlap = { kind: 'exact', depthAtLeast: depth.atLeast, depthAtMost: depth.atMost, direction }
  // The gap is settled, 0; how well the depth is known its own bounds say.
  return { atLeast: 0, atMost: 0, onPart: onA, onKeepOut: onB, stopped: 'converged', overlap }
}

// Room for one call, which does not call itself: no state survives it.
const roomA = new BodySet()
const roomB = new BodySet()
const near = emptyNearest()
