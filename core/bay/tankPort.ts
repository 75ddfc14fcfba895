import { add, dot, unit } from '../shape/vec.ts'
import type { Vec3 } from '../shape/vec.ts'
import type { Candidate, Tank, TankPort } from './schema.ts'

export const sides = ['left', 'right'] as const
export type Side = (typeof sides)[number]
/** Left is −Y, right is +Y. */
export const sideSign = (side: Side): 1 | -1 => (side === 'left' ? -1 : 1)

/**
 * Foot and far end of a tank, in the candidate's frame before `turn`, origin at the core's centre, mm.
 * The foot lies on the core's side face; the far end is the foot scaled by `taper` about its centre.
 */
export interface TankFrame {
  /** Centre of the foot. */
  readonly centre: Vec3
  /** Half sizes along X at the foot and at the far end. */
  readonly halfDepth: readonly [foot: number, end: number]
  /** Half sizes along Z at the foot and at the far end. */
  readonly halfHeight: readonly [foot: number, end: number]
  /** +1 or −1: which way along Y is outward. */
  readonly outward: 1 | -1
  readonly length: number
}

export function tankFrame(core: Candidate['core'], tank: Tank, side: Side): TankFrame {
  const outward = sideSign(side)
  const halfDepth = (core.depth + tank.front + tank.rear) / 2
  const halfHeight = (core.height + tank.below + tank.above) / 2
  const { depth: taperDepth, height: taperHeight } = tank.taper ?? { depth: 1, height: 1 }
  return {
    centre: [(tank.rear - tank.front) / 2, (outward * core.width) / 2, (tank.above - tank.below) / 2],
    halfDepth: [halfDepth, halfDepth * taperDepth],
    halfHeight: [halfHeight, halfHeight * taperHeight],
    outward,
    length: tank.length,
  }
}

/**
 * Where a tank port sits, on the actual, tapered face; candidate's frame before `turn`, mm.
 * On `end`, u runs along depth (X) and v along height (Z); on `front` and `rear`, u runs outward and v along Z;
 * on `below` and `above`, u runs outward and v along X. Both from −1 to 1 across the face.
 */
export function portPoint(port: Pick<TankPort, 'face' | 'u' | 'v'>, frame: TankFrame): Vec3 {
  const { centre, halfDepth, halfHeight, outward, length } = frame
  // Share of the way from foot (0) to far end (1).
  const share = port.face === 'end' ? 1 : (port.u + 1) / 2
  const depthHere = halfDepth[0] + share * (halfDepth[1] - halfDepth[0])
  const heightHere = halfHeight[0] + share * (halfHeight[1] - halfHeight[0])
  const across: Record<TankPort['face'], readonly [x: number, z: number]> = {
    end: [port.u * depthHere, port.v * heightHere],
    front: [-depthHere, port.v * heightHere],
    rear: [depthHere, port.v * heightHere],
    below: [port.v * depthHere, -heightHere],
    above: [port.v * depthHere, heightHere],
  }
  const [x, z] = across[port.face]
  return add(centre, [x, outward * share * length, z])
}

/** Unit direction of a stub: its own, or the face's outward axis (the axis, not the normal of a tapered face). */
export function stubDirection(port: TankPort, side: Side): Vec3 {
  if (port.direction) return unit(port.direction)
  const axes: Record<TankPort['face'], Vec3> = {
    end: [0, sideSign(side), 0],
    front: [-1, 0, 0],
    rear: [1, 0, 0],
    below: [0, 0, -1],
    above: [0, 0, 1],
  }
  return axes[port.face]
}

/** Outward unit normal of a tank's actual, tapered face; candidate's frame before `turn`. */
export function faceNormal(face: TankPort['face'], { halfDepth, halfHeight, outward, length }: TankFrame): Vec3 {
  const inX = (outward * (halfDepth[0] - halfDepth[1])) / length
  const inZ = (outward * (halfHeight[0] - halfHeight[1])) / length
  const normals: Record<TankPort['face'], Vec3> = {
    end: [0, outward, 0],
    front: [-1, inX, 0],
    rear: [1, inX, 0],
    below: [0, inZ, -1],
    above: [0, inZ, 1],
  }
  return unit(normals[face])
}

/** How steeply a stub leaves its face at least: cosine of the angle to the normal. Flatter ones are refused in the bay. */
export const leastLeaving = 0.1
/** For sizes that only a search tries: flatter than this is counted as this. */
const flattest = 0.02

/** Cosine of the angle between a stub and its face's normal: 1 square to the face, 0 along it, negative into the tank. */
export const leaving = (port: TankPort, side: Side, frame: TankFrame): number =>
  dot(stubDirection(port, side), faceNormal(port.face, frame))

/**
 * How far behind its point on the face a stub's cylinder has to begin so that no wedge is left open between the face and
 * its flat beginning, mm: radius · tan of the angle to the face's normal.
 */
export function rootDepth(port: TankPort, side: Side, frame: TankFrame): number {
  const cosine = Math.min(1, Math.max(flattest, leaving(port, side, frame)))
  return ((port.outsideDiameter / 2) * Math.sqrt(1 - cosine * cosine)) / cosine
}
