import {
  formatGap,
  formatLength,
  formatUncertainty,
  type LengthFormat,
  type PeopleUnits,
} from '../../core/units/lengthText.ts'

/** Figures of bend tables as a shop reads them: a bender's scale is no finer. */

/** Tenths of a millimetre, thousandths of an inch. */
const tableFormat = (units: PeopleUnits): LengthFormat => ({ decimals: units === 'mm' ? 1 : 3, bare: true })
/** Hundredths of a millimetre, thousandths of an inch: for what a joint needs, and has. */
const fineFormat = (units: PeopleUnits): LengthFormat => ({ decimals: units === 'mm' ? 2 : 3, passDust: true })

export const tableLength = (mm: number, units: PeopleUnits): string => formatLength(mm, units, tableFormat(units))
/** What the table's lengths and angles are rounded to. */
export const tableRounding = (units: PeopleUnits): string => `${units === 'mm' ? '0.1 mm' : '0.001″'} and 0.01°`

/** A figure that must not be taken for more than it is. */
export const atMost = (mm: number, units: PeopleUnits): string => formatGap(mm, units, fineFormat(units))
/** A figure that must not be taken for less. */
export const atLeast = (mm: number, units: PeopleUnits): string => formatUncertainty(mm, units, fineFormat(units))

/** A size as it is called, without needless zeros: `57 mm`, `1.6 mm`, `2.244″`. */
export function sizeText(mm: number, units: PeopleUnits, bare = false): string {
  const text = formatLength(mm, units, { decimals: units === 'mm' ? 2 : 3, bare: true })
  const short = text.includes('.') ? text.replace(/\.?0+$/, '') : text
  return bare ? short : short + (units === 'mm' ? ' mm' : '″')
}

/** Hundredths of a degree, with a true minus; half a turn either way is the same and has no sign. */
export function turnText(degrees: number): string {
  const shown = Number(degrees.toFixed(2)) + 0
  return `${(Math.abs(shown) === 180 ? 180 : shown).toFixed(2).replace('-', '−')}°`
}

/** `1.5 D`: bend radius over outside diameter. */
export const dText = (dOfBend: number): string => `${Number(dOfBend.toFixed(2))} D`

const psi = 6894.757

/** `1.21 to 1.94 kPa`: lower ends rounded down, upper ends up, about three figures. */
export function pressureBand(
  { atLeast: low, atMost: high }: { atLeast: number; atMost: number },
  units: PeopleUnits,
): string {
  const [unit, per] = units === 'inch' ? ['psi', psi] : high < 1000 ? ['Pa', 1] : ['kPa', 1000]
  const places = Math.max(0, 2 - Math.floor(Math.log10(Math.max(high / per, 1e-3))))
  const scale = 10 ** Math.min(places, 4)
  const shown = (value: number, round: (x: number) => number) =>
    (round((value / per) * scale) / scale).toFixed(Math.min(places, 4))
  return `${shown(low, Math.floor)} to ${shown(high, Math.ceil)} ${unit}`
}
