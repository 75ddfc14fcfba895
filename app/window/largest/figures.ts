import type { Role } from '../../../core/bay/schema.ts'
import type { Hold, LargestAnswer } from '../../../core/largest/largest.ts'
import { formatLength, type PeopleUnits } from '../../../core/units/lengthText.ts'
import { gapGlance } from '../ledger/figures.ts'
import { words } from '../words.ts'

const { largest } = words

/** Four figures, and one more below a litre: a bound a thousandth off has to be seen. */
const places = (litres: number): number => (litres >= 10 ? 2 : 3)

/** What was found, mm³ in litres: rounded so that it never claims more than there is. */
export function foundLitres(mm3: number): string {
  const litres = mm3 / 1e6
  const scale = 10 ** places(litres)
  return (Math.floor(litres * scale + 1e-6) / scale).toFixed(places(litres))
}

/** What nothing exceeds, mm³ in litres: rounded so that it stays true. */
export function boundLitres(mm3: number): string {
  const litres = mm3 / 1e6
  const scale = 10 ** places(litres)
  return (Math.ceil(litres * scale - 1e-6) / scale).toFixed(places(litres))
}

/** A share as per cent, two figures, rounded up. */
export function percentUp(share: number): string {
  const percent = 100 * share
  const scale = 10 ** Math.max(0, 1 - Math.floor(Math.log10(Math.max(percent, 1e-3))))
  return `${Number((Math.ceil(percent * scale - 1e-6) / scale).toFixed(5))} %`
}

/** `at most 14.87 L, proved within 0.1 %` */
export function boundText({ value, upperBound, stopped, within }: LargestAnswer): string {
  if (!Number.isFinite(upperBound)) return largest.openEnd
  const bound = boundLitres(upperBound)
  if (stopped === 'proved') return largest.atMost(bound, percentUp(within))
  const open = (upperBound - value) / value
  // Where hardly anything is known yet, the two volumes say so better.
  return largest.stopped(bound, open < 1 ? percentUp(open) : null)
}

/** A core as a share of the largest, whole per cent; only what reaches it has all of it. */
export function shareText(core: LargestAnswer['core'], largestValue: number): string {
  const share = (core.depth * core.width * core.height) / largestValue
  const percent = share < 1 - 1e-9 ? Math.floor(100 * share + 1e-9) : Math.round(100 * share)
  return `${Math.min(percent, share < 1 - 1e-9 ? 99 : Number.POSITIVE_INFINITY)} %`
}

/** A size or a place as one glances at it: tenths, or 64ths of an inch; sizes never larger than they are. */
const dropZero = (text: string): string => text.replace(/\.0$/, '')
export const sizeGlance = (mm: number, units: PeopleUnits): string => dropZero(gapGlance(mm, units))
export const placeGlance = (mm: number, units: PeopleUnits): string =>
  dropZero(formatLength(mm, units, units === 'mm' ? { decimals: 1, bare: true } : { fraction: 64, bare: true }))

/** What people measure to: a millimetre, or a thirty-second of an inch. */
const stepOf = (units: PeopleUnits): number => (units === 'mm' ? 1 : 25.4 / 32)

/** What a little more room at a hold would give. */
export function buysText(hold: Hold, role: Role | null, units: PeopleUnits): string {
  const step = units === 'mm' ? '1 mm' : formatLength(stepOf(units), 'inch', { fraction: 32 })
  if (hold.gainPerMm === null) return largest.gainUnknown
  const gain = gainText((hold.gainPerMm * stepOf(units)) / 1e6)
  return role === 'safety' || role === 'lamp' ? largest.buysSurer(step, gain) : largest.buys(step, gain)
}

function gainText(litres: number): string {
  if (litres <= 1e-9) return largest.nothing
  return litres < 0.005 ? largest.lessThan('0.01') : largest.litres(litres.toFixed(2))
}

/** mm² as people tell a face: cm², or square inches. */
export const faceText = (mm2: number, units: PeopleUnits): string =>
  units === 'mm' ? Math.round(mm2 / 100).toLocaleString('en') : (mm2 / 25.4 ** 2).toFixed(1)
export const faceUnit = (units: PeopleUnits): string => (units === 'mm' ? 'cm²' : 'in²')
