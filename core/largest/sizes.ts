import { bad, good, type Outcome } from '../fault.ts'
import type { Limits } from '../bay/schema.ts'

/** Rounding of a face's coordinate that must not cost a size, mm. */
const grain = 1e-9

/** Which lengths one dimension of the core may have, mm. */
export interface Sizes {
  readonly name: 'depth' | 'width' | 'height'
  readonly least: number
  /** Infinity where no limit is named. */
  readonly most: number
  /** Only some lengths between the two may be had: stock, or rows. */
  readonly stepped: boolean
  /** Greatest length that may be had and is no more than this; −Infinity where there is none. */
  down(length: number): number
  /** Least length that may be had and is no less than this; Infinity where there is none. */
  up(length: number): number
}

/** A core thinner than this is none, mm. */
export const leastLength = 1e-3

/**
 * The lengths that the limits of one dimension allow.
 * @param limits stock, least and most; for a height also rows: pitch·n + offset with n = 1, 2, 3 …
 * @returns faults 'limits-contradict' where they contradict each other: no stock between least and most, or no such row
 */
export function sizesOf(name: Sizes['name'], limits: Limits | undefined, field: string): Outcome<Sizes> {
  const own = limits?.[name] ?? {}
  const { pitch, offset = 0 } = name === 'height' ? (limits?.height ?? {}) : {}
  const least = Math.max(leastLength, own.min ?? 0)
  const most = own.max ?? Infinity
  const inRows = pitch === undefined ? (x: number) => x : (x: number) => rowNear(x, pitch, offset)
  if (own.stock) {
    const stock = [...new Set(own.stock)]
      .filter((x) => x >= least - grain && x <= most + grain && Math.abs(inRows(x) - x) < 1e-6)
      .sort((a, b) => a - b)
    return stock.length > 0 ? good(fromStock(name, stock)) : noneLeft(field, own, limits)
  }
  if (pitch !== undefined) {
    const rows = fromRows(name, least, most, pitch, offset)
    return rows.least <= rows.most ? good(rows) : noneLeft(field, own, limits)
  }
  if (!(least <= most)) return noneLeft(field, own, limits)
  return good({
    name,
    least,
    most,
    stepped: false,
    down: (length) => (length < least - grain ? -Infinity : Math.min(length, most)),
    up: (length) => (length > most + grain ? Infinity : Math.max(length, least)),
  })
}

const noneLeft = (field: string, got: unknown, limits: Limits | undefined) =>
  bad({ code: 'limits-contradict', field, expected: 'a size that all its limits allow', got: got ?? limits })

function fromStock(name: Sizes['name'], stock: readonly number[]): Sizes {
  return {
    name,
    least: stock[0],
    most: stock[stock.length - 1],
    stepped: true,
    down: (length) => stock.findLast((x) => x <= length + grain) ?? -Infinity,
    up: (length) => stock.find((x) => x >= length - grain) ?? Infinity,
  }
}

const rowNear = (x: number, pitch: number, offset: number): number =>
  Math.max(1, Math.round((x - offset) / pitch)) * pitch + offset

function fromRows(name: Sizes['name'], from: number, to: number, pitch: number, offset: number): Sizes {
  const atLeast = (x: number) => Math.max(1, Math.ceil((x - grain - offset) / pitch)) * pitch + offset
  const atMost = (x: number) => {
    const rows = Math.floor((x + grain - offset) / pitch)
    return rows < 1 ? -Infinity : rows * pitch + offset
  }
  const least = atLeast(from)
  const most = to === Infinity ? Infinity : atMost(to)
  return {
    name,
    least,
    most,
    stepped: true,
    down: (length) => {
      const x = Math.min(most, atMost(length))
      return x < least - grain ? -Infinity : x
    },
    up: (length) => {
      const x = Math.max(least, atLeast(length))
      return x > most + grain ? Infinity : x
    },
  }
}
