/**
 * Reads words and numbers straight from the bytes of a text file, counting lines.
 *
 * Bytes and not a string: a text mesh may be longer than the longest string the engine can hold (about 0.5 GB).
 * Numbers come out as the double nearest to the decimal text: the usual short ones by an exact product or quotient,
 * the rest by the engine's own parser.
 */
export class TextScan {
  readonly bytes: Uint8Array
  /** Next byte to read. */
  at: number
  /** Line of `at`, from 1. */
  line = 1
  /** Span of the last word. */
  start = 0
  end = 0

  constructor(bytes: Uint8Array, at = skipMark(bytes)) {
    this.bytes = bytes
    this.at = at
  }

  /** Steps to the next word on this line; false at the line's or file's end. */
  word(): boolean {
    const { bytes } = this
    let i = this.at
    while (i < bytes.length && isBlank(bytes[i])) i++
    this.start = i
    while (i < bytes.length && bytes[i] > 32) i++
    this.end = i
    this.at = i
    return this.end > this.start
  }

  /** Steps to the next word, over line ends; false at the file's end. */
  wordAnywhere(): boolean {
    for (;;) {
      if (this.word()) return true
      if (this.at >= this.bytes.length) return false
      this.nextLine()
    }
  }

  /** Steps to the beginning of the next line. */
  nextLine(): void {
    const { bytes } = this
    let i = this.at
    while (i < bytes.length && bytes[i] !== 10 && bytes[i] !== 13) i++
    if (bytes[i] === 13 && bytes[i + 1] === 10) i++
    this.at = Math.min(i + 1, bytes.length)
    this.line++
  }

  get ended(): boolean {
    return this.at >= this.bytes.length
  }

  /** Whether the last word is this one (lower-case ASCII), whatever its case. */
  is(lower: string): boolean {
    if (this.end - this.start !== lower.length) return false
    for (let k = 0; k < lower.length; k++) {
      const b = this.bytes[this.start + k]
      if ((b >= 65 && b <= 90 ? b + 32 : b) !== lower.charCodeAt(k)) return false
    }
    return true
  }

  /** The last word as text, cut to 40 characters; '' at an end. */
  text(): string {
    const cut = Math.min(this.end, this.start + 40)
    const text = new TextDecoder().decode(this.bytes.subarray(this.start, cut))
    return cut < this.end ? `${text}…` : text
  }

  /** The last word as a number, or NaN where it is not one; ±Infinity where it is too large for a double. */
  number(): number {
    return decimal(this.bytes, this.start, this.end)
  }

  /** The last word as a whole number within ±2³¹, or NaN. */
  whole(): number {
    return wholeNumber(this.bytes, this.start, this.end)
  }
}

const isBlank = (b: number) => b <= 32 && b !== 10 && b !== 13

/** Length of a UTF-8 byte order mark at the start. */
const skipMark = (b: Uint8Array) => (b[0] === 0xef && b[1] === 0xbb && b[2] === 0xbf ? 3 : 0)

/** Text in two-byte characters, told by its byte order mark; the readers take one-byte text only. */
export const isWideText = (b: Uint8Array): boolean =>
  (b[0] === 0xff && b[1] === 0xfe) || (b[0] === 0xfe && b[1] === 0xff)

export function wholeNumber(bytes: Uint8Array, start: number, end: number): number {
  let i = start
  const negative = bytes[i] === 45
  if (negative || bytes[i] === 43) i++
  if (i >= end || end - i > 10) return Number.NaN
  let value = 0
  for (; i < end; i++) {
    const digit = bytes[i] - 48
    if (digit < 0 || digit > 9) return Number.NaN
    value = value * 10 + digit
  }
  if (value > 0x7fffffff) return Number.NaN
  return negative ? -value : value
}

/** Powers of ten that a double holds exactly. */
const exactPowers = Array.from({ length: 23 }, (_, k) => Number(`1e${k}`))

/**
 * Decimal text to the nearest double. Takes digits with one point and an exponent, sign allowed; nothing else (no hex,
 * no thousands, no comma). 'nan' and 'inf' are NaN like any other word.
 */
export function decimal(bytes: Uint8Array, start: number, end: number): number {
  let i = start
  const negative = bytes[i] === 45
  if (negative || bytes[i] === 43) i++
  let mantissa = 0
  let digits = 0
  let scale = 0
  let seen = false
  for (let point = false; i < end; i++) {
    const b = bytes[i]
    if (b === 46 && !point) {
      point = true
      continue
    }
    const digit = b - 48
    if (digit < 0 || digit > 9) break
    seen = true
    if (digits > 0 || digit > 0) digits++
    mantissa = mantissa * 10 + digit
    if (point) scale--
  }
  if (!seen) return Number.NaN
  if (i < end) {
    if (bytes[i] !== 101 && bytes[i] !== 69) return Number.NaN
    const exponent = wholeNumber(bytes, i + 1, end)
    if (Number.isNaN(exponent)) return Number.NaN
    scale += exponent
  }
  // Up to 15 digits the mantissa is exact, and so is the power: one rounding, hence the nearest double (W. Clinger,
  // How to read floating point numbers accurately, 1990; from memory).
  if (digits <= 15 && scale >= -22 && scale <= 22) {
    const value = scale < 0 ? mantissa / exactPowers[-scale] : mantissa * exactPowers[scale]
    return negative ? -value : value
  }
  return Number(latin(bytes, start, end))
}

function latin(bytes: Uint8Array, start: number, end: number): string {
  let text = ''
  for (let i = start; i < end; i++) text += String.fromCharCode(bytes[i])
  return text
}
