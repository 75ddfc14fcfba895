import {
  formatGap,
  formatLength,
  formatUncertainty,
  type LengthFormat,
  type PeopleUnits,
} from '../../../core/units/lengthText.ts'
import type { LedgerPair } from '../../../core/verdict/answer.ts'

/** Tenths of a millimetre or 64ths of an inch: what a row can say at a glance. */
const atAGlance = (units: PeopleUnits): LengthFormat =>
  units === 'mm' ? { decimals: 1, bare: true, passDust: true } : { fraction: 64, bare: true, passDust: true }
/** What the details say: hundredths, or thousandths of an inch. */
const inFull = (units: PeopleUnits): LengthFormat => ({ decimals: units === 'mm' ? 2 : 4, passDust: true })

/** `10.0` says no more than `10`. */
const trimmed = (text: string): string => text.replace(/(\.\d*?)0+(?=\D|$)/, '$1').replace(/\.(?=\D|$)/, '')

/** Rounded so that it never claims more room than there is. */
export const gapGlance = (mm: number, units: PeopleUnits): string => formatGap(mm, units, atAGlance(units))
/** The same figure that a row shows as a negative gap. */
export const overlapGlance = (mm: number, units: PeopleUnits): string => formatUncertainty(mm, units, atAGlance(units))
export const askedGlance = (mm: number, units: PeopleUnits): string =>
  trimmed(formatUncertainty(mm, units, atAGlance(units)))
export const gapFull = (mm: number, units: PeopleUnits): string => formatGap(mm, units, inFull(units))
export const askedFull = (mm: number, units: PeopleUnits): string =>
  trimmed(formatUncertainty(mm, units, inFull(units)))
/** A figure without a direction of its own, such as a place in the bay. */
export const placeFull = (mm: number, units: PeopleUnits): string =>
  formatLength(mm, units, { ...inFull(units), bare: true })

/** Errors are far below what is shown elsewhere. */
export function errorFull(mm: number, units: PeopleUnits): string {
  const decimals = units === 'mm' ? 4 : 6
  return mm === 0 ? trimmed(formatUncertainty(0, units, { decimals })) : formatUncertainty(mm, units, { decimals })
}

/** All that is held against the part beside the required clearance, mm. */
export const allowances = ({ error, tolerance, uncertainty }: LedgerPair): number => error + tolerance + uncertainty

/** What the row shows as its number: the gap, or how deep the two overlap, as a negative one. */
export const gapShown = ({ gap, overlap }: LedgerPair): number => (overlap && overlap.depth > 0 ? -overlap.depth : gap)

/** `0.0012 mm` or more: the largest error of all rows. */
export const largestError = (pairs: readonly LedgerPair[]): number =>
  pairs.reduce((most, { error }) => Math.max(most, error), 0)
