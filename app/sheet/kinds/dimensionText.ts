import { formatLength, type PeopleUnits } from '../../../core/units/lengthText.ts'
import { fine } from '../../wording/plainWords.ts'

/** A dimension on a drawing, its unit left to the foot of the page: hundredths of a millimetre without idle noughts, or 1/64 inch. */
export function dimensionText(mm: number, units: PeopleUnits): string {
  const text = formatLength(mm, units, fine(units))
  return units === 'mm' ? text.replace(/\.?0+$/, '') : text
}
