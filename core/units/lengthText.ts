/**
 * Lengths as text for people. Every text reads back with `readLength` to what it shows.
 * A figure must never claim more than is known, so the direction of rounding belongs to the meaning:
 * gaps and margins round down (`formatGap`), errors, uncertainties and tolerances round up (`formatUncertainty`),
 * and only plain dimensions round to the nearest (`formatLength`).
 */
export interface LengthFormat {
  /** Inches are written as fractions with this denominator (default 32), unless `decimals` is given. */
  readonly fraction?: 2 | 4 | 8 | 16 | 32 | 64 | 128
  /** Decimal places: 0 to 6, default 1 for mm; given with inches, it replaces the fraction. */
  readonly decimals?: number
  /**
   * Lets a millionth of a millimetre be no step (default false): 72.499 999 999 999 99 is the dust that arithmetic leaves
   * on 72.5, and reads 72.50. At zero even dust counts, so that no sign is lost: a margin of −1e−12 never reads 0.00.
   * For figures to look at; not for advice, where a figure taken at its word must do.
   */
  readonly passDust?: boolean
  /** Leaves the unit out (default false): for columns whose head names it. */
  readonly bare?: boolean
}
export type PeopleUnits = 'mm' | 'inch'

/** Nearest, for dimensions. */
export const formatLength = (mm: number, units: PeopleUnits, format: LengthFormat = {}): string =>
  write(mm, units, format, 'nearest')
/** Never more than the true value: for gaps, margins and depths that are at least so much. */
export const formatGap = (mm: number, units: PeopleUnits, format: LengthFormat = {}): string =>
  write(mm, units, format, 'down')
/** Never less than the true value: for errors, uncertainties, tolerances and required clearances. */
export const formatUncertainty = (mm: number, units: PeopleUnits, format: LengthFormat = {}): string =>
  write(mm, units, format, 'up')

/** The step between two neighbouring texts, in mm: what a sheet states as its rounding. */
export function formatStep(units: PeopleUnits, format: LengthFormat = {}): number {
  const grid = gridOf(units, format)
  return grid.millimetres(1)
}

/** The rounding in words: `0.1 mm`, `1/32″`, `0.001″`. */
export function formatStepText(units: PeopleUnits, format: LengthFormat = {}): string {
  const grid = gridOf(units, format)
  return grid.text(1) + grid.mark
}

interface Grid {
  /** mm at n steps, correctly rounded: one division of whole numbers. */
  millimetres(n: number): number
  /** Text of n ≥ 0 steps, without sign and unit. */
  text(n: number): string
  readonly mark: string
}

function gridOf(units: PeopleUnits, { fraction = 32, decimals, bare = false }: LengthFormat): Grid {
  const mark = bare ? '' : units === 'mm' ? ' mm' : '″'
  if (units === 'inch' && decimals === undefined)
    return { millimetres: (n) => (n * 254) / (10 * fraction), text: (n) => fractionText(n, fraction), mark }
  const places = decimals ?? 1
  if (!Number.isInteger(places) || places < 0 || places > 6)
    throw new RangeError(`decimals must be 0 to 6, got ${places}`)
  const parts = 10 ** places
  const millimetres = units === 'mm' ? (n: number) => n / parts : (n: number) => (n * 254) / (10 * parts)
  return { millimetres, text: (n) => (n / parts).toFixed(places), mark }
}

/** mm; no coarser than the finest text and far finer than anything that is measured. */
const dust = 1e-6

function write(mm: number, units: PeopleUnits, format: LengthFormat, rounding: 'nearest' | 'down' | 'up'): string {
  if (Number.isNaN(mm)) return '–'
  if (!Number.isFinite(mm)) return mm > 0 ? '∞' : '−∞'
  const grid = gridOf(units, format)
  let n = Math.round(mm / grid.millimetres(1))
  const slack = () => (format.passDust && n !== 0 ? dust : 0)
  // The quotient carries rounding of its own, so the direction is decided on the values that will be shown.
  if (rounding === 'down') while (grid.millimetres(n) > mm + slack()) n--
  if (rounding === 'up') while (grid.millimetres(n) < mm - slack()) n++
  return (n < 0 ? '−' : '') + grid.text(Math.abs(n)) + grid.mark
}

/** n steps of 1/denominator in lowest terms: 152 of 1/32 is `4 3/4`. */
function fractionText(n: number, denominator: number): string {
  const whole = Math.floor(n / denominator)
  let over = n % denominator
  let under = denominator
  if (over === 0) return String(whole)
  while (over % 2 === 0) {
    over /= 2
    under /= 2
  }
  return whole === 0 ? `${over}/${under}` : `${whole} ${over}/${under}`
}
