import { dot, along, placed, placedBack, scale, sub, turned, turnMatrix } from '../shape/vec.ts'
import type { Pose, Vec3 } from '../shape/vec.ts'
import { holePlace, mountFrame } from './mountFrame.ts'
import type { HolePlace, MountFrame } from './mountFrame.ts'
import type { Fixing, Mount } from './mountSchema.ts'
import type { Candidate } from './schema.ts'

type Posed = Pick<Candidate, 'at' | 'turn' | 'core' | 'tanks'>

const poseOf = ({ at, turn }: Posed): Pose => ({ turn: turnMatrix(turn), at })
const triple = ([x, y, z]: Vec3): [number, number, number] => [clean(x), clean(y), clean(z)]
/** Free of the dust of turning. */
const clean = (x: number): number => Math.round(x * 1e6) / 1e6 + 0

/**
 * Where the car's fixing would be for a mount that is drawn first: behind the middle of its hole, on the mount's far side;
 * half-way along a pin.
 * @param hole which of its holes; of no meaning for a pin
 * @returns bay frame, mm; null where the candidate lacks the mount's tank, or the mount such a hole
 */
export function fixingBehind(candidate: Posed, mount: Mount, hole = 0): Pick<Fixing, 'at' | 'axis'> | null {
  const frame = mountFrame(candidate, mount.on)
  const pose = poseOf(candidate)
  if (!frame) return null
  const place = placeOf(mount, frame, hole)
  if (!place) return null
  const { at, axis, depth } = place
  return { at: triple(placed(pose, along(at, axis, depth / 2))), axis: triple(turned(pose.turn, scale(axis, -1))) }
}

function placeOf({ shape }: Mount, frame: MountFrame, index: number): Pick<HolePlace, 'at' | 'axis' | 'depth'> | null {
  if (shape.kind === 'pin') return { at: along(frame.at, frame.out, shape.length / 2), axis: frame.out, depth: 0 }
  const hole = shape.holes?.[index]
  return hole ? holePlace(hole, shape, frame) : null
}

/** Newton steps; the places of a tapered face are products of u and v at most, so that few are enough. */
const rounds = 20

/**
 * The place on the same face at which a mount's first hole, or its pin, lies over its fixing.
 * @returns u and v from −1 to 1; null where the fixing lies beyond the face, or the hole goes through along it
 */
export function placeOver(candidate: Posed, mount: Mount, fixing: Fixing): { u: number; v: number } | null {
  const { shape, on } = mount
  const target = placedBack(poseOf(candidate), fixing.at)
  /** How far the hole is off, square to its own axis, along two ways. */
  const off = (u: number, v: number): readonly [number, number] | null => {
    const frame = mountFrame(candidate, { ...on, u, v })
    if (!frame) return null
    const hole = placeOf(mount, frame, 0)
    if (!hole) return null
    const gap = sub(hole.at, target)
    return [dot(gap, frame.u), dot(gap, frame.v)]
  }
  if (shape.kind === 'plate' && shape.stands === 'out') return null
  let [u, v] = [on.u, on.v]
  for (let n = 0; n < rounds; n++) {
    const here = off(u, v)
    if (!here) return null
    if (Math.hypot(...here) < 1e-9) break
    const [du, dv] = [off(u + slight, v), off(u, v + slight)].map((there) =>
      there ? [(there[0] - here[0]) / slight, (there[1] - here[1]) / slight] : [0, 0],
    )
    const det = du[0] * dv[1] - dv[0] * du[1]
    if (!(Math.abs(det) > 1e-9)) return null
    u -= (here[0] * dv[1] - here[1] * dv[0]) / det
    v -= (du[0] * here[1] - du[1] * here[0]) / det
  }
  const last = off(u, v)
  if (!last || Math.hypot(...last) > 1e-6 || Math.abs(u) > 1 || Math.abs(v) > 1) return null
  return { u: clean(u), v: clean(v) }
}

const slight = 1e-3
