import { cross, distance, dot, length, scale, sub, along, unit, type Vec3, add } from '../shape/vec.ts'
import { roundingSlack } from './nearest.ts'
import type { ConvexSet } from './support.ts'

/** As `ConvexDepth`; closed form, always converged. */
export interface CylinderDepth {
  readonly atLeast: number
  readonly atMost: number
  readonly direction: Vec3
  readonly onA: Vec3
  readonly onB: Vec3
  readonly stopped: 'converged'
}

interface Axis {
  readonly from: Vec3
  readonly length: number
  readonly along: Vec3
}

function axisOf(set: ConvexSet): Axis | undefined {
  if (set.radius === 0 || set.count !== 2) return undefined
  const [x, y, z, p, q, r] = set.points
  const from: Vec3 = [x, y, z]
  const to: Vec3 = [p, q, r]
  return { from, length: distance(from, to), along: unit(sub(to, from)) }
}

/**
 * Depth of two cylinders with parallel axes, in closed form. Their difference is a cylinder again; where the axes nearly
 * coincide it is equally deep all round, and a search by support points would have to walk the whole round.
 * @param most  width of the bounds that is allowed, mm
 * @returns undefined unless both are cylinders with axes parallel within that
 */
export function parallelCylinderDepth(a: ConvexSet, b: ConvexSet, most: number): CylinderDepth | undefined {
  const p = axisOf(a)
  const q = axisOf(b)
  if (!p || !q) return undefined
  const slack = roundingSlack(a, b)
  // How far a point of b moves where b is turned to be quite parallel: within that the form holds.
  const askew = length(cross(p.along, q.along)) * (q.length + b.radius)
  const error = slack + 2 * askew
  if (2 * error > most) return undefined
  const z = p.along
  const start = dot(z, sub(q.from, p.from))
  const end = start + (dot(z, q.along) > 0 ? q.length : -q.length)
  const low = Math.min(start, end)
  const high = Math.max(start, end)
  const middle = sub(along(q.from, q.along, q.length / 2), p.from)
  // In the disc's own frame: of nearly coaxial cylinders the remainder of middle − (middle·z)·z is rounding, not square to z.
  const u: Vec3 = [a.ux, a.uy, a.uz]
  const v: Vec3 = [a.vx, a.vy, a.vz]
  const aside = add(scale(u, dot(u, middle)), scale(v, dot(v, middle)))
  const offset = length(aside)
  const outward: Vec3 = offset > 0 ? scale(aside, -1 / offset) : u
  const radial = a.radius + b.radius - offset
  // Moving a up past b's top end, or down past its bottom.
  const up = high
  const down = p.length - low
  const depth = Math.max(0, Math.min(radial, up, down))
  const bounds = { atLeast: Math.max(0, depth - error), atMost: depth + error, stopped: 'converged' as const }
  if (radial <= up && radial <= down) {
    // Half-way along the common length; outward is the way a moves, each surface deepest towards the other.
    const t = (Math.max(0, low) + Math.min(p.length, high)) / 2
    const onAxis = along(p.from, z, t)
    const onA = along(onAxis, outward, -a.radius)
    return { ...bounds, direction: outward, onA, onB: along(add(onAxis, aside), outward, b.radius) }
  }
  // On both end discs: between the two rims along the line of centres.
  const s = (Math.max(-a.radius, offset - b.radius) + Math.min(a.radius, offset + b.radius)) / 2
  const base = along(p.from, outward, -s)
  if (up <= down) return { ...bounds, direction: z, onA: base, onB: along(base, z, high) }
  return { ...bounds, direction: scale(z, -1), onA: along(base, z, p.length), onB: along(base, z, low) }
}
