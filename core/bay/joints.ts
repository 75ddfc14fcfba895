import { centrelineLength, pointAlong } from '../shape/centreline.ts'
import type { ArcPiece, Piece } from '../shape/form.ts'
import { add, along, cross, distance, dot, scale, sinCos, sub, unit } from '../shape/vec.ts'
import type { Vec3 } from '../shape/vec.ts'
import type { Bay } from './schema.ts'
import type { Clamp, Coupler, CouplerJoint } from './workshopSchema.ts'

/** Where a pipe leaves the car or a tank, bay frame, mm: a port of the bay, or the end of a tank's stub. */
export interface PortPlace {
  readonly at: Vec3
  /** Unit; the way the pipe leaves it. */
  readonly direction: Vec3
  readonly outsideDiameter: number
}

/** A clamp on a hose, bay frame, mm. */
export interface ClampPlace {
  readonly on: 'port' | 'pipe'
  readonly clamp: Clamp
  /** Middle of the band, on the hose's axis. */
  readonly at: Vec3
  /** Unit; the hose's axis there, the way the pipe leaves the port. */
  readonly axis: Vec3
  /** Unit, square to the axis: where the screw stands; null where the bay leaves it open. */
  readonly screw: Vec3 | null
  /** Diameter that it closes on: the tube's outside and twice the hose's wall. */
  readonly closesOn: number
  /** Of the hose before it is closed; never less than `closesOn`. */
  readonly hoseDiameter: number
  /** Along the hose's axis, from its end over the port to the middle of the band. */
  readonly along: number
}

/** A coupler's joint as geometry, bay frame. Lengths mm. */
export interface ResolvedJoint {
  readonly port: PortPlace
  readonly coupler: Coupler
  /** The coupler's second end is the one over the port. */
  readonly turned: boolean
  /** The hose's axis, from its end over the port to its end over the pipe. */
  readonly axis: readonly Piece[]
  readonly length: number
  /** The largest outside diameter of the hose, a hump apart. */
  readonly hoseDiameter: number
  /** How far port and pipe go in; below zero where the pipe ends short of the hose. */
  readonly insertion: { readonly port: number; readonly pipe: number }
  /**
   * Open length between the tubes' ends along the axis; below zero where they would overlap. For an elbow, how far the
   * pipe stands off from where the elbow would have it.
   */
  readonly gap: number
  /** Of the pipe's end, sideways from the axis. */
  readonly offset: number
  /** Where the coupler would have the pipe's end, and the way that the pipe leaves there (unit). */
  readonly outlet: { readonly at: Vec3; readonly direction: Vec3 }
  /** Where the pipe's tube begins. */
  readonly end: Vec3
  /** From the port to the beginning of the pipe's tube, along the run; not below zero. */
  readonly passed: number
  readonly clamps: readonly ClampPlace[]
}

/** From the hose's end to the near side of a clamp's band, mm. Common practice, a quarter of an inch; checks D3.6. */
export const clampFromEnd = 6

/** Nearer than this to ±Z, rolls count from X: sine of 2.5°. */
const steep = Math.sin((2.5 * Math.PI) / 180)

/**
 * Where rolls about a direction count from: the part of +Z that is square to it, or of +X where the direction is within
 * 2.5° of ±Z. Rolls turn right-handed about the direction.
 * @param direction unit
 * @returns unit, square to it
 */
export function rollZero(direction: Vec3): Vec3 {
  const from: Vec3 = Math.hypot(direction[0], direction[1]) <= steep ? [1, 0, 0] : [0, 0, 1]
  return unit(along(from, direction, -dot(from, direction)))
}

/** The way that `rollZero` points after a roll about the direction (unit), degrees, right-handed; unit. */
export function rolled(direction: Vec3, roll: number): Vec3 {
  const [s, c] = sinCos(roll)
  const zero = rollZero(direction)
  return add(scale(zero, c), scale(cross(direction, zero), s))
}

/**
 * A joint with a coupler as geometry.
 *
 * A straight coupler or hump of length L with the open length g between the tubes goes over each of them by (L − g)/2;
 * the pipe begins g beyond the port, the same way on. An elbow goes over the port and over the pipe by its `insertion`;
 * the way on is the port's, turned by its angle towards `rolled(direction, roll)`.
 * The end over the port is the one whose inside diameter is nearer to the port's outside diameter; the first if both are.
 * A pipe's `end` in the bay counts before that, direction kept. With it and without a `gap`, a straight coupler stands in
 * the middle of what is open between the tubes, as far as it reaches.
 *
 * @param port bay frame, mm
 * @param pipeDiameter outside, mm
 * @param stock must hold the coupler and the clamps that the joint names, sizes as `checkBay` passes them
 * @returns null where one of them is not in stock. Whether the joint holds (gap, offset, diameters, clamps) is not judged here.
 */
