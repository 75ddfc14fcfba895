import { cross, dot, length, scale, type Vec3 } from '../shape/vec.ts'
import { type CommonShift, spareAfter } from './commonShift.ts'
import { roomLeft } from './fastenerRoom.ts'
import { type HoleMeeting, leanOf, offsetOf } from './holeMeeting.ts'
import { type Contribution, type Improvement, improvementOf, type Stack } from './stack.ts'

/** More than this between a hole's axis and its fixing's, and no washer makes up for it; degrees. Common practice, no source. */
export const largestAngle = 3

/** Why a mount cannot go on wherever the candidate is shifted to. */
export type Hindrance =
  /** The hole of the mount, or the fixing's, is smaller than what goes through. */
  | 'hole too small'
  | 'fixing too small'
  /** Axes are not parallel within `largestAngle`. */
  | 'askew'
  /** The mount would stand in the car, or the pin ends short of its hole, with all tolerances against it or for it. */
  | 'beyond its seat'
  | 'out of reach'

/** What there would have to be for the worst case to hold with the candidate as it stands, mm. */
export interface Needed {
  /** Diameter of a round hole in the mount (for a pin: of the fixing's hole). */
  readonly hole: number
  /** A slot in the mount with which it holds too; null for a pin. `along`: unit, bay frame. */
  readonly slot: { readonly width: number; readonly length: number; readonly along: Vec3 } | null
}

/** How one hole or pin lies at its fixing; lengths mm, directions bay frame. */
export interface MeetingJudged {
  readonly mount: string
  readonly fixing: string
  /** Which of the mount's holes, from 0; null for a pin. */
  readonly hole: number | null
  readonly fastener: number
  readonly angle: number
  readonly lean: number
  /** From fixing to hole, square to the fixing's axis, as the candidate stands. */
  readonly offset: { readonly by: number; readonly across: Vec3 }
  /** See `HoleMeeting`. */
  readonly apart: number
  readonly clearance: HoleMeeting['clearance']
  /** Half the free travel of slots. */
  readonly travel: HoleMeeting['travel']
  readonly contributions: readonly Contribution[]
  readonly stack: Stack
  /** Room that is left at the worst, as the candidate stands; below 0 it does not go on. */
  readonly asItStands: { readonly worstCase: number; readonly rootSumSquare: number }
  /** The same with the common shift. */
  readonly spare: { readonly worstCase: number; readonly rootSumSquare: number }
  readonly hindrance: Hindrance | null
  readonly needs: Needed
  /** What to measure or make better first; null where the worst case holds, or where that would not do. */
  readonly improve: Improvement | null
  readonly verdict: 'goes on' | 'goes on by root-sum-square' | 'does not go on'
}

/**
 * @param about middle of the candidate, about which the shift turns, bay frame, mm
 */
export function judged(meeting: HoleMeeting, shift: CommonShift, about: Vec3): MeetingJudged {
  const { mount, fixing, stack, lean, room } = meeting
  const offset = offsetOf(meeting)
  const still = roomLeft(room, offset).by - lean
  const hole = { room, hole: meeting.hole, fixing: fixing.at, taken: lean }
  const moved = spareAfter(hole, shift, about).spare - moreLean(meeting, shift)
  const asItStands = { worstCase: still - stack.worstCase, rootSumSquare: still - stack.rootSumSquare }
  const spare = { worstCase: moved - stack.worstCase, rootSumSquare: moved - stack.rootSumSquare }
  const hindrance = hindranceOf(meeting)
  const goes = hindrance === null
  return {
    mount: mount.id,
    fixing: fixing.id,
    hole: meeting.index,
    fastener: meeting.fastener,
    angle: meeting.angle,
    lean,
    offset: { by: length(offset), across: offset },
    apart: meeting.apart,
    clearance: meeting.clearance,
    travel: meeting.travel,
    contributions: meeting.contributions,
    stack,
    asItStands,
    spare,
    hindrance,
    needs: neededOf(meeting, offset, asItStands.worstCase),
    improve: goes && spare.worstCase < 0 ? improvementOf(meeting.contributions, -spare.worstCase) : null,
    verdict:
      goes && spare.worstCase >= 0
        ? 'goes on'
        : goes && spare.rootSumSquare >= 0
          ? 'goes on by root-sum-square'
          : 'does not go on',
  }
}

