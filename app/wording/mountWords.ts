import type { FastenerReach } from '../../core/seat/fastenerReach.ts'
import type { JointJudged } from '../../core/seat/mountsJudged.ts'
import { formatGap, formatUncertainty, type PeopleUnits } from '../../core/units/lengthText.ts'

/** Names for people of the things that a mount's joint speaks of. */
export interface MountNames {
  fixing(id: string): string
  /** A keep-out or another part, as `fastenerReach` names it. */
  obstacle(name: string): string
}

/**
 * What to say of one hole or pin of a mount: room that is left, what to measure or make better first, the hole or slot with
 * which it would hold, and whether a tool reaches its fastener. One sentence each, the room first.
 */
export function jointSentences(joint: JointJudged, names: MountNames, units: PeopleUnits): string[] {
  const { hindrance, spare, verdict } = joint
  const fixing = names.fixing(joint.fixing)
  const room = hindrance
    ? `At ${fixing}: ${hindrance}.`
    : `At ${fixing} ${gap(spare.worstCase, units)} to spare at the worst, ${gap(spare.rootSumSquare, units)} by root-sum-square.`
  const advice = verdict === 'goes on' ? [] : [...improveText(joint, names, units), ...needText(joint, units)]
  return [room, ...advice, ...reachText(joint.reach, fixing, names)]
}

/** The joints that do not hold, or else the one with the least to spare. */
export function jointsToTell(joints: readonly JointJudged[]): readonly JointJudged[] {
  const bad = joints.filter(({ verdict, reach }) => verdict !== 'goes on' || reach?.clear === false)
  return bad.length > 0 ? bad : [...joints].sort((a, b) => a.spare.worstCase - b.spare.worstCase).slice(0, 1)
}

const format = (units: PeopleUnits) => ({ decimals: units === 'mm' ? 2 : 4 })
const gap = (mm: number, units: PeopleUnits): string => formatGap(mm, units, format(units))
const atLeast = (mm: number, units: PeopleUnits): string => formatUncertainty(mm, units, format(units))

function improveText({ improve }: JointJudged, names: MountNames, units: PeopleUnits): string[] {
  if (!improve) return []
  const what = {
    fixing: `where ${names.fixing(improve.name)} is measured to be`,
    mount: `how mount ${improve.name} is made`,
    part: `how ${improve.name} is made`,
  }[improve.of]
  const now = atLeast(improve.from, units)
  return improve.enough
    ? [`To better first: ${what}, from ±${now} to ±${gap(improve.to, units)}.`]
    : [`To better first: ${what}, now ±${now}; it alone is not enough.`]
}

/** With a hindrance that no hole can help there is nothing to say of one. */
function needText({ hindrance, needs }: JointJudged, units: PeopleUnits): string[] {
  if (hindrance !== null && hindrance !== 'hole too small') return []
  const { slot } = needs
  const or = slot ? `, or a slot ${atLeast(slot.width, units)} wide and ${atLeast(slot.length, units)} long` : ''
  return [`A hole of ${atLeast(needs.hole, units)} would do${or}.`]
}

function reachText(reach: FastenerReach | null, fixing: string, names: MountNames): string[] {
  if (!reach || reach.clear) return []
  const by = reach.closedBy.map(({ name }) => names.obstacle(name))
  return [`No tool reaches ${fixing}${by.length === 0 ? '' : `: ${by.join(', ')} in the way`}.`]
}
