import { cross, dot, length, mix, scale, sub, type Vec3 } from '../../../core/shape/vec.ts'
import type { Cut, CutWay } from './seeing.ts'

/** What lies where n·x > offset is taken away. Bay frame, mm. */
export interface CutPlane {
  readonly normal: Vec3
  readonly offset: number
}

const axes: Readonly<Record<'x' | 'y' | 'z', Vec3>> = { x: [1, 0, 0], y: [0, 1, 0], z: [0, 0, 1] }
/** A gap that leans from the vertical by less than this, as a sine, is as good as vertical. */
const upright = 1e-3

/**
 * The plane of a cut through a gap.
 * `along` holds both ends of the gap and the vertical; where the gap is itself vertical, the plane lies across the car.
 * The others are square to an axis of the bay, through the gap's middle.
 * @param gap both ends, bay frame, mm
 */
export function cutPlane({ way, offset, flipped }: Cut, gap: readonly [Vec3, Vec3]): CutPlane {
  const normal = normalOf(way, gap)
  const at = dot(normal, mix(gap[0], gap[1], 0.5)) + offset
  return flipped ? { normal: scale(normal, -1), offset: -at } : { normal, offset: at }
}

function normalOf(way: CutWay, [from, to]: readonly [Vec3, Vec3]): Vec3 {
  if (way !== 'along') return axes[way]
  const apart = sub(to, from)
  const size = length(apart)
  const across = size > 0 ? cross(apart, axes.z) : axes.x
  if (size > 0 && length(across) <= upright * size) return axes.x
  const unit = scale(across, 1 / length(across))
  // Its larger part points along the axis, so that the slider goes the same way for gaps on both sides.
  const largest = unit.reduce((most, x) => (Math.abs(x) > Math.abs(most) ? x : most), 0)
  return largest < 0 ? scale(unit, -1) : unit
}
