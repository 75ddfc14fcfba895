import type { Bounds } from '../../shape/form.ts'
import { cross, dot, type Vec3 } from '../../shape/vec.ts'

export type ViewName = 'front' | 'side' | 'plan'

/** A direction to look in, as three unit vectors of the bay that are square to each other. */
export interface AnyView {
  /** To the right of the picture. */
  readonly right: Vec3
  readonly up: Vec3
  /** From the picture to who looks at it. */
  readonly eye: Vec3
}

export interface View extends AnyView {
  readonly name: ViewName
}

/** A point of the picture, mm, true to scale: to the right, and up. */
export type Flat = readonly [number, number]
/** A point of the picture with how near it is to who looks: larger is nearer, mm. */
export type Seen = readonly [number, number, number]

const view = (name: ViewName, eye: Vec3, up: Vec3): View => ({ name, eye, up, right: cross(up, eye) })

/**
 * From the front, from the car's left, and from above with the front edge down. Bay frame: X rearward, Y right, Z up.
 * Where each stands beside the others on a sheet is a matter of first or third angle (ISO 5456-2), not of the view.
 */
export const views: Readonly<Record<ViewName, View>> = {
  front: view('front', [-1, 0, 0], [0, 0, 1]),
  side: view('side', [0, -1, 0], [0, 0, 1]),
  plan: view('plan', [0, 0, 1], [1, 0, 0]),
}

const third = 1 / Math.sqrt(3)
const half = Math.SQRT1_2

/** From the front, the car's left and above, alike: all three axes are seen equally shortened (isometric, ISO 5456-3, from memory). */
export const isometric: AnyView = {
  eye: [-third, -third, third],
  right: [-half, half, 0],
  up: [third * half, third * half, 2 * third * half],
}

export const seen = ({ right, up, eye }: AnyView, p: Vec3): Seen => [dot(p, right), dot(p, up), dot(p, eye)]

/** From where to where bounds reach towards who looks; for views along an axis. */
export function depthOf({ min, max }: Bounds, { eye }: AnyView): [number, number] {
  const k = eye.findIndex((x) => Math.abs(x) > 0.5)
  return eye[k] > 0 ? [min[k], max[k]] : [-max[k], -min[k]]
}

/** What bounds cover of a picture; for views along axes. */
export function frameOfBounds({ min, max }: Bounds, view: AnyView): Frame {
  return frameOf([seen(view, min), seen(view, max)])
}

/** Rectangle around points of a picture; `empty` has its sides the wrong way round. */
export interface Frame {
  readonly min: Flat
  readonly max: Flat
}

export const emptyFrame: Frame = { min: [Infinity, Infinity], max: [-Infinity, -Infinity] }

export function frameOf(points: Iterable<readonly number[]>): Frame {
  let [u0, v0, u1, v1] = [Infinity, Infinity, -Infinity, -Infinity]
  for (const [u, v] of points) {
    u0 = Math.min(u0, u)
    v0 = Math.min(v0, v)
    u1 = Math.max(u1, u)
    v1 = Math.max(v1, v)
  }
  return { min: [u0, v0], max: [u1, v1] }
}

export const joinedFrame = (a: Frame, b: Frame): Frame => ({
  min: [Math.min(a.min[0], b.min[0]), Math.min(a.min[1], b.min[1])],
  max: [Math.max(a.max[0], b.max[0]), Math.max(a.max[1], b.max[1])],
})

export const framesMeet = (a: Frame, b: Frame): boolean =>
  a.min[0] <= b.max[0] && b.min[0] <= a.max[0] && a.min[1] <= b.max[1] && b.min[1] <= a.max[1]
