import type { Candidate } from '../../../core/bay/schema.ts'
import { add, type Mat3, scale, sub, turned, turnedBack, turnMatrix, type Vec3 } from '../../../core/shape/vec.ts'

/**
 * The six faces of a core in the candidate's own axes, mm: low x, y, z, then high x, y, z. The axes are the bay's turned by
 * the candidate's `turn` and begin at a pivot that stays where it is when the candidate tilts.
 */
export type Faces = Float64Array

/** A coordinate that follows the two faces of one axis: onLow·low + onHigh·high + offset, neither factor negative. */
export interface Follower {
  readonly onLow: number
  readonly onHigh: number
  readonly offset: number
}

/** A box that lies in one of the candidate's parts and follows the core's faces; a point where low and high are one. */
export interface FollowingBox {
  readonly part: string
  readonly low: readonly [Follower, Follower, Follower]
  readonly high: readonly [Follower, Follower, Follower]
}

export const followed = ({ onLow, onHigh, offset }: Follower, faces: Faces, axis: number): number =>
  onLow * faces[axis] + onHigh * faces[3 + axis] + offset

export const dimension = (faces: Faces, axis: number): number => faces[3 + axis] - faces[axis]

const lowFace: Follower = { onLow: 1, onHigh: 0, offset: 0 }
const highFace: Follower = { onLow: 0, onHigh: 1, offset: 0 }

export const coreBox: FollowingBox = {
  part: 'core',
  low: [lowFace, lowFace, lowFace],
  high: [highFace, highFace, highFace],
}

/**
 * The box between a tank's foot and its cross-section at `share` of its length, as wide as that section: sections shrink
 * outward, so it lies in the tank.
 */
export function tankBox(candidate: Candidate, side: 'left' | 'right', share: number): FollowingBox {
  const tank = candidate.tanks?.[side]
  if (!tank) throw new Error(`no ${side} tank`)
  const [lowX, highX] = section(-tank.front, tank.rear, (share * (1 - (tank.taper?.depth ?? 1))) / 2)
  const [lowZ, highZ] = section(-tank.below, tank.above, (share * (1 - (tank.taper?.height ?? 1))) / 2)
  const reach = share * tank.length
  const [lowY, highY] =
    side === 'left' ? [{ ...lowFace, offset: -reach }, lowFace] : [highFace, { ...highFace, offset: reach }]
  return { part: `tank-${side}`, low: [lowX, lowY, lowZ], high: [highX, highY, highZ] }
}

/** Both sides of a section that has moved in by `a` of the foot's width on each side. */
const section = (below: number, above: number, a: number): [Follower, Follower] => [
  { onLow: 1 - a, onHigh: a, offset: (1 - a) * below + a * above },
  { onLow: a, onHigh: 1 - a, offset: a * below + (1 - a) * above },
]

export const isTapered = (candidate: Candidate, side: 'left' | 'right'): boolean => {
  const taper = candidate.tanks?.[side]?.taper
  return taper !== undefined && (taper.depth < 1 || taper.height < 1)
}

/** The candidate's axes: from the bay's frame into them and back. */
export interface Axes {
  readonly turn: Mat3
  readonly pivot: Vec3
}

export const axesOf = ({ turn }: Candidate, pivot: Vec3): Axes => ({ turn: turnMatrix(turn), pivot })
export const intoAxes = ({ turn, pivot }: Axes, point: Vec3): Vec3 => turnedBack(turn, sub(point, pivot))

/** The candidate with its core between the faces. */
export function candidateAt(candidate: Candidate, axes: Axes, faces: Faces): Candidate {
  const middle: Vec3 = [faces[0] / 2 + faces[3] / 2, faces[1] / 2 + faces[4] / 2, faces[2] / 2 + faces[5] / 2]
  const [depth, width, height] = [0, 1, 2].map((k) => dimension(faces, k))
  const at = add(turned(axes.turn, middle), axes.pivot)
  return { ...candidate, at: [...at], core: { ...candidate.core, depth, width, height } }
}

export function facesOf({ at, core }: Candidate, axes: Axes): Faces {
  const middle = intoAxes(axes, at)
  const half = scale([core.depth, core.width, core.height], 0.5)
  return Float64Array.of(...sub(middle, half), ...add(middle, half))
}
