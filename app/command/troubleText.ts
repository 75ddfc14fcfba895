import type { Bay } from '../../core/bay/schema.ts'
import { formatGap, formatUncertainty, type PeopleUnits } from '../../core/units/lengthText.ts'
import type { LedgerPair } from '../../core/verdict/answer.ts'
import type { WayOut } from './wayOut.ts'
import { fineWithUnit, bracketedName, moveText, placeText } from '../wording/plainWords.ts'

/** Where a pair is wanting and what it would take. */
export function troubleText(bay: Bay, pair: LedgerPair, way: WayOut | null, units: PeopleUnits): string {
  const place = `At ${placeText(pair.onPart, units)}${pair.between === 'parts' ? '' : bracketedName(bay, pair.keepOut)}`
  const wanting = pair.overlap ? overlapText(pair.overlap, units) : gapText(pair, units)
  return `${place}: ${wanting}${way ? ` ${wayText(way, units)}` : ''}`
}

function overlapText({ depth, kind }: NonNullable<LedgerPair['overlap']>, units: PeopleUnits): string {
  if (depth === 0) return 'touches.'
  return `overlaps by ${kind === 'atLeast' ? 'at least ' : ''}${formatGap(depth, units, { ...fineWithUnit(units), passDust: true })}.`
}

/** Better measuring can only help where the gap itself is not proved too small. */
function gapText({ margin, uncertainty, verdict }: LedgerPair, units: PeopleUnits): string {
  const wanting = formatUncertainty(-margin, units, fineWithUnit(units))
  const measured = uncertainty + margin
  if (verdict === 'unproved' && measured > 0)
    return `wants ${wanting} more room, or a measurement to within ±${formatGap(measured, units, fineWithUnit(units))}.`
  return `wants ${wanting} more room.`
}

function wayText({ move, afterwards }: WayOut, units: PeopleUnits): string {
  const said = `Moving the candidate ${moveText(move, units)} is proved to clear this`
  return afterwards
    ? `${said}, but then ${afterwards.part} to ${afterwards.keepOut} ${verb[afterwards.verdict]}.`
    : `${said}, and all other pairs with it.`
}
const verb = { clears: 'clears', unproved: 'is unproved', short: 'is short', fouls: 'fouls' } as const
