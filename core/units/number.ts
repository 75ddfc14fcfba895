import { numericQuantity } from 'numeric-quantity'

/**
 * Numbers as people write them: `12`, `12.5`, `12,5`, `.5`, `3/4`, `4 3/4`, `4-3/4`, `4¾`, `½`.
 * Only the ten ASCII digits count; exponents, underscores, thousands marks and digits of other scripts are refused.
 * The library turns the piece we cut out into a value; where it is more generous than we are
 * (it reads `120,5` as 1205, `1/0` as infinity, `1_000` as 1000) our own pattern never hands it such text.
 */

const vulgar = '[¼½¾⅐⅑⅒⅓⅔⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞]'
const mixedPattern = new RegExp(`(\\d+)(?:(?:\\s+|-)(\\d+)[/⁄](\\d+)|(?:\\s*|-)(${vulgar}))`, 'y')
const fractionPattern = new RegExp(`(\\d+)[/⁄](\\d+)|(${vulgar})`, 'y')
const decimalPattern = /(\d+)(?:([.,])(\d*))?|([.,])(\d+)/y

export interface WrittenNumber {
  readonly value: number
  /** The same as a quotient of whole numbers, so that a change of unit rounds once: 19.9995 is 199995 / 10000. */
  readonly over: number
  readonly under: number
  /** Index just after the number. */
  readonly end: number
  /** 'whole' has neither a point nor a fraction; 'fraction' has no whole part. */
  readonly kind: 'whole' | 'decimal' | 'fraction' | 'mixed'
}

export type NumberTrouble = 'no-number' | 'ambiguous-comma' | 'zero-denominator' | 'top-heavy-fraction'

/**
 * Reads the number that begins at `at`.
 * @param text with every minus sign already turned into '-'
 * @returns the number and where it ends, or what is wrong there.
 *   A comma followed by exactly three digits may be a thousands mark (`1,234`) and is refused,
 *   unless the whole part rules that out (`0,125`, `1234,567`).
 *   A mixed number keeps its fraction below one: `4 7/4` is refused as a likely slip, `7/4` alone is not.
 */
export function writtenNumber(text: string, at: number): WrittenNumber | NumberTrouble {
  const mixed = matchAt(mixedPattern, text, at)
  if (mixed) {
    const [whole, [, integer, over, under, glyph]] = [mixed[0], mixed]
    const trouble = fractionTrouble(over, under, true)
    if (trouble) return trouble
    const fraction = glyph ?? `${over}/${under}`
    return { ...fractionOf(`${integer} ${fraction}`), end: at + whole.length, kind: 'mixed' }
  }
  const fraction = matchAt(fractionPattern, text, at)
  if (fraction) {
    const [whole, over, under, glyph] = fraction
    const trouble = fractionTrouble(over, under, false)
    if (trouble) return trouble
    return { ...fractionOf(glyph ?? `${over}/${under}`), end: at + whole.length, kind: 'fraction' }
  }
  const decimal = matchAt(decimalPattern, text, at)
  if (!decimal) return 'no-number'
  const integer = decimal[1] ?? ''
  const mark = decimal[2] ?? decimal[4]
  const decimals = decimal[3] ?? decimal[5] ?? ''
  const end = at + decimal[0].length
  if (mark === undefined) return { ...decimalOf(integer, ''), end, kind: 'whole' }
  const mayBeThousands = mark === ',' && decimals.length === 3 && /^[1-9]\d{0,2}$/.test(integer)
  if (mayBeThousands || text[end] === ',' || text[end] === '.') return 'ambiguous-comma'
  return { ...decimalOf(integer, decimals), end, kind: 'decimal' }
}

function matchAt(pattern: RegExp, text: string, at: number): RegExpExecArray | null {
  pattern.lastIndex = at
  return pattern.exec(text)
}

function fractionTrouble(over: string | undefined, under: string | undefined, mixed: boolean): NumberTrouble | null {
  if (over === undefined || under === undefined) return null
  if (Number(under) === 0) return 'zero-denominator'
  return mixed && Number(over) >= Number(under) ? 'top-heavy-fraction' : null
}

type Quotient = Pick<WrittenNumber, 'value' | 'over' | 'under'>

/** `round: false`, since the library would else round 3/64 to 0.047. */
function fractionOf(text: string): Quotient {
  const read = numericQuantity(text, { round: false, verbose: true })
  const { whole = 0, numerator = 0, denominator = 1 } = read
  const over = whole * denominator + numerator
  return { value: over / denominator, over, under: denominator }
}

function decimalOf(integer: string, decimals: string): Quotient {
  const value = numericQuantity(`${integer || '0'}.${decimals || '0'}`, { round: false })
  const places = decimals.replace(/0+$/, '')
  const digits = integer + places
  // Beyond 12 digits the whole numbers, times 254, would no longer be exact.
  return digits.length <= 12
    ? { value, over: Number(digits), under: 10 ** places.length }
    : { value, over: value, under: 1 }
}

/** Every sign that people and word processors use for minus, turned into '-' (one character each, so columns hold). */
export const plainMinus = (text: string): string => text.replace(/[\u2010\u2011\u2012\u2013\u2212\uFE63\uFF0D]/g, '-')
