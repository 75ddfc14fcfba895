import type { Limits } from '../../../core/bay/schema.ts'
import type { Face } from '../../../core/bay/grips/grip.ts'

/** A value at which something is just right: a gap of exactly what is asked for. */
export interface SnapLine {
  readonly value: number
  /** The keep-out whose gap it is. */
  readonly keepOut: string
}

/** Where a value may come to rest. */
export interface SnapRule {
  /** Multiples of it, mm or degrees. */
  readonly step: number
  /** Only these sizes can be had. */
  readonly stock?: readonly number[]
  /** Only whole rows of tubes: `pitch` × n + `offset`. */
  readonly rows?: { readonly pitch: number; readonly offset: number }
  readonly lines?: readonly SnapLine[]
  /** How near a line has to be, in the value's own unit. */
  readonly reach?: number
}

/** What a value came to rest at. */
export type SnappedTo =
  | { readonly kind: 'rows'; readonly rows: number }
  | { readonly kind: 'stock' }
  | { readonly kind: 'gap'; readonly keepOut: string }

export interface Snapped {
  readonly value: number
  readonly to: SnappedTo | null
}

/** Free of the dust of binary arithmetic; no −0. */
const tidy = (x: number): number => Math.round(x * 1e9) / 1e9 + 0
export const onStep = (value: number, step: number): number => tidy(Math.round(value / step) * step)

const nearest = (value: number, among: readonly number[]): number =>
  among.reduce((best, other) => (Math.abs(other - value) < Math.abs(best - value) ? other : best))

const rowsAt = (value: number, { pitch, offset }: { pitch: number; offset: number }): number =>
  Math.max(1, Math.round((value - offset) / pitch))

/**
 * Where a value that is pulled comes to rest: at a size that can be had where only some can; else at a line that is within
 * reach, the nearest first; else at a round value.
 */
export function snapped(value: number, { step, stock, rows, lines = [], reach = 0 }: SnapRule): Snapped {
  if (stock && stock.length > 0) return { value: nearest(value, stock), to: { kind: 'stock' } }
  if (rows) {
    const n = rowsAt(value, rows)
    return { value: tidy(n * rows.pitch + rows.offset), to: { kind: 'rows', rows: n } }
  }
  const [line] = lines
    .filter((one) => Math.abs(one.value - value) <= reach)
    .sort((one, other) => Math.abs(one.value - value) - Math.abs(other.value - value))
  if (line) return { value: line.value, to: { kind: 'gap', keepOut: line.keepOut } }
  return { value: onStep(value, step), to: null }
}

/**
 * The next value on one press of a key: the next size that can be had, where only some can; else a step on, from where the
 * value is and not to a multiple, so that a step back is where one was.
 */
export function steppedOn(value: number, way: 1 | -1, { step, stock, rows }: SnapRule): Snapped {
  const dust = 1e-6
  if (stock && stock.length > 0) {
    const beyond = stock.filter((size) => way * (size - value) > dust)
    return beyond.length > 0 ? { value: nearest(value, beyond), to: { kind: 'stock' } } : { value, to: null }
  }
  if (rows) {
    const share = (value - rows.offset) / rows.pitch
    const n = Math.max(1, way > 0 ? Math.floor(share + dust) + 1 : Math.ceil(share - dust) - 1)
    return { value: tidy(n * rows.pitch + rows.offset), to: { kind: 'rows', rows: n } }
  }
  return { value: tidy(value + way * step), to: null }
}

/** Sizes of a core that can be had, by the face that is pulled. */
export function sizesOf(face: Face, limits: Limits | undefined): Pick<SnapRule, 'stock' | 'rows'> {
  if (face === 'front' || face === 'rear') return { stock: limits?.depth?.stock }
  if (face === 'left' || face === 'right') return { stock: limits?.width?.stock }
  const { stock, pitch, offset = 0 } = limits?.height ?? {}
  return { stock, rows: pitch === undefined ? undefined : { pitch, offset } }
}