/** A turn of the candidate across the fastener leans the hole further, at most by its own angle. */
function moreLean({ angle, depth, fastener, lean, axis }: HoleMeeting, { turn }: CommonShift): number {
  const across = (length(cross(turn, axis)) * 180) / Math.PI
  return across === 0 ? 0 : leanOf(angle + across, depth, fastener) - lean
}

function hindranceOf({ clearance, angle, apart, index, stack }: HoleMeeting): Hindrance | null {
  if (clearance.mount < 0) return 'hole too small'
  if (clearance.fixing < 0) return 'fixing too small'
  if (angle > largestAngle) return 'askew'
  if (index === null) return apart > -stack.worstCase ? 'out of reach' : null
  return apart < -stack.worstCase - rounding ? 'beyond its seat' : null
}

/** A plate drawn on its seat must not be beyond it by a rounding, nor a slot too narrow by one, mm. */
const rounding = 1e-6

function neededOf(meeting: HoleMeeting, offset: Vec3, spare: number): Needed {
  const { own, fastener, fixing } = meeting
  if (!own) return { hole: Math.max(fastener, fixing.diameter - 2 * spare), slot: null }
  return { hole: Math.max(fastener, roundHole(meeting, offset)), slot: slotOf(meeting, offset) }
}

/** Each millimetre of a hole's radius is one of room. */
function roundHole({ fastener, room, clearance, lean, stack, fixing, travel }: HoleMeeting, offset: Vec3): number {
  const ofCar = carTravel(fixing, room, travel)
  const alone = roomLeft({ axis: room.axis, round: clearance.fixing, travels: ofCar }, offset).by
  return fastener - 2 * (alone - lean - stack.worstCase)
}

const carTravel = (fixing: HoleMeeting['fixing'], room: HoleMeeting['room'], travel: HoleMeeting['travel']): Vec3[] =>
  fixing.kind === 'slot' && travel.fixing > 0 ? room.travels.slice(-1) : []

/** Halvings of the length looked for: to a millionth of a millionth of the offset. */
const halvings = 40

/** The narrowest slot along the one that is there, or along the way the hole is off, and the shortest of that width. */
function slotOf(meeting: HoleMeeting, offset: Vec3): Needed['slot'] {
  const { own, room, fastener, clearance, lean, stack, fixing, travel } = meeting
  const by = length(offset)
  const isSlot = own?.length !== undefined
  const along = isSlot || by < 1e-9 ? meeting.slotWay : scale(offset, 1 / by)
  const ofCar = carTravel(fixing, room, travel)
  const left = (width: number, half: number) =>
    roomLeft(
      {
        axis: room.axis,
        round: clearance.fixing + (width - fastener) / 2,
        travels: [...(half > 0 ? [scale(along, half)] : []), ...ofCar],
      },
      offset,
    ).by -
    lean -
    stack.worstCase
  // So long that its ends do not matter.
  const endless = 10 * (by + fastener + stack.worstCase + 2 * travel.fixing)
  const width = Math.max(fastener, fastener - 2 * left(fastener, endless)) + rounding
  let [short, enough] = [0, Math.min(endless, Math.abs(dot(offset, along)) + 2 * travel.fixing + 1e-9)]
  if (left(width, enough) < 0) enough = endless
  if (left(width, 0) >= 0) return { width, length: width, along }
  for (let k = 0; k < halvings; k++) {
    const middle = (short + enough) / 2
    if (left(width, middle) >= 0) enough = middle
    else short = middle
  }
  return { width, length: width + 2 * enough, along }
}
