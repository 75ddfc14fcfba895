import { askedBy } from '../../core/bay/defaults.ts'
import type { Bay } from '../../core/bay/schema.ts'
import { mirrorId } from '../../core/bay/sense.ts'
import type { Hold } from '../../core/largest/largest.ts'
import { formatUncertainty, type PeopleUnits } from '../../core/units/lengthText.ts'
import { type Aim, gainText } from './amounts.ts'
import { limitText } from './limitText.ts'
import { fineWithUnit, bracketedName } from './plainWords.ts'

/** A gain is told by what people measure to, mm. */
const stepOf = (units: PeopleUnits): number => (units === 'mm' ? 1 : 25.4 / 32)

/** Where a keep-out stands that holds a part: `Crash beam, in front of tank left`. */
export const sideWords = {
  front: 'in front of',
  rear: 'behind',
  left: 'left of',
  right: 'right of',
  below: 'below',
  above: 'above',
} as const

/** What holds: its name, and at which part and side of it. */
export const holderText = (bay: Bay, hold: Hold): string[] =>
  'limit' in hold
    ? [limitText(hold.limit), 'limits']
    : [`${hold.keepOut}${bracketedName(bay, hold.keepOut)}`, `${hold.part}, ${hold.side}`]

/** Safety structures and lamps stand where they stand: only knowing better where gives room, and no more than is unknown. */
export function holdBuysText(bay: Bay, hold: Hold, aim: Aim, units: PeopleUnits): string {
  if (hold.gainPerMm === null) return 'not worked out: the search was stopped'
  const size = stepOf(units)
  const step = units === 'mm' ? '1 mm' : '1/32″'
  const gain = gainText(hold.gainPerMm * size, aim, units)
  const id = 'keepOut' in hold ? hold.keepOut : undefined
  const keepOut = bay.keepOuts.find((each) => each.id === id || mirrorId(each.id) === id)
  if (keepOut?.role !== 'safety' && keepOut?.role !== 'lamp') return `+${step} here buys ${gain}`
  const { uncertainty } = askedBy(keepOut)
  const now = formatUncertainty(uncertainty, units, fineWithUnit(units))
  // A thirty-second of an inch as a file holds it may be off in the last digit.
  if (uncertainty >= size - 1e-9) return `measured ${step} surer, it buys ${gain}`
  if (uncertainty > 0) return `measured surer (±${now} now), it buys ${gain} for each ${step}`
  return 'nothing: it is measured as surely as can be'
}
