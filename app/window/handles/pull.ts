import { along, cross, dot, sub, type Vec3 } from '../../../core/shape/vec.ts'
import { axesOf, isAlongAxis, type Rig } from '../viewport/camera.ts'

type Pixels = readonly [x: number, y: number]

/** Seen more end on than this, a pixel would be a leap. */
const endOn = 0.2

/** How a direction of the bay lies in the picture: pixels to the right and down for each millimetre. */
function pictured(way: Vec3, rig: Rig): Pixels {
  const { right, up } = axesOf(rig)
  return [dot(way, right) / rig.scale, -dot(way, up) / rig.scale]
}

/** Whether something that goes along a direction, unit, can be pulled in this view. */
export const canSlide = (way: Vec3, rig: Rig): boolean => Math.hypot(...pictured(way, rig)) * rig.scale >= endOn

/** Whether a turn about an axis, unit, can be followed: in front, side and plan only the one in the drawing's plane. */
export function canTurn(axis: Vec3, rig: Rig): boolean {
  const facing = Math.abs(dot(axis, axesOf(rig).eye))
  return facing >= (isAlongAxis(rig) ? 0.9 : endOn)
}

/** How far along a direction, unit, a pull goes, mm. @param by pixels to the right and down */
export function slideBy(way: Vec3, by: Pixels, rig: Rig): number {
  const [x, y] = pictured(way, rig)
  return (by[0] * x + by[1] * y) / (x * x + y * y)
}

/**
 * How far a pull turns, degrees, right-handed about the axis. Seen well from its end the pointer is followed in the plane
 * of the turn; else along the way that the point goes first.
 */
export function turnBy({ axis, centre, at }: { axis: Vec3; centre: Vec3; at: Vec3 }, by: Pixels, rig: Rig): number {
  const { right, up, eye } = axesOf(rig)
  const arm = sub(at, centre)
  const facing = dot(axis, eye)
  if (Math.abs(facing) > 0.5) {
    const pulled = along(along(arm, right, by[0] * rig.scale), up, -by[1] * rig.scale)
    const there = along(pulled, eye, -dot(sub(pulled, arm), axis) / facing)
    const [from, to] = [flatOn(axis, arm), flatOn(axis, there)]
    return degrees(Math.atan2(dot(cross(from, to), axis), dot(from, to)))
  }
  const [x, y] = pictured(cross(axis, arm), rig)
  return degrees((by[0] * x + by[1] * y) / (x * x + y * y))
}

const degrees = (radians: number): number => (radians * 180) / Math.PI
const flatOn = (axis: Vec3, arm: Vec3): Vec3 => along(arm, axis, -dot(arm, axis))

const arrows: Readonly<Record<string, Pixels>> = {
  ArrowRight: [1, 0],
  ArrowLeft: [-1, 0],
  ArrowUp: [0, -1],
  ArrowDown: [0, 1],
}

/**
 * Whether an arrow key makes a number grow (1) or shrink (−1) that goes along a direction: as the arrow points in the
 * picture; where it points across, right and up are more. Null for other keys.
 */
export function arrowWay(key: string, way: Vec3, rig: Rig): 1 | -1 | null {
  const arrow = arrows[key]
  if (!arrow) return null
  const [x, y] = pictured(way, rig)
  const size = Math.hypot(x, y)
  const agrees = size > 0 ? (arrow[0] * x + arrow[1] * y) / size : 0
  if (Math.abs(agrees) > 0.35) return agrees > 0 ? 1 : -1
  return arrow[0] - arrow[1] > 0 ? 1 : -1
}

/** Right and up turn one way, left and down the other. */
export const arrowTurn = (key: string): 1 | -1 | null => {
  const arrow = arrows[key]
  return arrow ? (arrow[0] - arrow[1] > 0 ? 1 : -1) : null
}
