import { defaultUncertainty } from '../bay/defaults.ts'
import { holePlace, mountFrame } from '../bay/mountFrame.ts'
import type { Fixing, Mount, MountHole } from '../bay/mountSchema.ts'
import { carrierTolerance } from '../bay/mountParts.ts'
import type { Bay, Candidate } from '../bay/schema.ts'
import { add, along, cross, dot, length, placed, scale, sub, turned, turnMatrix, unit } from '../shape/vec.ts'
import type { Pose, Vec3 } from '../shape/vec.ts'
import type { FastenerRoom } from './fastenerRoom.ts'
import { type Contribution, type Stack, stackOf } from './stack.ts'

/** A hole of a mount, or a pin, at its fixing, as the candidate stands; bay frame, mm. */
export interface HoleMeeting {
  readonly mount: Mount
  readonly fixing: Fixing
  /** Which of the mount's holes; null for a pin. */
  readonly index: number | null
  readonly own: MountHole | null
  /** Of what goes through: stud, thread, bolt or pin. */
  readonly fastener: number
  /** Unit: the fixing's axis. */
  readonly axis: Vec3
  /** Middle of the hole; for a pin where it passes the fixing's face. */
  readonly hole: Vec3
  /** Unit, across the axis: the way a slot of the mount runs, or its plate's first side. */
  readonly slotWay: Vec3
  readonly room: FastenerRoom
  /** (hole − fastener) / 2, of the mount and of the car; 0 where there is no hole. */
  readonly clearance: { readonly mount: number; readonly fixing: number }
  /** Half the free travel of the slots, mm. */
  readonly travel: { readonly mount: number; readonly fixing: number }
  /** Between hole and fixing, degrees, 0 … 90, over 90 for a pin that points away. */
  readonly angle: number
  /** From where the offset counts to the farther end of what goes through: half a plate, or all of a pin in its hole, mm. */
  readonly depth: number
  /** What that angle takes of the room, mm. */
  readonly lean: number
  /**
   * From the fixing's face to the mount's near side, along the axis: below 0 it would have to go into the car. For a pin, from
   * the face to its tip: below 0 it goes in.
   */
  readonly apart: number
  /** Middle of the mount's far side, where a tool is put on; null for a pin. */
  readonly outside: Vec3 | null
  readonly uncertainty: number
  readonly contributions: readonly Contribution[]
  readonly stack: Stack
}

/** All holes and pins of a candidate at their fixings; those that name no fixing of the bay are left out, which reading refuses. */
export function holeMeetings(bay: Pick<Bay, 'fixings'>, candidate: Candidate): HoleMeeting[] {
  const pose: Pose = { turn: turnMatrix(candidate.turn), at: candidate.at }
  return (candidate.mounts ?? []).flatMap((mount): HoleMeeting[] => {
    const { shape } = mount
    const fixingOf = (id: string | undefined) => bay.fixings?.find((fixing) => fixing.id === id)
    if (shape.kind === 'pin') {
      const fixing = fixingOf(shape.fixing)
      return fixing ? (pinMeeting(mount, fixing, candidate, pose) ?? []) : []
    }
    return (shape.holes ?? []).flatMap((hole, index) => {
      const fixing = fixingOf(hole.fixing)
      return fixing ? (plateMeeting(mount, hole, index, fixing, candidate, pose) ?? []) : []
    })
  })
}

function plateMeeting(
  mount: Mount,
  own: MountHole,
  index: number,
  fixing: Fixing,
  candidate: Candidate,
  pose: Pose,
): [HoleMeeting] | null {
  const frame = mountFrame(candidate, mount.on)
  if (!frame || mount.shape.kind === 'pin') return null
  const place = holePlace(own, mount.shape, frame)
  const axis = unit(fixing.axis)
  const hole = placed(pose, place.at)
  const fastener = own.bolt ?? fixing.diameter
  const slotWay = across(turned(pose.turn, place.along), axis)
  const travel = { mount: freeTravel(own), fixing: freeTravel(fixing) }
  const clearance = {
    mount: (own.diameter - fastener) / 2,
    fixing: own.bolt === undefined ? 0 : (fixing.diameter - fastener) / 2,
  }
  const tilt = angleBetween(turned(pose.turn, place.axis), axis)
  const angle = Math.min(tilt, 180 - tilt)
  const stands = dot(sub(hole, fixing.at), axis)
  return [
    {
      mount,
      fixing,
      index,
      own,
      fastener,
      axis,
      hole,
      slotWay,
      room: roomOf(fixing, axis, clearance, scale(slotWay, travel.mount), travel.fixing),
      clearance,
      travel,
      angle,
      depth: place.depth / 2,
      lean: leanOf(angle, place.depth / 2, fastener),
      apart: stands - place.depth / 2,
      outside: along(fixing.at, axis, stands + place.depth / 2),
      ...errorsOf(mount, fixing, candidate),
    },
  ]
}

