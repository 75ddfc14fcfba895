import { bad, type Fault, good, type Outcome } from '../fault.ts'
import { type LengthTerm, type LengthUnit, longest, type Millimetres, readLength, readTerms } from './length.ts'
import { plainMinus } from './number.ts'

const longestText = 200
const deepest = 12

/** What makes text more than a sum: brackets, times, divided by. A slash between two digits is a fraction. */
const beyondSums = /[()*×·÷]|\s\/\s|[a-z)"'″”′’¼½¾⅐-⅞]\s*\/|\/\s*\(/i

/**
 * Reads a length as people reckon it: all that `readLength` reads, and brackets, times and divided by:
 * `(640 - 2 * 14.5)/2`, `26 3/8" / 2`, `3 × 10 1/2" + 12 mm`.
 * - Times and divided by go before plus and minus; beside them plus and minus need spaces on both
 *   sides, since `4-3/4` is a number.
 * - A length may be multiplied and divided by plain numbers, not by lengths. Plain numbers alone are in `defaultUnit`; beside
 *   a length of another unit they are refused, as in sums.
 * @returns mm, at most `longest` either way, rounded to 1e-9 mm. Faults: those of `readLength`.
 */
export function readExpression(text: string, defaultUnit: LengthUnit): Outcome<Millimetres> {
  const plain = plainMinus(text)
  if (!beyondSums.test(plain)) return readLength(text, defaultUnit)
  const told = (fault: Fault) => bad({ ...fault, got: text.slice(0, 80) })
  if (text.length > longestText) return told({ code: 'not-a-length', expected: `at most ${longestText} characters` })
  const reader = new ExpressionReader(tokensOf(plain), defaultUnit)
  const value = reader.whole()
  if ('code' in value) return told(value)
  const mm = value.mm ?? inUnit(value.plain, defaultUnit)
  if (!(Math.abs(mm) <= longest)) return told({ code: 'length-too-large', expected: `at most ${longest} mm` })
  return good(((Math.abs(mm) < 1e6 ? Math.round(mm * 1e9) / 1e9 : mm) + 0) as Millimetres)
}

/** A length with the units it was made of, or a plain number. */
type Value =
  | { readonly mm: number; readonly units: readonly LengthUnit[]; readonly plain?: undefined }
  | { readonly mm?: undefined; readonly plain: number }

interface Token {
  readonly kind: '(' | ')' | '*' | '/' | '+' | '-' | 'term' | 'end'
  readonly text: string
  /** From 0. */
  readonly at: number
}

