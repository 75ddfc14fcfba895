import { formatGap, formatUncertainty, type PeopleUnits } from '../../../core/units/lengthText.ts'

const format = (units: PeopleUnits) => ({ decimals: units === 'mm' ? 2 : 4 })

/** The lower end of what is proved of a margin: never more than that. */
export const leastOf = (mm: number, units: PeopleUnits): string => formatGap(mm, units, format(units))
/** The upper end: never less. */
export const mostOf = (mm: number, units: PeopleUnits): string => formatUncertainty(mm, units, format(units))
