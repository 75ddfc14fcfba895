import { bad, good, type Outcome } from '../../core/fault.ts'
import { truncated } from './meshFaults.ts'

export type Scalar = 'int8' | 'uint8' | 'int16' | 'uint16' | 'int32' | 'uint32' | 'float32' | 'float64'
export const scalarBytes: Record<Scalar, number> = {
  ...{ int8: 1, uint8: 1, int16: 2, uint16: 2 },
  ...{ int32: 4, uint32: 4, float32: 4, float64: 8 },
}

export interface PlyProperty {
  readonly name: string
  readonly type: Scalar
  /** Type of the length that stands before a list; undefined for a single value. */
  readonly count?: Scalar
}
export interface PlyElement {
  readonly name: string
  readonly count: number
  readonly properties: readonly PlyProperty[]
}
export interface PlyHeader {
  readonly format: 'ascii' | 'little' | 'big'
  readonly elements: readonly PlyElement[]
  /** Where the data begins. */
  readonly dataAt: number
  /** Line on which the data begins, from 1. */
  readonly dataLine: number
}

const scalars: Record<string, Scalar> = {
  ...{ char: 'int8', uchar: 'uint8', short: 'int16', ushort: 'uint16', int: 'int32', uint: 'uint32' },
  ...{ float: 'float32', double: 'float64' },
  ...{ int8: 'int8', uint8: 'uint8', int16: 'int16', uint16: 'uint16', int32: 'int32', uint32: 'uint32' },
  ...{ float32: 'float32', float64: 'float64' },
}
const formats: Record<string, PlyHeader['format']> = {
  ascii: 'ascii',
  binary_little_endian: 'little',
  binary_big_endian: 'big',
}
/** Longest header read: far above any real one, and the end of looking in a file that has none. */
const longestHeader = 1 << 20

/**
 * The header of a PLY: lines of text up to `end_header`.
 * Source: G. Turk, The PLY Polygon File Format, 1994 (from memory).
 */
export function readPlyHeader(bytes: Uint8Array): Outcome<PlyHeader> {
  let format: PlyHeader['format'] | undefined
  const elements: { name: string; count: number; properties: PlyProperty[] }[] = []
  let at = 0
  for (let line = 1; ; line++) {
    const next = lineEnd(bytes, at)
    if (next < 0)
      return truncated("a line 'end_header'", at >= longestHeader ? `none in ${at} bytes` : 'the end of the file')
    const text = new TextDecoder('latin1').decode(bytes.subarray(at, next)).trim()
    at = next
    const [keyword, ...words] = text.split(/\s+/)
    const refuse = (expected: string) => bad({ code: 'mesh-syntax', line, expected, got: text.slice(0, 60) })
    if (line === 1) {
      if (text !== 'ply') return refuse("'ply'")
    } else if (keyword === 'end_header') {
      if (!format) return refuse("a 'format' line before the header's end")
      return good({ format, elements, dataAt: at, dataLine: line + 1 })
    } else if (keyword === 'format') {
      format = formats[words[0]]
      if (!format || words[1] !== '1.0') return refuse(`format ${Object.keys(formats).join(', ')}, version 1.0`)
    } else if (keyword === 'element') {
      const count = /^\d{1,15}$/.test(words[1] ?? '') ? Number(words[1]) : Number.NaN
      if (words.length !== 2 || Number.isNaN(count)) return refuse("'element', a name and a count")
      elements.push({ name: words[0], count, properties: [] })
    } else if (keyword === 'property') {
      const property = readProperty(words)
      const element = elements.at(-1)
      if (!property || !element) return refuse("'property', a type and a name, under an element")
      element.properties.push(property)
    } else if (keyword !== 'comment' && keyword !== 'obj_info' && keyword !== '') {
      return refuse('comment, element, property or end_header')
    }
  }
}

function readProperty(words: readonly string[]): PlyProperty | null {
  const list = words[0] === 'list'
  const [type, name] = list ? words.slice(2) : words
  if (words.length !== (list ? 4 : 2) || !Object.hasOwn(scalars, type)) return null
  if (!list) return { name, type: scalars[type] }
  const count = Object.hasOwn(scalars, words[1]) ? scalars[words[1]] : undefined
  return count && !count.startsWith('float') ? { name, type: scalars[type], count } : null
}

/** Position after the line that begins at `at`; −1 where it has no end. A lone CR ends a line too. */
function lineEnd(bytes: Uint8Array, at: number): number {
  const stop = Math.min(bytes.length, longestHeader)
  for (let i = at; i < stop; i++) {
    if (bytes[i] === 10) return i + 1
    if (bytes[i] === 13) return bytes[i + 1] === 10 ? i + 2 : i + 1
  }
  return -1
}
