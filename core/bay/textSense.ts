import type { Path } from './jsonText.ts'
import { steering } from './printable.ts'
import type { Trouble } from './trouble.ts'

// biome-ignore lint/suspicious/noControlCharactersInRegex: the same, but for line breaks and tabs
const steeringInNote = /[\u0000-\u0008\u000b\u000c\u000e-\u001f\u007f-\u009f\u200e\u200f\u202a-\u202e\u2066-\u2069]/

/** Text that holds unprintable characters, anywhere in the value; a `note` may have line breaks and tabs. */
export function textTroubles(value: unknown, path: Path = []): Trouble[] {
  if (typeof value === 'string') {
    const pattern = path[path.length - 1] === 'note' ? steeringInNote : steering
    const found = pattern.exec(value)
    return found
      ? [{ code: 'unprintable-text', path, expected: 'text without control characters', got: codePoint(found[0]) }]
      : []
  }
  if (Array.isArray(value)) {
    // Lists of numbers make up nearly all of a bay.
    return typeof value[0] === 'number' && value.every((item) => typeof item === 'number')
      ? []
      : value.flatMap((item, index) => textTroubles(item, [...path, index]))
  }
  if (typeof value === 'object' && value !== null)
    return Object.entries(value).flatMap(([key, item]) => textTroubles(item, [...path, key]))
  return []
}

const codePoint = (character: string): string =>
  `U+${(character.codePointAt(0) ?? 0).toString(16).toUpperCase().padStart(4, '0')}`