export function jointAt(
  port: PortPlace,
  joint: CouplerJoint,
  pipeDiameter: number,
  stock: Bay['stock'],
): ResolvedJoint | null {
  const coupler = stock?.couplers?.find(({ id }) => id === joint.coupler)
  if (!coupler) return null
  const turned = nearerSecond(coupler.insideDiameters, port.outsideDiameter)
  const hose = hoseOf(port, coupler, turned, joint)
  const length = centrelineLength(hose.axis)
  const end = joint.end ?? hose.outlet.at
  const off = sub(end, hose.outlet.at)
  const axial = dot(off, hose.outlet.direction)
  const hoseDiameter = Math.max(...coupler.insideDiameters, port.outsideDiameter, pipeDiameter) + 2 * coupler.wall
  const clamps: ClampPlace[] = []
  for (const on of ['port', 'pipe'] as const) {
    const wanted = joint.clamps?.[on]
    if (!wanted) continue
    const clamp = stock?.clamps?.find(({ id }) => id === wanted.clamp)
    if (!clamp) return null
    const tube = on === 'port' ? port.outsideDiameter : pipeDiameter
    const place = clampPlace(hose.axis, on, clamp, wanted.roll)
    clamps.push({ ...place, closesOn: tube + 2 * coupler.wall, hoseDiameter })
  }
  return {
    port,
    coupler,
    turned,
    axis: hose.axis,
    length,
    hoseDiameter,
    insertion: { port: hose.insertion, pipe: length - hose.insertion - hose.passed - axial },
    gap: coupler.form === 'elbow' ? axial : hose.passed + axial,
    offset: distance(off, scale(hose.outlet.direction, axial)),
    outlet: hose.outlet,
    end,
    passed: Math.max(0, hose.passed + axial),
    clamps,
  }
}

const nearerSecond = ([first, second]: readonly [number, number], diameter: number): boolean =>
  Math.abs(second - diameter) < Math.abs(first - diameter)

/** The hose where the coupler would have it. */
interface Hose {
  readonly axis: readonly Piece[]
  /** Over the port. */
  readonly insertion: number
  /** From the port to where the pipe's end should be, along the axis. */
  readonly passed: number
  readonly outlet: ResolvedJoint['outlet']
}

function hoseOf(port: PortPlace, coupler: Coupler, turned: boolean, joint: CouplerJoint): Hose {
  const { at, direction } = port
  if (coupler.form === 'elbow') return elbowHose(port, coupler, turned, joint.roll ?? 0)
  const open = joint.end ? Math.min(coupler.length, Math.max(0, dot(sub(joint.end, at), direction))) : 0
  const gap = joint.gap ?? open
  const insertion = (coupler.length - gap) / 2
  return {
    axis: [{ kind: 'straight', from: along(at, direction, -insertion), to: along(at, direction, gap + insertion) }],
    insertion,
    passed: gap,
    outlet: { at: along(at, direction, gap), direction },
  }
}

/** Found from the arc's centre and not from its corner, which an elbow of 180° does not have. */
function elbowHose(
  { at, direction }: PortPlace,
  { legs, insertion, angle, radius }: Extract<Coupler, { form: 'elbow' }>,
  turned: boolean,
  roll: number,
): Hose {
  const [portLeg, pipeLeg] = turned ? [legs[1], legs[0]] : legs
  const towards = rolled(direction, roll)
  const arcStart = along(at, direction, portLeg - insertion)
  const arc: ArcPiece = {
    kind: 'arc',
    centre: along(arcStart, towards, radius),
    x: scale(towards, -1),
    y: direction,
    radius,
    angle: (angle * Math.PI) / 180,
  }
  const { point: arcEnd, direction: exit } = pointAlong(arc, 1)
  return {
    axis: [
      { kind: 'straight', from: along(at, direction, -insertion), to: arcStart },
      arc,
      { kind: 'straight', from: arcEnd, to: along(arcEnd, exit, pipeLeg) },
    ],
    insertion,
    passed: portLeg - insertion + radius * arc.angle + pipeLeg - insertion,
    outlet: { at: along(arcEnd, exit, pipeLeg - insertion), direction: exit },
  }
}

function clampPlace(axis: readonly Piece[], on: 'port' | 'pipe', clamp: Clamp, roll: number | undefined) {
  const fromEnd = clampFromEnd + clamp.band / 2
  const [first, last] = [axis[0], axis[axis.length - 1]]
  const { point, direction } = on === 'port' ? pointAlong(first, 0) : pointAlong(last, 1)
  return {
    on,
    clamp,
    at: along(point, direction, on === 'port' ? fromEnd : -fromEnd),
    axis: direction,
    screw: roll === undefined ? null : rolled(direction, roll),
    along: on === 'port' ? fromEnd : centrelineLength(axis) - fromEnd,
  }
}

/**
 * How far the pipe's axis may lie beside the hose's, within the hose, mm: the pipe's end may be offset, and its first
 * straight may lean.
 * @param next the pipe's next point after its end, or null where it has none yet: then it runs on straight
 */
export function strayOf({ end, outlet, insertion, offset }: ResolvedJoint, next: Vec3 | null): number {
  const way = next === null ? outlet.direction : unit(sub(next, end))
  const hoseEnd = along(end, way, Math.max(0, insertion.pipe))
  const off = sub(hoseEnd, outlet.at)
  return Math.max(offset, distance(off, scale(outlet.direction, dot(off, outlet.direction))))
}
