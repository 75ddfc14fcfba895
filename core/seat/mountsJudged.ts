import { keepOutSolids, leftOutIds } from '../bay/keepOuts.ts'
import type { Meshes, Part } from '../bay/part.ts'
import { candidateParts } from '../bay/parts.ts'
import type { Bay, Candidate } from '../bay/schema.ts'
import { bad, good } from '../fault.ts'
import type { Outcome } from '../fault.ts'
import { ledger } from '../verdict/ledger.ts'
import { LedgerMemory } from '../verdict/memory.ts'
import { commonShift, type CommonShift, farthest, movedBy, noShift } from './commonShift.ts'
import { fastenerReach, reachObstacles } from './fastenerReach.ts'
import type { FastenerReach } from './fastenerReach.ts'
import { judged, type MeetingJudged } from './holeJudged.ts'
import { holeMeetings, type HoleMeeting } from './holeMeeting.ts'

/** Whether a mount goes onto its fixings: with everything at its limits, only by root-sum-square, or not. */
export type MountVerdict = 'goes on' | 'goes on by root-sum-square' | 'does not go on'

/** A hole of a mount, or a pin, at its fixing. */
export interface JointJudged extends MeetingJudged {
  readonly reach: FastenerReach | null
}

export interface MountJudged {
  readonly mount: string
  readonly name: string
  readonly on: string
  readonly fitting: 'with-part' | 'after'
  readonly joints: readonly JointJudged[]
  /** The worst of its joints. */
  readonly verdict: MountVerdict
}

export interface MountsJudged {
  readonly candidate: string
  readonly mounts: readonly MountJudged[]
  /** The worst of all mounts; null where the candidate has none. */
  readonly verdict: MountVerdict | null
  /** Every fastener with a tool can be reached; true where none names one. */
  readonly reached: boolean
  /**
   * How the candidate goes off its place in the bay so that all its holes lie over their fixings at once; null where none is
   * wanted, or none helps. `moved`: no point of it goes farther than this, and `room`: its least margin in the ledger.
   */
  readonly shift: (CommonShift & { readonly moved: number; readonly room: number }) | null
  /** Keep-outs that are left out for a look: no tool was held against them. */
  readonly leftOut: readonly string[]
}

/**
 * Whether a candidate's brackets and pins go onto the car's fixings, all of them at once, and whether their fasteners can be
 * reached.
 *
 * A hole goes on in the worst case where its fastener still goes through with the tolerances of mount and part and the
 * uncertainty of the fixing all against it. As long as the candidate as it stands in the bay does not do so, it may be shifted
 * and turned a little, the same for all holes, by no more than its least margin in the ledger, so that every gap still
 * holds. That shift is chosen before any error shows, though who fits the part can feel for it: the safe side.
 * Holes are taken as rigid with the part; that a bracket can be bent is not counted on.
 *
 * @param bay must pass `checkBay`
 * @param memory keep one per window or job; never changes an answer
 * @returns faults: those of the candidate's parts and of keep-outs ('mesh-missing' …)
 */
export function judgeMounts(
  bay: Bay,
  candidate: Candidate,
  meshes: Meshes,
  memory: LedgerMemory = new LedgerMemory(),
): Outcome<MountsJudged> {
  const keepOuts = keepOutSolids(bay, meshes, memory.workshop)
  const made = candidateParts(bay, candidate, memory.workshop)
  if (!keepOuts.ok || !made.ok) return bad(...(keepOuts.ok ? [] : keepOuts.faults), ...(made.ok ? [] : made.faults))
  const meetings = holeMeetings(bay, candidate)
  const room = needsShift(meetings) ? leastMargin(bay, candidate, meshes, memory) : 0
  const shift = shiftFor(meetings, candidate, made.value.parts, room)
  const obstacles = reachObstacles(candidate, made.value.parts, keepOuts.value)
  const joints = meetings.map((meeting): JointJudged => {
    const { tool } = meeting.fixing
    const reach =
      tool && meeting.outside
        ? fastenerReach(
            tool,
            meeting.outside,
            meeting.axis,
            {
              uncertainty: meeting.uncertainty,
              own: `mount-${meeting.mount.id}`,
              sitsOn: meeting.fixing.sitsOn,
            },
            obstacles,
          )
        : null
    return { ...judged(meeting, shift ?? noShift, candidate.at), reach }
  })
  const mounts = (candidate.mounts ?? []).map((mount): MountJudged => {
    const own = joints.filter((joint) => joint.mount === mount.id)
    return {
      mount: mount.id,
      name: mount.name,
      on: mount.on.part,
      fitting: mount.fitting ?? 'with-part',
      joints: own,
      verdict: worst(own.map(({ verdict }) => verdict)) ?? 'does not go on',
    }
  })
  return good({
    candidate: candidate.id,
    mounts,
    verdict: worst(mounts.map(({ verdict }) => verdict)),
    reached: joints.every(({ reach }) => reach?.clear ?? true),
    shift,
    leftOut: leftOutIds(bay),
  })
}

const order: readonly MountVerdict[] = ['goes on', 'goes on by root-sum-square', 'does not go on']

const worst = (verdicts: readonly MountVerdict[]): MountVerdict | null =>
  verdicts.length === 0 ? null : order[Math.max(...verdicts.map((verdict) => order.indexOf(verdict)))]

/** Only where a hole misses that could be met: one that is too small, askew or out of reach is no better elsewhere. */
function needsShift(meetings: readonly HoleMeeting[]): boolean {
  const verdicts = meetings.map((meeting) => judged(meeting, noShift, [0, 0, 0]))
  return verdicts.some(({ verdict }) => verdict !== 'goes on') && verdicts.every(({ hindrance }) => hindrance === null)
}

/** Of all pairs, those of pipes too, though they would give way: the safe side. None where something is not proved. */
function leastMargin(bay: Bay, candidate: Candidate, meshes: Meshes, memory: LedgerMemory): number {
  const alone = ledger({ ...bay, candidates: [candidate] }, undefined, meshes, memory)
  if (!alone.ok || alone.value.verdict !== 'clears') return 0
  return Math.max(0, Math.min(...alone.value.pairs.map(({ margin }) => margin)))
}

function shiftFor(
  meetings: readonly HoleMeeting[],
  { at }: Candidate,
  parts: readonly Part[],
  room: number,
): MountsJudged['shift'] {
  if (!(room > 0 && room < Infinity)) return null
  const reach = Math.max(...parts.filter(({ run }) => !run).map(({ solid }) => farthest(solid.bounds, at)))
  const least = (shift: CommonShift, taken: 'worstCase' | 'rootSumSquare') =>
    Math.min(...meetings.map((meeting) => judged(meeting, shift, at).spare[taken]))
  // By root-sum-square only where the worst case cannot be had.
  for (const taken of ['worstCase', 'rootSumSquare'] as const) {
    const holes = meetings.map((meeting) => ({
      room: meeting.room,
      hole: meeting.hole,
      fixing: meeting.fixing.at,
      taken: meeting.lean + meeting.stack[taken],
    }))
    if (least(noShift, taken) >= 0) return null
    // Straight where that will do: easier to say, and to adopt.
    for (const mayTurn of [false, true]) {
      const shift = commonShift(holes, at, reach, room, mayTurn)
      if (least(shift, taken) >= 0) return { ...shift, moved: movedBy(shift, reach), room }
    }
  }
  return null
}
