import { add, cross, dot, scale, sinCos } from '../shape/vec.ts'
import type { Vec3 } from '../shape/vec.ts'
import type { MountHole, MountPlace, MountShape } from './mountSchema.ts'
import type { Candidate } from './schema.ts'
import { faceNormal, portPoint, sideSign, tankFrame } from './tankPort.ts'
import type { Side } from './tankPort.ts'

/** The place of a mount on its part, in the candidate's frame before `turn`, origin at the core's centre, mm. */
export interface MountFrame {
  /** On the actual face. */
  readonly at: Vec3
  /** Unit, along the candidate's axes: where u and v grow. */
  readonly u: Vec3
  readonly v: Vec3
  /** Unit: the face's outward axis; the axis, not the normal of a tapered face. */
  readonly out: Vec3
  /** Unit, outward, of the actual face. */
  readonly normal: Vec3
}

/** What holes can be in. */
export type Holed = Exclude<MountShape, { kind: 'pin' }>

const x: Vec3 = [1, 0, 0]
const y: Vec3 = [0, 1, 0]
const z: Vec3 = [0, 0, 1]
const outwards: Record<Exclude<MountPlace['face'], 'end'>, Vec3> = {
  front: [-1, 0, 0],
  rear: x,
  left: [0, -1, 0],
  right: y,
  below: [0, 0, -1],
  above: z,
}

export const sideOf = (part: Exclude<MountPlace['part'], 'core'>): Side => (part === 'tank-left' ? 'left' : 'right')

/**
 * Where a mount sits; it follows the part when the core changes size.
 * @returns null where the candidate has no such tank
 */
export function mountFrame(candidate: Pick<Candidate, 'core' | 'tanks'>, on: MountPlace): MountFrame | null {
  if (on.part === 'core') return coreFrame(candidate.core, on)
  const side = sideOf(on.part)
  const tank = candidate.tanks?.[side]
  if (!tank) return null
  const frame = tankFrame(candidate.core, tank, side)
  const outward = scale(y, sideSign(side))
  return {
    at: portPoint(on, frame),
    u: on.face === 'end' ? x : outward,
    v: on.face === 'below' || on.face === 'above' ? x : z,
    out: on.face === 'end' ? outward : outwards[on.face],
    normal: faceNormal(on.face, frame),
  }
}

function coreFrame(core: Candidate['core'], { face, u, v }: Extract<MountPlace, { part: 'core' }>): MountFrame {
  const out = outwards[face]
  const uAxis = face === 'left' || face === 'right' ? x : y
  const vAxis = face === 'below' || face === 'above' ? x : z
  const half: Vec3 = [core.depth / 2, core.width / 2, core.height / 2]
  const across = (axis: Vec3, share: number) => scale(axis, share * Math.abs(dot(axis, half)))
  return {
    at: add(across(out, 1), add(across(uAxis, u), across(vAxis, v))),
    u: uAxis,
    v: vAxis,
    out,
    normal: out,
  }
}

/** A plate or block: along `first` and `second` it lies evenly about the place, outward from `from` to `to`, mm. */
export interface MountBox {
  /** Unit, candidate's frame; `first`, `second` and the frame's `out` are square to each other. */
  readonly first: Vec3
  readonly second: Vec3
  readonly size: readonly [first: number, second: number]
  readonly from: number
  readonly to: number
}

/**
 * The room that a plate or block takes, from the face to its far side.
 * On a tapered face it begins as far behind its place as the face falls away under it, so that no wedge is left open.
 */
export function mountBox(shape: Holed, frame: MountFrame): MountBox {
  const [first, second] = sidesOf(shape, frame)
  const size: [number, number] =
    shape.kind === 'plate' && shape.stands === 'out' ? [shape.size[0], shape.thickness] : [shape.size[0], shape.size[1]]
  const to =
    shape.kind === 'block'
      ? shape.size[2]
      : (shape.standOff ?? 0) + (shape.stands === 'out' ? shape.size[1] : shape.thickness)
  return { first, second, size, from: -fallUnder(frame, first, second, size), to }
}

function sidesOf({ turn = 0 }: { readonly turn?: number }, { u, v }: MountFrame): [Vec3, Vec3] {
  const [s, c] = sinCos(turn)
  return [add(scale(u, c), scale(v, s)), add(scale(u, -s), scale(v, c))]
}

function fallUnder({ normal, out }: MountFrame, first: Vec3, second: Vec3, [a, b]: readonly [number, number]): number {
  const down = (Math.abs(dot(normal, first)) * a + Math.abs(dot(normal, second)) * b) / 2
  return down / dot(normal, out)
}

/** How far behind its place a pin begins, mm. */
export function pinRoot(diameter: number, { normal, out }: MountFrame): number {
  const cosine = dot(normal, out)
  return ((diameter / 2) * Math.sqrt(Math.max(0, 1 - cosine * cosine))) / cosine
}

/** A hole in a mount, candidate's frame before `turn`, mm. */
export interface HolePlace {
  /** Its middle, half-way through. */
  readonly at: Vec3
  /** Unit; the way it goes through. */
  readonly axis: Vec3
  /** Unit; the way a slot runs. */
  readonly along: Vec3
  /** How much it goes through, mm. */
  readonly depth: number
}

export function holePlace(hole: MountHole, shape: Holed, frame: MountFrame): HolePlace {
  const [first, second] = sidesOf(shape, frame)
  const stands = shape.kind === 'plate' && shape.stands === 'out'
  const [a, b] = hole.at ?? [0, 0]
  const [s, c] = sinCos(hole.angle ?? 0)
  const across = stands ? frame.out : second
  const standOff = shape.kind === 'plate' ? (shape.standOff ?? 0) : 0
  const depth = shape.kind === 'plate' ? shape.thickness : shape.size[2]
  const outward = stands ? standOff + shape.size[1] / 2 : standOff + depth / 2
  return {
    at: add(frame.at, add(scale(frame.out, outward), add(scale(first, a), scale(across, b)))),
    axis: stands ? second : frame.out,
    along: add(scale(first, c), scale(across, s)),
    depth,
  }
}

/** Columns: first side, second side, outward; turned the other way round where that would mirror. */
export function boxAxes({ first, second }: MountBox, { out }: MountFrame): readonly [Vec3, Vec3, Vec3] {
  return dot(cross(first, second), out) > 0 ? [first, second, out] : [scale(first, -1), second, out]
}

/** How far a hole's edge reaches beyond the plate or block that it is in, mm; below 0 where it lies within. */
export function holeBeyond(
  { at = [0, 0], diameter, length = diameter, angle = 0 }: MountHole,
  { size }: Holed,
): number {
  const [s, c] = sinCos(angle)
  const half = Math.max(0, length - diameter) / 2
  return Math.max(
    ...[Math.abs(c) * half, Math.abs(s) * half].map((reach, k) => Math.abs(at[k]) + reach + diameter / 2 - size[k] / 2),
  )
}
