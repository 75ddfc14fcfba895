import { axesOf, type Rig } from './camera.ts'
import { add, dot, scale, type Vec3 } from '../../../core/shape/vec.ts'

const axes: readonly Vec3[] = [
  [1, 0, 0],
  [0, 1, 0],
  [0, 0, 1],
]

export interface DragHow {
  /** Along the one axis of the bay that the pointer goes along most. */
  readonly oneAxis: boolean
  /** Coordinates that change are put on multiples of it, mm. */
  readonly step: number
}

/**
 * Where a point goes that is dragged in the picture: in the plane that faces the eye through it, which in front, side and
 * plan is the plane of the drawing.
 * @param by pixels since the drag began, to the right and down
 * @returns bay frame, mm; a coordinate that the drag does not touch stays exactly as it was
 */
export function dragged(from: Vec3, by: readonly [number, number], rig: Rig, { oneAxis, step }: DragHow): Vec3 {
  const { right, up } = axesOf(rig)
  const [across, upward] = [by[0] * rig.scale, -by[1] * rig.scale]
  const shift = oneAxis ? alongOneAxis(across, upward, right, up) : add(scale(right, across), scale(up, upward))
  return from.map((x, k) => (Math.abs(shift[k]) < 1e-6 ? x : onStep(x + shift[k], step))) as unknown as Vec3
}

/** Of the three axes the one whose picture lies most along the pointer's way, as far as the pointer has gone along it. */
function alongOneAxis(across: number, upward: number, right: Vec3, up: Vec3): Vec3 {
  const ways = axes.map((axis) => {
    const [x, y] = [dot(axis, right), dot(axis, up)]
    const size = Math.hypot(x, y)
    // Seen nearly end on, a pixel would be a leap.
    const reach = size < 0.2 ? 0 : (across * x + upward * y) / size
    return { axis, reach, by: size < 0.2 ? 0 : reach / size }
  })
  const best = ways.reduce((one, other) => (Math.abs(other.reach) > Math.abs(one.reach) ? other : one))
  return scale(best.axis, best.by)
}

const onStep = (x: number, step: number): number => Math.round(Math.round(x / step) * step * 1e9) / 1e9 + 0

export type KeyWay = 'across' | 'up' | 'towards'

/** Which axis of the bay, and in which sense, lies most to the right, most upwards and most towards the eye. */
export function keyAxes(rig: Rig): Readonly<Record<KeyWay, Vec3>> {
  const { right, up } = axesOf(rig)
  const across = nearest(right, axes)
  const upward = nearest(
    up,
    axes.filter((axis) => dot(axis, across) === 0),
  )
  const last = axes.find((axis) => dot(axis, across) === 0 && dot(axis, upward) === 0) as Vec3
  const { eye } = axesOf(rig)
  return { across, up: upward, towards: dot(last, eye) < 0 ? against(last) : last }
}

function nearest(way: Vec3, among: readonly Vec3[]): Vec3 {
  const best = among.reduce((one, other) => (Math.abs(dot(other, way)) > Math.abs(dot(one, way)) + 1e-9 ? other : one))
  return dot(best, way) < 0 ? against(best) : best
}

/** The other way; zeros stay plain ones. */
const against = (way: Vec3): Vec3 => way.map((x) => 0 - x) as unknown as Vec3

/** The way of a key that moves a point, or null: arrows in the picture, Page up and Page down along the third axis. */
export function keyWay(key: string, rig: Rig): Vec3 | null {
  const { across, up, towards } = keyAxes(rig)
  const ways: Readonly<Record<string, Vec3>> = {
    ArrowRight: across,
    ArrowLeft: against(across),
    ArrowUp: up,
    ArrowDown: against(up),
    PageUp: towards,
    PageDown: against(towards),
  }
  return ways[key] ?? null
}
