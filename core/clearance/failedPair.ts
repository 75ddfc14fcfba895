import type { Solid } from '../shape/form.ts'
import type { ClearanceOptions } from './answer.ts'

/** What a clearance question was asked with, ready to be put into a test. */
export interface AskedPair {
  readonly part: Solid
  readonly keepOut: Solid
  readonly options: ClearanceOptions
}

/** Numbers kept to the last bit; typed arrays and infinities, which JSON does not know, in a form that `pairFromText` reads. */
export function pairAsText(pair: AskedPair): string {
  return JSON.stringify(pair, (_key, value: unknown) => {
    if (value instanceof Float64Array) return { float64: Array.from(value) }
    if (value instanceof Uint32Array) return { uint32: Array.from(value) }
    if (typeof value === 'number' && !Number.isFinite(value)) return { number: String(value) }
    return Object.is(value, -0) ? { number: '-0' } : value
  })
}

export function pairFromText(text: string): AskedPair {
  return JSON.parse(text, (_key, value: { float64?: number[]; uint32?: number[]; number?: string } | null) => {
    if (value?.float64) return Float64Array.from(value.float64)
    if (value?.uint32) return Uint32Array.from(value.uint32)
    return value?.number === undefined ? value : Number(value.number)
  }) as AskedPair
}

/** A branch that cannot be reached was: carries the question, to be kept as a file of test/repro and run again. */
export class FailedPair extends Error {
  readonly pair: AskedPair
  constructor(what: string, pair: AskedPair) {
    const text = pairAsText(pair)
    // Meshes run to megabytes: then the message is cut, and `pairAsText(error.pair)` gives the whole.
    super(`${what}: ${text.length > 20_000 ? `${text.slice(0, 20_000)}…` : text}`)
    this.name = 'FailedPair'
    this.pair = pair
  }
}

export function failedPair(what: string, pair: AskedPair): never {
  throw new FailedPair(what, pair)
}
