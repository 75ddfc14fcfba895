import type { PipeLoss } from '../../../core/pipe/loss.ts'
import { formatLength, type PeopleUnits } from '../../../core/units/lengthText.ts'
import { fieldText } from '../editors/quantity.ts'
import { words } from '../words.ts'

const { pipes } = words
const minus = (text: string): string => text.replace('-', '−')

/** A length in a table for the shop, without unit: tenths of a millimetre, or hundredths of an inch. */
export const tableLength = (mm: number, units: PeopleUnits): string =>
  minus(formatLength(mm, units, { decimals: units === 'mm' ? 1 : 2, bare: true, passDust: true }))

/** The same with its unit. */
export const lengthOf = (mm: number, units: PeopleUnits): string =>
  `${tableLength(mm, units)} ${units === 'mm' ? words.field.mm : words.field.inch}`

/** Tenths of a degree; no minus before nothing. */
export function angleOf(degrees: number): string {
  const text = degrees.toFixed(1)
  return minus(text === '-0.0' ? '0.0' : text)
}

/** `1.5 D`: bend radius over outside diameter. */
export function dOfBend(radius: number, outsideDiameter: number): string {
  const text = (radius / outsideDiameter).toFixed(2).replace(/0$/, '')
  return pipes.figures.dOf(text.replace(/\.0$/, ''))
}

/** A size of stock as it is called: all its places, in the units that are shown. */
export const sizeOf = (mm: number, units: PeopleUnits): string => fieldText(mm, 'length', units)

/** Pascal as people tell a pressure loss: the lower end rounded down, the upper one up. */
function pressure(pascal: number, units: PeopleUnits, round: (x: number) => number): string {
  const [value, unit] =
    units === 'inch' ? [pascal / 6894.757, 'psi'] : pascal < 1000 ? [pascal, 'Pa'] : [pascal / 1000, 'kPa']
  const places = unit === 'Pa' ? 0 : value < 10 ? 2 : 1
  const scale = 10 ** places
  return `${(round(value * scale) / scale).toFixed(places)} ${unit}`
}

/** `1.21 kPa to 1.94 kPa` */
export const bandOf = ({ atLeast, atMost }: Pick<PipeLoss, 'atLeast' | 'atMost'>, units: PeopleUnits): string =>
  pipes.loss.band(pressure(atLeast, units, Math.floor), pressure(atMost, units, Math.ceil))

export const speedOf = (metresPerSecond: number, units: PeopleUnits): string =>
  units === 'mm' ? `${metresPerSecond.toFixed(1)} m/s` : `${(metresPerSecond / 0.3048).toFixed(0)} ft/s`

/** Two figures: more would claim what nobody knows. */
export const reynoldsOf = (reynolds: number): string => Number(reynolds.toPrecision(2)).toLocaleString('en')
