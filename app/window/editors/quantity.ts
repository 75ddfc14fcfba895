import { bad, good, type Outcome } from '../../../core/fault.ts'
import { readAngle } from '../../../core/units/angle.ts'
import { readExpression } from '../../../core/units/expression.ts'
import { formatLength, type PeopleUnits } from '../../../core/units/lengthText.ts'

/** What a number is, which decides how it is written, read and stepped. A share has no unit: taper, u and v; a number has one in its label. */
export type Quantity = 'length' | 'angle' | 'share' | 'number'

/**
 * A value as it stands in a field. It shows the value itself and not a rounding of it, as far as a person would type:
 * thousandths of a millimetre; in inches a fraction where the value is one, otherwise ten-thousandths.
 */
export function fieldText(value: number, quantity: Quantity, units: PeopleUnits): string {
  if (quantity !== 'length') return plain(value, quantity === 'angle' ? 4 : 5)
  if (units === 'mm') return plain(value, 3)
  const parts = (value / 25.4) * 64
  const isFraction = Math.abs(parts - Math.round(parts)) < 1e-6
  if (isFraction) return formatLength(value, 'inch', { fraction: 64, bare: true })
  return plain(value / 25.4, 4)
}

/** Rounded to so many places, without zeros that say nothing, with a real minus sign. */
function plain(value: number, places: number): string {
  const text = value.toFixed(places).replace(/\.?0+$/, '')
  return text === '-0' || text === '' ? '0' : text.replace('-', '−')
}

/** Reads what was typed. Lengths take any unit, fraction and reckoning; a bare number is in the units that are shown. */
export function readField(text: string, quantity: Quantity, units: PeopleUnits): Outcome<number> {
  if (quantity === 'length') return readExpression(text, units)
  const read = readAngle(text)
  if (quantity === 'angle') return read
  // A share is a plain number: the reader of angles takes all of those, and units beside.
  return read.ok && !/[a-z°º'′’"″”]/i.test(text)
    ? read
    : bad({ code: 'not-a-number', expected: 'a number such as 0.6', got: text })
}

/** How far one press of an arrow key goes, in the value's own unit. */
export function stepOf(quantity: Quantity, units: PeopleUnits, size: 'fine' | 'plain' | 'coarse'): number {
  const times = { fine: 0.1, plain: 1, coarse: 10 }[size]
  if (quantity === 'angle' || quantity === 'number') return times * 1
  if (quantity === 'share') return times * 0.05
  return units === 'mm' ? times : { fine: 25.4 / 64, plain: 25.4 / 16, coarse: 25.4 / 2 }[size]
}

/** A step on, free of the dust of binary addition. */
export const stepped = (value: number, by: number): number => Math.round((value + by) * 1e9) / 1e9

/** A value that an optional field may also lack. */
export function readOptional(text: string, quantity: Quantity, units: PeopleUnits): Outcome<number | undefined> {
  return text.trim() === '' ? good(undefined) : readField(text, quantity, units)
}
