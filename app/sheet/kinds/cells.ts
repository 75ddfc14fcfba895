import {
  formatGap,
  formatLength,
  formatUncertainty,
  type LengthFormat,
  type PeopleUnits,
} from '../../../core/units/lengthText.ts'
import type { Verdict } from '../../../core/verdict/answer.ts'
import { fine } from '../../wording/plainWords.ts'
import type { Cell } from '../sheet.ts'

/** Cells of tables. Lengths are bare: the column's head names the unit (`unitText`). */

export const textCell = (text: string): Cell => ({ text })
/** Room to write in. */
export const emptyCell: Cell = { text: '' }

export const unitText = (units: PeopleUnits): string => (units === 'mm' ? 'mm' : 'inch')

/** Nearest: a dimension. */
export const lengthCell = (mm: number, units: PeopleUnits, format: LengthFormat = fine(units)): Cell => ({
  text: formatLength(mm, units, { ...format, bare: true }),
  value: mm,
})

/** Never more than it is: gaps, margins, the greatest that still agrees. */
export const littleCell = (mm: number, units: PeopleUnits, format: LengthFormat = fine(units)): Cell => ({
  text: formatGap(mm, units, { ...format, bare: true, passDust: true }),
  value: mm,
})

/** Never less than it is: errors, uncertainties, what is required, the least that will do. */
export const muchCell = (mm: number, units: PeopleUnits, format: LengthFormat = fine(units)): Cell => ({
  text: formatUncertainty(mm, units, { ...format, bare: true, passDust: true }),
  value: mm,
})

export const verdictCell = (verdict: Verdict): Cell => ({ text: verdict, verdict })
