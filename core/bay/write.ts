import { baySchema } from './schema.ts'
import type { Bay } from './schema.ts'

const widest = 110

/**
 * A bay as the text of its file: fields in the order of the schema, two spaces a level, points and other short lists on
 * one line, a line break at the end. Every number is written so that it reads back to the same double, −0 included.
 * The same bay gives the same bytes; reading and writing again changes nothing.
 */
export function writeBay(bay: Bay): string {
  const ordered = baySchema.safeParse(bay)
  return `${textOf(ordered.success ? ordered.data : bay, '')}\n`
}

function textOf(value: unknown, indent: string): string {
  if (typeof value === 'number') return numberText(value)
  if (typeof value !== 'object' || value === null) return JSON.stringify(value)
  const line = oneLine(value)
  if (line !== null && indent.length + line.length <= widest) return line
  const inner = `${indent}  `
  const list = Array.isArray(value)
  const items = list
    ? value.map((item) => textOf(item, inner))
    : fieldsOf(value).map(([key, item]) => `${JSON.stringify(key)}: ${textOf(item, inner)}`)
  const [open, close] = list ? '[]' : '{}'
  return items.length === 0
    ? open + close
    : `${open}\n${items.map((item) => inner + item).join(',\n')}\n${indent}${close}`
}

/** Lists of numbers, lists of points and objects of such are worth a line; null where something longer is inside. */
function oneLine(value: object): string | null {
  if (Array.isArray(value)) {
    const parts = value.map(shortText)
    return parts.includes(null) ? null : `[${parts.join(', ')}]`
  }
  const parts = fieldsOf(value).map(([key, item]) => {
    const text = shortText(item)
    return text === null ? null : `${JSON.stringify(key)}: ${text}`
  })
  return parts.length === 0 || parts.includes(null) ? null : `{ ${parts.join(', ')} }`
}

function shortText(value: unknown): string | null {
  if (typeof value === 'number') return numberText(value)
  if (typeof value !== 'object' || value === null) return JSON.stringify(value)
  return Array.isArray(value) && value.length <= 8 && value.every((item) => typeof item === 'number')
    ? `[${value.map(numberText).join(', ')}]`
    : null
}

function numberText(value: number): string {
  if (!Number.isFinite(value)) throw new RangeError(`a bay holds finite numbers only, got ${value}`)
  return Object.is(value, -0) ? '-0' : String(value)
}

/** Without fields that are there but undefined. */
const fieldsOf = (value: object): [string, unknown][] => Object.entries(value).filter(([, item]) => item !== undefined)
