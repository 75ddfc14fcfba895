/**
 * Looks over JSON text (RFC 8259) before it is parsed: finds the first break with its place, and what JSON.parse would
 * swallow in silence: a field given twice, a number that overflows to infinity or vanishes to zero, nesting and size
 * without limit. Also finds the places of given paths, so that every fault can name line and column.
 */
export type Path = readonly (string | number)[]

export interface JsonTrouble {
  readonly code:
    | 'broken-json'
    | 'duplicate-field'
    | 'number-too-large'
    | 'number-too-small'
    | 'nested-too-deep'
    | 'too-many-values'
  readonly path: Path
  /** Index in the text. */
  readonly at: number
  readonly expected: string
  readonly got: string
}
export interface JsonLimits {
  readonly depth: number
  readonly values: number
}

/** Troubles in the order of the text. At most one of them is 'broken-json', 'nested-too-deep' or 'too-many-values', the last. */
export function jsonTroubles(text: string, limits: JsonLimits): JsonTrouble[] {
  const walk = new JsonWalk(text, limits, null)
  walk.run()
  return walk.troubles
}

/**
 * Places of paths in text that has no syntax errors.
 * @returns for each path the index of its value, or of its deepest ancestor that exists (a missing field has only a parent)
 */
export function placesOf(text: string, paths: readonly Path[], limits: JsonLimits): number[] {
  const root = new Mark()
  const marks = paths.map((path) => path.reduce<Mark>((mark, key) => mark.child(key), root))
  new JsonWalk(text, limits, root).run()
  return marks.map((mark) => mark.place())
}

/** Line and column from 1; a column counts UTF-16 units, as most editors do. */
export function lineAndColumn(text: string, at: number): { line: number; column: number } {
  const before = text.slice(0, at).split(/\r\n|\n|\r/)
  return { line: before.length, column: before[before.length - 1].length + 1 }
}

/** One node of the tree of wanted paths. */
class Mark {
  private readonly children = new Map<string | number, Mark>()
  private readonly parent: Mark | null
  at = -1
  constructor(parent: Mark | null = null) {
    this.parent = parent
  }
  child(key: string | number): Mark {
    const child = this.children.get(key) ?? new Mark(this)
    this.children.set(key, child)
    return child
  }
  found(key: string | number): Mark | null {
    return this.children.get(key) ?? null
  }
  place(): number {
    return this.at >= 0 || !this.parent ? Math.max(0, this.at) : this.parent.place()
  }
}

