import type { Bay, Candidate } from '../../../core/bay/schema.ts'
import { whatProves } from '../../../core/sheet/facts/proving.ts'
import { formatGap, formatUncertainty, type PeopleUnits } from '../../../core/units/lengthText.ts'
import type { LedgerPair } from '../../../core/verdict/answer.ts'
import { keepOutName, partName } from '../../wording/partNames.ts'
import { fineWithUnit } from '../../wording/plainWords.ts'

/** Of whose pairs is spoken. */
export interface Speaking {
  readonly bay: Bay
  readonly candidate: Candidate
  readonly units: PeopleUnits
}

/** What stands there: a keep-out, or another part. */
export const otherName = ({ bay, candidate }: Pick<Speaking, 'bay' | 'candidate'>, pair: LedgerPair): string =>
  pair.between ? partName(candidate, pair.keepOut) : keepOutName(bay, pair.keepOut)

/** `tank left to Crash beam` */
export const pairText = (of: Pick<Speaking, 'bay' | 'candidate'>, pair: LedgerPair): string =>
  `${partName(of.candidate, pair.part)} to ${otherName(of, pair)}`

/** What is wrong with a pair that does not clear, in figures that claim no more than is so. */
export function wantingText(of: Speaking, pair: LedgerPair): string {
  const { gap, required, margin, overlap } = pair
  const format = { ...fineWithUnit(of.units), passDust: true }
  const little = (mm: number) => formatGap(mm, of.units, format)
  const much = (mm: number) => formatUncertainty(mm, of.units, format)
  if (overlap && overlap.depth > 0)
    return `they overlap by ${overlap.kind === 'atLeast' ? 'at least ' : ''}${little(overlap.depth)}`
  if (gap === 0) return `they touch; ${much(required)} is required`
  return `gap ${little(gap)}, required ${much(required)}, margin ${little(margin)}`
}

/** What would prove an unproved pair, the largest share first; or that nothing but room would. */
export function provingText(of: Speaking, pair: LedgerPair): string {
  const proving = whatProves(pair)
  const { units } = of
  const format = fineWithUnit(units)
  const wanted = (pair.overlap?.depth ?? 0) + Math.max(0, -pair.margin)
  const room = `${pair.overlap?.kind === 'atLeast' ? 'at least ' : ''}${formatUncertainty(wanted, units, format)} more room`
  if (!proving) return `It wants ${room}.`
  // Of inches thousandths: a sixty-fourth is more than most of what is left.
  const surer = units === 'mm' ? format : { decimals: 3 }
  const to = (mm: number) => `±${formatGap(mm, units, surer)}`
  const now = (mm: number) => `±${formatUncertainty(mm, units, { ...surer, passDust: true })}`
  const { uncertaintyTo, toleranceTo, most } = proving
  const measured =
    uncertaintyTo !== null &&
    `${otherName(of, pair)} measured to within ${to(uncertaintyTo)} (now ${now(pair.uncertainty)})`
  const made =
    toleranceTo !== null &&
    `${partName(of.candidate, pair.part)} made to within ${to(toleranceTo)} (now ${now(pair.tolerance - (pair.movement ?? 0))})`
  const ways = (most === 'tolerance' ? [made, measured] : [measured, made]).filter((text) => text !== false)
  if (ways.length === 0) return `Neither better measuring nor closer making alone can prove it: it wants ${room}.`
  return `It would be proved by ${ways.join(', or by ')}; or it wants ${room}.`
}