function pinMeeting(mount: Mount, fixing: Fixing, candidate: Candidate, pose: Pose): [HoleMeeting] | null {
  const frame = mountFrame(candidate, mount.on)
  if (!frame || mount.shape.kind !== 'pin') return null
  const { diameter, length: reach } = mount.shape
  const axis = unit(fixing.axis)
  const out = turned(pose.turn, frame.out)
  const tip = placed(pose, along(frame.at, frame.out, reach))
  const apart = dot(sub(tip, fixing.at), axis)
  const angle = angleBetween(scale(out, -1), axis)
  const travel = { mount: 0, fixing: freeTravel(fixing) }
  const clearance = { mount: 0, fixing: (fixing.diameter - diameter) / 2 }
  const sinks = -dot(out, axis)
  return [
    {
      mount,
      fixing,
      index: null,
      own: null,
      fastener: diameter,
      axis,
      // Back along the pin to where it passes the face; one that lies along the face is judged at its tip.
      hole: sinks > 0.1 ? along(tip, out, apart / sinks) : tip,
      slotWay: across(turned(pose.turn, frame.u), axis),
      room: roomOf(fixing, axis, clearance, [0, 0, 0], travel.fixing),
      clearance,
      travel,
      angle,
      depth: Math.max(0, -apart),
      lean: leanOf(angle, Math.max(0, -apart), diameter),
      apart,
      outside: null,
      ...errorsOf(mount, fixing, candidate),
    },
  ]
}

/** Half of how far a fastener can go along a slot that it just fits in, mm. */
const freeTravel = ({ diameter, length: over = diameter }: { diameter: number; length?: number }): number =>
  Math.max(0, over - diameter) / 2

function across(v: Vec3, axis: Vec3): Vec3 {
  const flat = along(v, axis, -dot(v, axis))
  return length(flat) > 1e-6 ? unit(flat) : [0, 0, 0]
}

function roomOf(
  { along: way }: Fixing,
  axis: Vec3,
  clearance: HoleMeeting['clearance'],
  ofMount: Vec3,
  ofFixing: number,
): FastenerRoom {
  const slot = way && ofFixing > 0 ? scale(across(unit(way), axis), ofFixing) : null
  return {
    axis,
    round: clearance.mount + clearance.fixing,
    travels: [...(length(ofMount) > 0 ? [ofMount] : []), ...(slot ? [slot] : [])],
  }
}

const angleBetween = (a: Vec3, b: Vec3): number => (Math.atan2(length(cross(a, b)), dot(a, b)) * 180) / Math.PI

/** A leaning fastener goes aside by depth · tan, and is wider across by 1 / cos; counted up to 45°, beyond it does not go on at all. */
export function leanOf(angle: number, depth: number, fastener: number): number {
  const radians = (Math.min(angle, 45) * Math.PI) / 180
  return depth * Math.tan(radians) + (fastener / 2) * (1 / Math.cos(radians) - 1)
}

function errorsOf(mount: Mount, fixing: Fixing, candidate: Candidate) {
  const uncertainty = fixing.uncertainty ?? defaultUncertainty
  const contributions: Contribution[] = [
    { of: 'mount', name: mount.id, limit: mount.tolerance ?? 0, spread: 'limits' },
    { of: 'part', name: mount.on.part, limit: carrierTolerance(candidate, mount.on), spread: 'limits' },
    {
      of: 'fixing',
      name: fixing.id,
      limit: uncertainty,
      spread: 'measured',
      ...(fixing.uncertainty === undefined && { assumed: true }),
    },
  ]
  return { uncertainty, contributions, stack: stackOf(contributions) }
}

/** From fixing to hole, square to the axis. */
export const offsetOf = ({ hole, fixing, axis }: Pick<HoleMeeting, 'hole' | 'fixing' | 'axis'>): Vec3 => {
  const whole = sub(hole, fixing.at)
  return add(whole, scale(axis, -dot(whole, axis)))
}