class Stop extends Error {}
const endOfString = 'a double quote that closes the text on the same line'
const numberPattern = /-?(?:0|[1-9]\d*)(?:\.\d+)?(?:[eE][+-]?\d+)?/y
const escapePattern = /\\(?:["\\/bfnrt]|u[0-9a-fA-F]{4})/y
const literalPattern = /true|false|null/y
const spacePattern = /[ \t\r\n]*/y

class JsonWalk {
  readonly troubles: JsonTrouble[] = []
  private readonly text: string
  private readonly limits: JsonLimits
  private readonly root: Mark | null
  private readonly path: (string | number)[] = []
  private at = 0
  private values = 0

  constructor(text: string, limits: JsonLimits, root: Mark | null) {
    this.text = text
    this.limits = limits
    this.root = root
  }

  run(): void {
    try {
      this.value(this.root)
      this.space()
      if (this.at < this.text.length) this.stop('broken-json', 'the end of the file')
    } catch (error) {
      if (!(error instanceof Stop)) throw error
    }
  }

  private value(mark: Mark | null): void {
    this.space()
    if (mark) mark.at = this.at
    if (++this.values > this.limits.values) this.stop('too-many-values', `at most ${this.limits.values} values`)
    const first = this.text[this.at]
    if (first === '{') this.nested(() => this.object(mark))
    else if (first === '[') this.nested(() => this.array(mark))
    else if (first === '"') this.string(endOfString)
    else if (first === '-' || (first >= '0' && first <= '9')) this.number()
    else if (!this.take(literalPattern)) this.stop('broken-json', 'a value')
  }

  private nested(inside: () => void): void {
    if (this.path.length >= this.limits.depth) this.stop('nested-too-deep', `at most ${this.limits.depth} levels`)
    this.at++
    inside()
  }

  private object(mark: Mark | null): void {
    const seen = new Set<string>()
    if (this.closes('}')) return
    do {
      this.space()
      const keyAt = this.at
      const token = this.string('a field name in double quotes')
      const key = token.includes('\\') ? (JSON.parse(token) as string) : token.slice(1, -1)
      this.path.push(key)
      if (seen.has(key)) this.note('duplicate-field', keyAt, 'each field once', key)
      seen.add(key)
      this.space()
      if (this.text[this.at] !== ':') this.stop('broken-json', 'a colon after the field name')
      this.at++
      this.value(mark?.found(key) ?? null)
      this.path.pop()
    } while (this.another('}', 'a comma or a closing brace'))
  }

  private array(mark: Mark | null): void {
    if (this.closes(']')) return
    let index = 0
    do {
      this.path.push(index)
      this.value(mark?.found(index) ?? null)
      this.path.pop()
      index++
    } while (this.another(']', 'a comma or a closing bracket'))
  }

  private closes(bracket: string): boolean {
    this.space()
    if (this.text[this.at] !== bracket) return false
    this.at++
    return true
  }

  private another(bracket: string, expected: string): boolean {
    if (this.closes(bracket)) return false
    if (this.text[this.at] !== ',') this.stop('broken-json', expected)
    const commaAt = this.at++
    this.space()
    if (this.text[this.at] === '}' || this.text[this.at] === ']') {
      this.at = commaAt
      this.stop('broken-json', 'no comma before a closing bracket')
    }
    return true
  }

  private string(expected: string): string {
    const start = this.at
    if (this.text[start] !== '"') this.stop('broken-json', expected)
    // A loop and no pattern: patterns run out of stack on strings of some million letters.
    for (this.at++; ; this.at++) {
      const code = this.text.charCodeAt(this.at)
      if (code === 34) return this.text.slice(start, ++this.at)
      if (code === 92) {
        if (!this.take(escapePattern)) this.stop('broken-json', 'an escape such as \\\\ or \\n')
        this.at--
      } else if (!(code >= 32))
        this.stop('broken-json', expected === endOfString ? expected : `${expected}, closed on the same line`)
    }
  }

  private number(): void {
    const start = this.at
    const token = this.take(numberPattern)
    const next = this.text[this.at] ?? ''
    if (!token || /[\w.+-]/.test(next)) {
      if (!token) this.at++
      this.stop('broken-json', 'a number such as -12.5, without leading zeros')
    }
    const value = Number(token)
    if (!Number.isFinite(value)) this.note('number-too-large', start, 'a number below 1.8e308', token)
    else if (value === 0 && /^[^eE]*[1-9]/.test(token))
      this.note('number-too-small', start, 'zero, or a number above 5e-324', token)
  }

  private space(): void {
    this.take(spacePattern)
  }

  private take(pattern: RegExp): string {
    pattern.lastIndex = this.at
    const match = pattern.exec(this.text)
    if (!match) return ''
    this.at += match[0].length
    return match[0]
  }

  private note(code: JsonTrouble['code'], at: number, expected: string, got: string): void {
    this.troubles.push({ code, path: [...this.path], at, expected, got })
  }

  private stop(code: JsonTrouble['code'], expected: string): never {
    const rest = this.text.slice(this.at, this.at + 12).split(/[\r\n]/)[0]
    const got = this.at >= this.text.length ? 'the end of the file' : rest === '' ? 'a line break' : rest
    this.note(code, this.at, expected, got)
    throw new Stop()
  }
}
