import { bad, type Outcome } from '../../../core/fault.ts'
import type { PeopleUnits } from '../../../core/units/lengthText.ts'
import { rowsOf } from './pastedRows.ts'
import { type Quantity, readField } from './quantity.ts'

/**
 * All numbers of a point or direction out of text that was typed or pasted into one of its fields: `120, 45, -30`, cells of a
 * row or of a column. A text that is one number is that field's own, so that 12,5 is twelve and a half.
 * @param labels of the fields, as many as there are numbers
 * @returns null where the text is no list; what is wrong with it where it is one
 */
export function readTogether(
  text: string,
  labels: readonly string[],
  quantity: Quantity,
  units: PeopleUnits,
): Outcome<readonly number[]> | null {
  if (readField(text, quantity, units).ok) return null
  const read = rowsOf(text, labels.length, (cell) => readField(cell, quantity, units))
  const looksLikeOne = /[\t;\n]|,\s/.test(text.trim())
  if (!read.ok) return looksLikeOne ? read : null
  const numbers = read.value.flat()
  const isLine = read.value.length === 1 || read.value[0].length === 1
  if (isLine && numbers.length === labels.length) return { ok: true, value: numbers }
  // 1,234 is rather one number that can be read in two ways.
  if (!looksLikeOne) return null
  return bad({ code: 'wrong-count', expected: `${labels.length} numbers: ${labels.join(', ')}`, got: numbers.length })
}
