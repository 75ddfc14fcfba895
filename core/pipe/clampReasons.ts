import type { ClampPlace, ResolvedJoint } from '../bay/joints.ts'
import { clampFromEnd } from '../bay/joints.ts'
import type { JointAnswer, PipeReason } from './answer.ts'
import type { RoomObstacle } from './clampObstacles.ts'
import { clampRoom } from './clampRoom.ts'
import { clampOn } from './couplerReasons.ts'
import type { On } from './couplerReasons.ts'
import type { JointAsked } from './jointAsked.ts'
import type { RollRange } from './openRolls.ts'

export interface ClampsJudged {
  readonly clamps: JointAnswer['clamps']
  readonly reasons: readonly PipeReason[]
  readonly notes: readonly PipeReason[]
}

/** Rounding in lengths, mm. */
const dust = 1e-6

/**
 * The clamps of one joint: whether they close on their hose, have a place on it, and can be done up.
 * @param obstacles see `clampObstacles`; the clamp itself and its hose are left out here
 * @returns reasons 'clamp-too-small', 'clamp-too-large', 'clamp-band-wide', 'no-screwdriver-room'; notes 'no-clamp',
 *   'clamp-no-tool', 'tool-elsewhere' (where the screw could stand), 'tool-needs-off', 'tool-not-against'
 * A clamp closes on the tube's outside and twice the hose's wall (checks D3.11, derived): the hose is taken as not
 * squeezed, so that both ends of its range are held.
 */
export function judgeClamps(
  asked: JointAsked,
  joint: ResolvedJoint,
  pipeId: string,
  obstacles: readonly RoomObstacle[],
): ClampsJudged {
  const made = (['port', 'pipe'] as const).map((on) => {
    const place = clampOn(joint, on)
    if (!place) return { clamps: [], reasons: [], notes: [noClamp(asked, joint, on)] }
    return judgeClamp(asked, joint, place, freeOf(obstacles, pipeId, asked.end, on))
  })
  return {
    clamps: made.flatMap(({ clamps }) => clamps),
    reasons: made.flatMap(({ reasons }) => reasons),
    notes: made.flatMap(({ notes }) => notes),
  }
}

const noClamp = (asked: JointAsked, joint: ResolvedJoint, on: On): PipeReason => ({
  code: 'no-clamp',
  end: asked.end,
  on,
  at: on === 'port' ? joint.port.at : joint.end,
})

/** The clamp and its hose are no obstacles; the tubes in the hose stay where they are in it, whatever their tolerance. */
function freeOf(obstacles: readonly RoomObstacle[], pipeId: string, end: string, on: On): RoomObstacle[] {
  const own = [`coupler-${pipeId}-${end}`, `clamp-${pipeId}-${end}-${on}`]
  return obstacles
    .filter(({ name }) => !own.includes(name))
    .map((each) => (each.name === `pipe-${pipeId}` ? { ...each, need: 0 } : each))
}

function judgeClamp(
  asked: JointAsked,
  joint: ResolvedJoint,
  place: ClampPlace,
  obstacles: readonly RoomObstacle[],
): ClampsJudged {
  const { on, clamp, at, closesOn } = place
  const told = { end: asked.end, on, at, of: clamp.name }
  const reasons: PipeReason[] = []
  if (closesOn > clamp.most + dust)
    reasons.push({ code: 'clamp-too-small', ...told, expected: clamp.most, got: closesOn })
  if (closesOn < clamp.least - dust)
    reasons.push({ code: 'clamp-too-large', ...told, expected: clamp.least, got: closesOn })
  const room = bandRoom(joint, on)
  if (clamp.band > room + dust) reasons.push({ code: 'clamp-band-wide', ...told, expected: room, got: clamp.band })
  const tool = toolJudged(asked, place, obstacles)
  return {
    clamps: [{ on, clamp: clamp.id, closesOn, reach: tool.reach }],
    reasons: [...reasons, ...tool.reasons],
    notes: tool.notes,
  }
}

/**
 * Straight hose for a band beside its 6 mm from the hose's end: to a hump, to an elbow's bend, or to 6 mm from the other
 * end. Two bands that would meet on a straight hose are told as insertions with no room for them.
 */
function bandRoom({ coupler, turned, length }: ResolvedJoint, on: On): number {
  if (coupler.form === 'elbow') return ((on === 'port') === turned ? coupler.legs[1] : coupler.legs[0]) - clampFromEnd
  if (coupler.form === 'hump') return (length - coupler.hump.length) / 2 - clampFromEnd
  return length - 2 * clampFromEnd
}

function toolJudged(
  { end, place: { joined }, joint }: JointAsked,
  place: ClampPlace,
  obstacles: readonly RoomObstacle[],
): { reach: readonly RollRange[] | null; reasons: PipeReason[]; notes: PipeReason[] } {
  const { on, clamp, at } = place
  const told = { end, on, at, of: clamp.name }
  const roll = joint?.kind === 'coupler' ? joint.clamps?.[on]?.roll : undefined
  const owners = joined.filter((name) => !name.startsWith('stub-'))
  const room = clampRoom(place, obstacles, owners, roll)
  if (!room) return { reach: null, reasons: [], notes: [{ code: 'clamp-no-tool', ...told }] }
  const { reach, closedBy, takenOff, within } = room
  const names = (list: readonly string[]) => list.slice(0, 3).join(', ')
  const reasons: PipeReason[] =
    reach.length > 0
      ? []
      : [{ code: 'no-screwdriver-room', ...told, ...(roll !== undefined && { expected: roll }), got: names(closedBy) }]
  const elsewhere = reach.length > 0 || roll === undefined ? [] : (clampRoom(place, obstacles, owners)?.reach ?? [])
  const notes: PipeReason[] = [
    ...(elsewhere.length > 0 ? [{ code: 'tool-elsewhere', ...told, got: elsewhere.map(rangeText).join(', ') }] : []),
    ...(takenOff.length > 0 ? [{ code: 'tool-needs-off', ...told, got: names(takenOff) }] : []),
    ...(within.length > 0 ? [{ code: 'tool-not-against', ...told, got: names(within) }] : []),
  ]
  return { reach, reasons, notes }
}

/** `129.8° to 325.3°`: tenths, rounded into the range. */
function rangeText([from, to]: RollRange): string {
  const [first, last] = [Math.ceil(from * 10 - 1e-6) / 10, Math.floor(to * 10 + 1e-6) / 10]
  return last > first
    ? `${first}° to ${last > 360 ? Math.round((last - 360) * 10) / 10 : last}°`
    : `${from.toFixed(2)}°`
}
