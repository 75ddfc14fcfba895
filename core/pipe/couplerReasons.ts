import { clampFromEnd } from '../bay/joints.ts'
import type { ClampPlace, ResolvedJoint } from '../bay/joints.ts'
import type { Bead, Coupler } from '../bay/workshopSchema.ts'
import type { PipeReason } from './answer.ts'
import type { JointAsked } from './jointAsked.ts'

/** A hose goes over a tube whose diameter is the same within this, mm. Common practice, no source. */
export const sameHose = 0.5
/** Rounding in lengths (mm) and angles (degrees). */
const dust = 1e-6
/** From a bead to the clamp's band, mm; from the band to the hose's end it is `clampFromEnd`. Common practice, checks D3.6, D3.7. */
const clampFromBead = 6

export type On = 'port' | 'pipe'
const both = ['port', 'pipe'] as const

/** What a tube must go into its hose at least: for the coupler, and for bead, clamp and edges. mm */
export function neededInsertion(asked: JointAsked, joint: ResolvedJoint, on: On): number {
  return Math.max(joint.coupler.insertion, roomFor(asked.beads[on], clampOn(joint, on)))
}

/** Bead, then 6 mm, the band, and 6 mm to the hose's end. */
function roomFor(bead: Bead | undefined, place: ClampPlace | undefined): number {
  const ring = bead ? bead.fromEnd + bead.width : 0
  return ring + (place ? clampFromBead + place.clamp.band + clampFromEnd : 0)
}

export const clampOn = ({ clamps }: ResolvedJoint, on: On): ClampPlace | undefined =>
  clamps.find((place) => place.on === on)

/**
 * Why a coupler does not hold between its port and its pipe.
 * @returns reasons 'coupler-diameter', 'insertion-short' (of the coupler's own), 'insertion-no-room' (for bead and clamp),
 *   'insertion-beyond-spigot', 'insertion-into-bend', 'end-straight-short', 'gap-large', 'tubes-touch', 'offset-large',
 *   'angle-large'. Figures that count in the worst case hold the movement: the coupler of a port that moves takes all of
 *   it, in any direction, and a pipe between two couplers may lean besides.
 */
export function couplerReasons(asked: JointAsked, joint: ResolvedJoint): PipeReason[] {
  return [...both.flatMap((on) => tubeReasons(asked, joint, on)), ...misfitReasons(asked, joint)]
}

/** The hose's inside diameter on either side. */
function insideOf({ coupler, turned }: ResolvedJoint, on: On): number {
  const [first, second] = coupler.insideDiameters
  return (on === 'port') === turned ? second : first
}

const placeOf = (joint: ResolvedJoint, on: On) => (on === 'port' ? joint.port.at : joint.end)

function tubeReasons(asked: JointAsked, joint: ResolvedJoint, on: On): PipeReason[] {
  const { coupler } = joint
  const told = { end: asked.end, on, at: placeOf(joint, on), of: coupler.name }
  const goesIn = joint.insertion[on]
  const tube = on === 'port' ? joint.port.outsideDiameter : asked.pipeDiameter
  const inside = insideOf(joint, on)
  const room = roomFor(asked.beads[on], clampOn(joint, on))
  const leg = legOf(joint, on)
  const deepest = on === 'pipe' ? goesIn + asked.movement : goesIn
  const reasons: PipeReason[] = []
  const say = (code: string, expected: number, got: number) => reasons.push({ code, ...told, expected, got })
  if (Math.abs(inside - tube) > sameHose + dust) say('coupler-diameter', inside, tube)
  if (goesIn < coupler.insertion - dust) say('insertion-short', coupler.insertion, goesIn)
  if (goesIn < room - dust) say('insertion-no-room', room, goesIn)
  if (leg !== null && deepest > leg + dust) say('insertion-into-bend', leg, deepest)
  if (on === 'port' && asked.spigot !== null && goesIn > asked.spigot + dust)
    say('insertion-beyond-spigot', asked.spigot, goesIn)
  if (on === 'pipe' && asked.straight !== null && asked.straight < goesIn - dust)
    say('end-straight-short', goesIn, asked.straight)
  return reasons
}

/** Straight of an elbow coupler before its bend; null in others. */
function legOf({ coupler, turned }: ResolvedJoint, on: On): number | null {
  if (coupler.form !== 'elbow') return null
  return (on === 'port') === turned ? coupler.legs[1] : coupler.legs[0]
}

/**
 * An elbow's tubes do not face each other: its `gap` is how far the pipe stands off from where it belongs, and pushed in
 * too far it meets the bend, not the other tube.
 */
function misfitReasons(asked: JointAsked, joint: ResolvedJoint): PipeReason[] {
  const { coupler, gap, offset } = joint
  const { movement, angle, lean } = asked
  const told = { end: asked.end, at: joint.end, of: coupler.name }
  const reasons: PipeReason[] = []
  const most = (code: string, expected: number, got: number) => {
    if (got > expected + dust) reasons.push({ code, ...told, expected, got })
  }
  most('gap-large', coupler.largestGap, gap + movement)
  if (coupler.form !== 'elbow' && gap - movement < -dust)
    reasons.push({ code: 'tubes-touch', ...told, expected: movement, got: gap })
  most('offset-large', coupler.largestOffset, offset + movement)
  most('angle-large', coupler.largestAngle, angle + lean)
  return reasons
}

/** @returns notes 'no-bead' on either side, 'no-spigot', and 'movement-passed-on' where this coupler could not take what moves at the other end */
export function couplerNotes(asked: JointAsked, joint: ResolvedJoint): PipeReason[] {
  const { coupler } = joint
  const notes: PipeReason[] = both.flatMap((on) =>
    asked.beads[on] ? [] : [{ code: 'no-bead', end: asked.end, on, at: placeOf(joint, on) }],
  )
  if (asked.spigot === null)
    notes.push({ code: 'no-spigot', end: asked.end, on: 'port', at: joint.port.at, got: joint.insertion.port })
  const takes = takesMore(coupler, joint, asked.movement)
  if (asked.passedOn > takes + dust)
    notes.push({
      code: 'movement-passed-on',
      end: asked.end,
      at: joint.end,
      of: coupler.name,
      expected: asked.passedOn,
      got: takes,
    })
  return notes
}

/** Movement in any direction that a coupler can take beside its own port's, mm. */
function takesMore(coupler: Coupler, { gap, offset }: ResolvedJoint, movement: number): number {
  const inward = coupler.form === 'elbow' ? Infinity : gap
  const spare = Math.min(coupler.largestGap - gap, inward, coupler.largestOffset - offset) - movement
  return Math.max(0, spare)
}