/** Signs with space on both sides, or at the beginning or before a bracket, are signs; others belong to a number. */
const sign = /(?<=^\s*|[(*×·÷/]\s*|\s|\)\s*)[+-](?=\s|\(|$)|(?<=\))[+-]|(?<=[(*×·÷]\s*|^\s*)[+-]/
const slash = /(?<=[a-z)"'″”′’¼½¾⅐-⅞]\s*|\s)\/|\/(?=\s*\()/i
const cut = new RegExp(`([()*×·÷]|${sign.source}|${slash.source})`, 'gi')

function tokensOf(text: string): Token[] {
  const tokens: Token[] = []
  let at = 0
  const term = (to: number) => {
    const between = text.slice(at, to)
    if (between.trim() !== '') tokens.push({ kind: 'term', text: between, at })
  }
  for (const match of text.matchAll(cut)) {
    term(match.index)
    const mark = match[0]
    const kind = '×·*'.includes(mark) ? '*' : mark === '÷' || mark === '/' ? '/' : (mark as '(' | ')' | '+' | '-')
    tokens.push({ kind, text: mark, at: match.index })
    at = match.index + mark.length
  }
  term(text.length)
  return [...tokens, { kind: 'end', text: '', at: text.length }]
}

class ExpressionReader {
  private readonly tokens: readonly Token[]
  private readonly unit: LengthUnit
  private next = 0
  private depth = 0

  constructor(tokens: readonly Token[], unit: LengthUnit) {
    this.tokens = tokens
    this.unit = unit
  }

  whole(): Value | Fault {
    const value = this.sum()
    if ('code' in value) return value
    return this.here.kind === 'end' ? value : this.fault('plus, minus, times, divided by or the end')
  }

  private get here(): Token {
    return this.tokens[this.next]
  }

  private sum(): Value | Fault {
    let value = this.product()
    while (!('code' in value) && (this.here.kind === '+' || this.here.kind === '-')) {
      const way = this.here.kind === '+' ? 1 : -1
      this.next++
      const other = this.product()
      if ('code' in other) return other
      value = this.added(value, other, way)
    }
    return value
  }

  private product(): Value | Fault {
    let value = this.factor()
    while (!('code' in value) && (this.here.kind === '*' || this.here.kind === '/')) {
      const { kind } = this.here
      this.next++
      const other = this.factor()
      if ('code' in other) return other
      value = kind === '*' ? this.times(value, other) : this.over(value, other)
    }
    return value
  }

  private factor(): Value | Fault {
    const { kind, text, at } = this.here
    this.next++
    if (kind === '(') {
      if (++this.depth > deepest) return this.fault(`at most ${deepest} brackets in each other`)
      const value = this.sum()
      if ('code' in value) return value
      if (this.here.kind !== ')') return this.fault('a closing bracket')
      this.next++
      this.depth--
      return value
    }
    if (kind === '-' || kind === '+') {
      if (++this.depth > deepest) return this.fault('fewer signs')
      const value = this.factor()
      this.depth--
      return 'code' in value || kind === '+' ? value : this.times(value, { plain: -1 })
    }
    if (kind === 'term') return this.term(text, at)
    this.next--
    return this.fault('a length or number')
  }

  private term(text: string, at: number): Value | Fault {
    const [before, after] = [this.tokens[this.next - 2]?.kind, this.here.kind]
    const read = readTerms(text)
    if (!read.ok) {
      const { column = 1, ...fault } = read.faults[0]
      return { ...fault, column: at + column }
    }
    const [first, ...others] = read.value.map(asValue)
    // 2*6-3 could be meant to multiply both; between brackets or plus signs a sum is no question.
    const isAlone = (before === undefined || before === '(' || before === '+') && after !== '*' && after !== '/'
    if (others.length > 0 && !isAlone)
      return {
        code: 'ambiguous-length',
        expected: 'spaces on both sides of plus and minus, or brackets',
        column: at + 1,
      }
    return others.reduce<Value | Fault>((sum, other) => ('code' in sum ? sum : this.added(sum, other, 1)), first)
  }

  private added(one: Value, other: Value, way: 1 | -1): Value | Fault {
    if (one.mm === undefined && other.mm === undefined) return { plain: one.plain + way * other.plain }
    const units = [one, other].flatMap((value) => (value.mm === undefined ? [] : value.units))
    const isMixed = one.mm === undefined || other.mm === undefined
    if (isMixed && units.some((unit) => unit !== this.unit))
      return { code: 'ambiguous-length', expected: 'a unit after every number of the sum' }
    const [a, b] = [one, other].map((value) => value.mm ?? inUnit(value.plain, this.unit))
    return { mm: a + way * b, units }
  }

  private times(one: Value, other: Value): Value | Fault {
    if (one.mm === undefined && other.mm === undefined) return { plain: one.plain * other.plain }
    if (one.mm !== undefined && other.mm !== undefined) return this.fault('a length times a plain number')
    const [length, number] = one.mm !== undefined ? [one, other] : [other, one]
    return length.mm === undefined || number.plain === undefined
      ? this.fault('a length times a plain number')
      : { mm: length.mm * number.plain, units: length.units }
  }

  private over(one: Value, other: Value): Value | Fault {
    if (other.plain === undefined) return this.fault('a plain number to divide by')
    if (other.plain === 0) return { code: 'zero-denominator', expected: 'something other than zero to divide by' }
    return one.mm === undefined ? { plain: one.plain / other.plain } : { mm: one.mm / other.plain, units: one.units }
  }

  private fault(expected: string): Fault {
    return { code: 'not-a-length', expected, column: this.here.at + 1 }
  }
}

const asValue = ({ unit, plain, millimetres }: LengthTerm): Value =>
  unit === null ? { plain } : { mm: millimetres(unit), units: [unit] }

function inUnit(plain: number, unit: LengthUnit): number {
  if (unit === 'inch') return (plain * 254) / 10
  return plain * { mm: 1, cm: 10, m: 1000, foot: 304.8 }[unit]
}
