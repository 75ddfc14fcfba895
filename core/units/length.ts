import { bad, good } from '../fault.ts'
import type { Fault, Outcome } from '../fault.ts'
import { plainMinus, writtenNumber } from './number.ts'
import type { NumberTrouble, WrittenNumber } from './number.ts'

export type Millimetres = number & { readonly unit: 'mm' }
export type LengthUnit = 'mm' | 'cm' | 'm' | 'inch' | 'foot'

/** Anything longer than 10 km is a slip of units. */
export const longest = 1e7
const longestText = 120

/** Value × over ÷ under gives mm: whole numbers and one division, because 4.75 × 25.4 is 120.64999999999999 and 475 × 254 ÷ 1000 is 120.65. */
const millimetresIn: Record<LengthUnit, readonly [over: number, under: number]> = {
  mm: [1, 1],
  cm: [10, 1],
  m: [1000, 1],
  inch: [254, 10],
  foot: [3048, 10],
}

const unitPattern = /\s*(?:(mm|cm|m|inches|inch|in\.|in|feet|foot|ft\.|ft)(?![a-z])|(''|["″”]|['′’]))/iy

/**
 * Reads a length as people write it.
 *
 * `120`, `120 mm`, `12,5 cm`, `1.2 m`, `4 3/4"`, `4-3/4 in`, `4¾`, `.5`, `3' 6 1/2"`, `3'-6 1/2"`, `−3`,
 * and sums and differences of such: `26 3/8" - 12 mm`.
 * - A bare number is in `defaultUnit`. In a sum, a bare number beside one with another unit is refused.
 * - `4-3/4` is four and three quarters; `4 - 3/4` is a difference; `4 -3/4` is refused.
 * - `3'-6"` is three feet six; `3' - 6"` is refused, since it is written for both.
 * - Refused too: `1,234` (thousands or decimals?), exponents, `1/0`, `1_000`, digits other than 0–9.
 *
 * @returns mm, at most `longest` either way; the exact decimal where there is one (sums are rounded to 1e-9 mm).
 *   Faults: 'no-length', 'not-a-length', 'ambiguous-length', 'zero-denominator', 'length-too-large'; `column` from 1.
 */
export function readLength(text: string, defaultUnit: LengthUnit): Outcome<Millimetres> {
  if (text.trim() === '') return bad({ code: 'no-length', expected: example, got: text })
  if (text.length > longestText)
    return bad({ code: 'not-a-length', expected: `at most ${longestText} characters`, got: `${text.slice(0, 40)}…` })
  const terms = new TermReader(text).all()
  if (!Array.isArray(terms)) return bad({ ...terms, got: text })
  const named = terms.some((term) => term.unit !== null && term.unit !== defaultUnit)
  if (named && terms.some((term) => term.unit === null))
    return bad({ code: 'ambiguous-length', expected: 'a unit after every number of the sum', got: text })
  const values = terms.map((term) => term.sign * term.millimetres(defaultUnit))
  const total = values.length === 1 ? values[0] : tidySum(values)
  if (!(Math.abs(total) <= longest))
    return bad({ code: 'length-too-large', expected: `at most ${longest} mm`, got: text })
  return good((total === 0 ? 0 : total) as Millimetres)
}

/** One number with its unit, as it stands in a sum or product. */
export interface LengthTerm {
  /** Null for a number that names none. */
  readonly unit: LengthUnit | null
  /** The number alone, without its unit; null for feet and inches. */
  readonly plain: number
  /** mm; a number without a unit is in this one. */
  readonly millimetres: (defaultUnit: LengthUnit) => number
}

/** The terms of a sum, each with its sign, before they are added. @returns faults as `readLength` */
export function readTerms(text: string): Outcome<readonly LengthTerm[]> {
  const terms = new TermReader(text).all()
  if (!Array.isArray(terms)) return bad({ ...terms, got: text })
  return good(
    terms.map(({ sign, unit, number, millimetres }) => ({
      unit,
      plain: sign * number.value,
      millimetres: (given) => sign * millimetres(given),
    })),
  )
}

const example = 'a length such as 120 mm, 4 3/4" or 3\' 6 1/2"'

/** A sum of decimals, freed of the dust of binary addition: 0.1 + 0.2 is 0.3. Beyond 1e6 mm doubles hold fewer places. */
function tidySum(values: readonly number[]): number {
  const sum = values.reduce((a, b) => a + b, 0)
  return Math.abs(sum) < 1e6 ? Math.round(sum * 1e9) / 1e9 : sum
}

interface Term {
  readonly sign: 1 | -1
  readonly number: WrittenNumber
  readonly unit: LengthUnit | null
  /** Feet alone, so that inches could still follow. */
  readonly bareFeet: boolean
  millimetres(defaultUnit: LengthUnit): number
}
type Trouble = Omit<Fault, 'got'>

/** Walks over the text once: term, operator, term … */
class TermReader {
  private readonly text: string
  private at = 0
  constructor(text: string) {
    this.text = plainMinus(text)
  }

  all(): Term[] | Trouble {
    const terms: Term[] = []
    this.skipSpace()
    let sign: 1 | -1 = this.takeSign() ?? 1
    this.skipSpace()
    for (;;) {
      const term = this.term(sign)
      if ('code' in term) return term
      terms.push(term)
      const spaceBefore = this.skipSpace()
      if (this.at === this.text.length) return terms
      const operatorAt = this.at
      const next = this.takeSign()
      if (next === null) return this.trouble('not-a-length', 'plus, minus or the end', this.at)
      const spaceAfter = this.skipSpace()
      const ambiguous = next === -1 && this.readsTwoWays(term, spaceBefore, spaceAfter)
      if (ambiguous) return this.trouble('ambiguous-length', ambiguous, operatorAt)
      sign = next
    }
  }

  /** `3' - 6"` and `4 -3/4`: feet and inches, or a difference? A mixed number, or a difference? */
  private readsTwoWays(left: Term, spaceBefore: boolean, spaceAfter: boolean): string | null {
    const start = this.at
    const right = this.term(1)
    this.at = start
    if ('code' in right) return null
    if (left.bareFeet && (right.unit === 'inch' || right.unit === null))
      return 'feet and inches without the hyphen, or inches only'
    const mayBeMixed = left.unit === null && left.number.kind === 'whole' && right.number.kind === 'fraction'
    return mayBeMixed && spaceBefore !== spaceAfter
      ? '4-3/4 or 4 3/4 for a mixed number, 4 - 3/4 for a difference'
      : null
  }

  private term(sign: 1 | -1): Term | Trouble {
    const number = this.number()
    if ('code' in number) return number
    const unit = this.takeUnit()
    if (unit !== 'foot') return simpleTerm(sign, number, unit)
    const inches = this.inchesAfterFeet(number)
    if (inches === null) return { ...simpleTerm(sign, number, unit), bareFeet: true }
    if ('code' in inches) return inches
    const over = number.over * 12 * inches.under + inches.over
    return { sign, number, unit: 'foot', bareFeet: false, millimetres: () => (over * 254) / (10 * inches.under) }
  }

  /** The inches in `3' 6 1/2"`, or null where none follow. A tight hyphen joins (`3'-6"`) unless another unit comes (`3'-12 mm`). */
  private inchesAfterFeet(feet: WrittenNumber): WrittenNumber | Trouble | null {
    const start = this.at
    if (this.text[this.at] === '-') this.at++
    else this.skipSpace()
    const numberAt = this.at
    const inches = this.number()
    if ('code' in inches) {
      this.at = start
      return inches.code === 'not-a-length' ? null : inches
    }
    const unit = this.takeUnit()
    if (unit !== null && unit !== 'inch') {
      this.at = start
      return null
    }
    if (feet.kind !== 'whole') return this.trouble('not-a-length', 'whole feet before inches', numberAt)
    if (inches.value >= 12) return this.trouble('not-a-length', 'inches below 12 after feet', numberAt)
    return inches
  }

  private number(): WrittenNumber | Trouble {
    const found = writtenNumber(this.text, this.at)
    if (typeof found === 'string') return this.trouble(...wordsOf[found], this.at)
    this.at = found.end
    return found
  }

  private takeUnit(): LengthUnit | null {
    unitPattern.lastIndex = this.at
    const match = unitPattern.exec(this.text)
    if (!match) return null
    this.at += match[0].length
    return unitOf(match[1]?.toLowerCase() ?? match[2])
  }

  private takeSign(): 1 | -1 | null {
    const sign = this.text[this.at]
    if (sign !== '+' && sign !== '-') return null
    this.at++
    return sign === '+' ? 1 : -1
  }

  private skipSpace(): boolean {
    const start = this.at
    while (this.at < this.text.length && /\s/.test(this.text[this.at])) this.at++
    return this.at > start
  }

  private trouble(code: string, expected: string, at: number): Trouble {
    return { code, expected, column: at + 1 }
  }
}

const wordsOf: Record<NumberTrouble, [code: string, expected: string]> = {
  'no-number': ['not-a-length', example],
  'ambiguous-comma': ['ambiguous-length', '1234 or 1.234, without a mark that may mean thousands'],
  'zero-denominator': ['zero-denominator', 'a fraction over something other than zero'],
  'top-heavy-fraction': ['not-a-length', 'a fraction below one after the whole number'],
}

function simpleTerm(sign: 1 | -1, number: WrittenNumber, unit: LengthUnit | null): Term {
  const millimetres = (defaultUnit: LengthUnit) => {
    const [over, under] = millimetresIn[unit ?? defaultUnit]
    return (number.over * over) / (number.under * under)
  }
  return { sign, number, unit, bareFeet: false, millimetres }
}

function unitOf(word: string): LengthUnit {
  if (word === 'mm' || word === 'cm' || word === 'm') return word
  if (word.startsWith('f') || ["'", '′', '’'].includes(word)) return 'foot'
  return 'inch'
}
