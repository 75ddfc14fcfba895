import type { Limits } from '../../../core/bay/schema.ts'
import { type Faces, dimension } from './fitFrame.ts'
import type { Row } from './fitProgram.ts'
import type { FaceBox } from './fitRule.ts'

/** Sizes that one dimension may take, mm: any between two, or those of a list. */
export interface Sizes {
  readonly least: number
  readonly most: number
  /** Rising; undefined where any size will do. */
  readonly list?: readonly number[]
}

const slight = 1e-9
/** No core is thinner than this, mm, whatever the limits leave open. */
export const leastSize = 1

/** The largest size that can be had and is no more than `size`; undefined where there is none. */
export function sizeBelow({ list, least, most }: Sizes, size: number): number | undefined {
  if (!list) return size >= least - slight ? Math.min(size, most) : undefined
  let found: number | undefined
  for (const s of list) if (s <= size + slight) found = s
  return found
}

export function sizeAbove({ list, least }: Sizes, size: number): number | undefined {
  if (!list) return Math.max(size, least)
  return list.find((s) => s >= size - slight)
}

/** Sizes allowed by a dimension's limits; undefined where they contradict each other. `open` stands where no most is given. */
export function sizesOf(
  limit: (Limits['depth'] & { pitch?: number; offset?: number }) | undefined,
  open: number,
): Sizes | undefined {
  const least = limit?.min ?? leastSize
  const most = limit?.max ?? open
  if (least > most) return undefined
  const listed = limit?.stock ? [...limit.stock].sort((a, b) => a - b) : rowsOf(limit, least, most)
  if (!listed) return { least, most }
  const list = listed.filter((s) => s >= least - slight && s <= most + slight)
  return list.length > 0 ? { least: list[0], most: list[list.length - 1], list } : undefined
}

function rowsOf(
  limit: { pitch?: number; offset?: number } | undefined,
  least: number,
  most: number,
): number[] | undefined {
  if (limit?.pitch === undefined) return undefined
  const { pitch, offset = 0 } = limit
  const first = Math.max(1, Math.ceil((least - offset - slight) / pitch))
  const last = Math.floor((most - offset + slight) / pitch)
  return Array.from(
    { length: Math.max(0, Math.min(100_000, last - first + 1)) },
    (_, i) => offset + pitch * (first + i),
  )
}

/** What is made as large as can be: the product of the dimensions with weight 1. */
export interface Aim {
  readonly weights: readonly [number, number, number]
  readonly sizes: readonly [Sizes, Sizes, Sizes]
  /** Rows that hold for every core: centre, half-spaces, symmetry. */
  readonly rows: readonly Row[]
}

export const valueAt = ({ weights }: Aim, faces: Faces): number =>
  weights.reduce((product, w, k) => (w > 0 ? product * dimension(faces, k) : product), 1)

/**
 * Proved upper bound of the aim's logarithm over a box of faces, given rows and multipliers: the greatest of
 * Σ w·log(min(size, cap)) + Σ λ·(a·x − b), each axis by itself.
 * Any multipliers that are not negative give a valid bound (Lagrangian duality); rounding is on the safe side.
 */
export function logBound(
  aim: Aim,
  box: FaceBox,
  caps: readonly number[],
  rows: readonly Row[],
  multipliers: Float64Array,
): number {
  const slope = new Float64Array(6)
  let bound = 0
  let size = 1
  rows.forEach(({ a, b }, i) => {
    const w = multipliers[i]
    if (!(w > 0)) return
    bound -= w * b
    size += w * Math.abs(b)
    for (let j = 0; j < 6; j++) slope[j] += w * a[j]
  })
  for (let k = 0; k < 3; k++) {
    const best = axisBest(aim.weights[k], caps[k], slope[k], slope[3 + k], box, k)
    bound += best
    size += Math.abs(best)
  }
  return bound + 1e-12 * size
}

/** Greatest w·log(min(h − l, cap)) + p·l + q·h over a rectangle: concave, so on its rim, at ends, kinks or resting points. */
function axisBest(w: number, cap: number, p: number, q: number, { low, high }: FaceBox, k: number): number {
  const [l0, l1, h0, h1] = [low[k], high[k], low[3 + k], high[3 + k]]
  let best = -Infinity
  const offer = (l: number, h: number): void => {
    const size = Math.min(h - l, cap)
    if (w > 0 && !(size > 0)) return
    const value = (w > 0 ? w * Math.log(size) : 0) + p * l + q * h
    if (value > best) best = value
  }
  for (const h of [h0, h1]) {
    offer(l0, h)
    offer(l1, h)
    offer(within(h - cap, l0, l1), h)
    if (p > 0 && w > 0) offer(within(h - w / p, l0, l1), h)
  }
  for (const l of [l0, l1]) {
    offer(l, within(l + cap, h0, h1))
    if (q < 0 && w > 0) offer(l, within(l - w / q, h0, h1))
  }
  return best
}

const within = (x: number, low: number, high: number): number => Math.min(high, Math.max(low, x))
