import type { Bounds } from '../../../core/shape/form.ts'
import { add, along, cross, dot, mix, scale, sub, type Vec3 } from '../../../core/shape/vec.ts'
import type { ViewName } from '../state/windowState.ts'

/**
 * Where a parallel-lines camera looks. Plain values and pure steps; the viewport only follows them.
 * Bay frame: X rearward, Y right, Z up. Azimuth 0 looks from the front, 90° from the left, elevation 90° from above.
 */
export interface Rig {
  readonly target: Vec3
  /** Radians. */
  readonly azimuth: number
  /** Radians, within ±90°. */
  readonly elevation: number
  /** mm of the bay in one pixel. */
  readonly scale: number
}

/** Pixels: the drawing's size, and how much of each side is covered by labels. */
export interface Frame {
  readonly width: number
  readonly height: number
  readonly top: number
  readonly bottom: number
  readonly left: number
  readonly right: number
}

const quarter = Math.PI / 2
/** Front, side and plan as on a drawing sheet: the plan lies under the front view, its front edge down. */
const turns: Record<ViewName, Pick<Rig, 'azimuth' | 'elevation'>> = {
  space: { azimuth: 0.62, elevation: 0.42 },
  front: { azimuth: 0, elevation: 0 },
  side: { azimuth: quarter, elevation: 0 },
  plan: { azimuth: 0, elevation: quarter },
}

export const startRig = (view: ViewName): Rig => ({ target: [0, 0, 0], scale: 2, ...turns[view] })

/** Unit vectors of the picture in the bay: to the right, up, and towards the eye. */
export function axesOf({ azimuth, elevation }: Pick<Rig, 'azimuth' | 'elevation'>): {
  right: Vec3
  up: Vec3
  eye: Vec3
} {
  const [ca, sa, ce, se] = [Math.cos(azimuth), Math.sin(azimuth), Math.cos(elevation), Math.sin(elevation)]
  const eye: Vec3 = [-ca * ce, -sa * ce, se]
  const up: Vec3 = [ca * se, sa * se, ce]
  return { eye, up, right: cross(up, eye) }
}

/** Whether a rig looks along one of the bay's axes, as front, side and plan do. */
export const isAlongAxis = ({ azimuth, elevation }: Pick<Rig, 'azimuth' | 'elevation'>): boolean =>
  Math.abs(elevation) === quarter || (elevation === 0 && Math.abs(azimuth % quarter) < 1e-9)

/** Where a point of the bay stands in the picture: pixels from its top left. */
export function onScreen(point: Vec3, rig: Rig, frame: Pick<Frame, 'width' | 'height'>): readonly [number, number] {
  const { right, up } = axesOf(rig)
  const away = sub(point, rig.target)
  return [frame.width / 2 + dot(away, right) / rig.scale, frame.height / 2 - dot(away, up) / rig.scale]
}

const clamped = (x: number, low: number, high: number): number => Math.min(high, Math.max(low, x))
/** From a hundredth of a millimetre to 100 mm a pixel. */
const scaleLimits = [0.01, 100] as const

export const orbited = (rig: Rig, azimuth: number, elevation: number): Rig => ({
  ...rig,
  azimuth: (rig.azimuth + azimuth) % (2 * Math.PI),
  elevation: clamped(rig.elevation + elevation, -quarter, quarter),
})

/** Moves the picture with the pointer, pixels. */
export function panned(rig: Rig, dx: number, dy: number): Rig {
  const { right, up } = axesOf(rig)
  return { ...rig, target: along(along(rig.target, right, -dx * rig.scale), up, dy * rig.scale) }
}

/** @param about pixels from the middle of the picture: what lies there stays there */
export function zoomed(rig: Rig, factor: number, about: readonly [number, number] = [0, 0]): Rig {
  const wanted = clamped(rig.scale / factor, ...scaleLimits)
  const { right, up } = axesOf(rig)
  const shift = rig.scale - wanted
  return { ...rig, scale: wanted, target: along(along(rig.target, right, about[0] * shift), up, -about[1] * shift) }
}

/** The same way of looking, at all of the bounds. */
export function fitted(rig: Rig, bounds: Bounds, frame: Frame): Rig {
  const { right, up } = axesOf(rig)
  const middle = scale(add(bounds.min, bounds.max), 0.5)
  const reach = (axis: Vec3) => axis.reduce((sum, x, k) => sum + (Math.abs(x) * (bounds.max[k] - bounds.min[k])) / 2, 0)
  const room = [frame.width - frame.left - frame.right, frame.height - frame.top - frame.bottom]
  const needed = Math.max((2 * reach(right)) / Math.max(room[0], 40), (2 * reach(up)) / Math.max(room[1], 40), 0.02)
  const wanted = clamped(needed * 1.06, ...scaleLimits)
  // The middle of the free room is not the middle of the picture.
  const [dx, dy] = [(frame.left - frame.right) / 2, (frame.top - frame.bottom) / 2]
  return { ...rig, scale: wanted, target: along(along(middle, right, -dx * wanted), up, dy * wanted) }
}

/**
 * Looks at a gap from close by. The gap takes about a ninth of the picture, but what is around it stays recognisable;
 * in space the eye turns where the gap would be seen end on.
 */
export function flownTo(rig: Rig, from: Vec3, to: Vec3, frame: Frame, mayTurn: boolean): Rig {
  const middle = mix(from, to, 0.5)
  const apart = sub(to, from)
  const size = Math.hypot(...apart)
  const turned = mayTurn && size > 0 ? turnedAside(rig, scale(apart, 1 / size)) : rig
  const { right, up } = axesOf(turned)
  const room = Math.min(frame.width - frame.left - frame.right, frame.height - frame.top - frame.bottom)
  const wanted = clamped(clamped(size * 9, 360, 2000) / Math.max(room, 80), ...scaleLimits)
  const [dx, dy] = [(frame.left - frame.right) / 2, (frame.top - frame.bottom) / 2]
  return { ...turned, scale: wanted, target: along(along(middle, right, -dx * wanted), up, dy * wanted) }
}

/** The nearest way of looking, in steps of azimuth, from which a direction is seen mostly from the side. */
function turnedAside(rig: Rig, direction: Vec3): Rig {
  const endOn = (r: Rig) => Math.abs(dot(axesOf(r).eye, direction))
  if (endOn(rig) < 0.75) return rig
  const tries = [-40, 40, -60, 60, -80, 80].map((degrees) => orbited(rig, (degrees * Math.PI) / 180, 0))
  const lifted = [...tries, orbited({ ...rig, elevation: 0.3 }, 0.6, 0), { ...rig, elevation: 0.2 }]
  return lifted.find((r) => endOn(r) < 0.75) ?? rig
}

/** A rig on the way, share 0 to 1; azimuth goes the short way round, scale evenly in its logarithm. */
export function between(from: Rig, to: Rig, share: number): Rig {
  const around = Math.atan2(Math.sin(to.azimuth - from.azimuth), Math.cos(to.azimuth - from.azimuth))
  return {
    target: mix(from.target, to.target, share),
    azimuth: from.azimuth + around * share,
    elevation: from.elevation + (to.elevation - from.elevation) * share,
    scale: from.scale * (to.scale / from.scale) ** share,
  }
}
