import type { LedgerPair } from '../../../core/verdict/answer.ts'
import { allowances } from './figures.ts'

/** A row's bar, all in shares of its width. */
export interface Bar {
  /** Where nothing is left between the two solids; left of it lies overlap. */
  readonly zero: number
  /** The gap that is there for certain: from zero to here. */
  readonly solid: number
  /** Where the gap may lie, once everything unknown is allowed for. */
  readonly from: number
  readonly to: number
  /** The required clearance. */
  readonly required: number
  /** Proved overlap, as a share left of zero; 0 where there is none. */
  readonly overlap: number
  /** The bar goes on beyond its end. */
  readonly cut: boolean
}

export interface BarScale {
  /** mm left of zero and right of it. */
  readonly left: number
  readonly right: number
}

/**
 * One scale for all rows, so that bars can be compared: room for two and a half times the greatest clearance asked for,
 * and on the left for the deepest overlap, but never more than a third of the width.
 */
export function barScale(pairs: readonly LedgerPair[]): BarScale {
  const asked = pairs.reduce((most, pair) => Math.max(most, pair.required + allowances(pair)), 4)
  const deepest = pairs.reduce((most, { overlap }) => Math.max(most, overlap?.depth ?? 0), 0)
  const right = 2.5 * asked
  return { left: Math.min(deepest, right / 2), right }
}

export function barOf(pair: LedgerPair, { left, right }: BarScale): Bar {
  const share = (mm: number) => Math.min(1, Math.max(0, (mm + left) / (left + right)))
  const band = allowances(pair)
  const depth = pair.overlap?.depth ?? 0
  return {
    zero: share(0),
    solid: share(Math.max(0, pair.gap - band)),
    from: share(Math.max(0, pair.gap - band)),
    to: share(pair.gap + band),
    required: share(pair.required),
    overlap: share(0) - share(-depth),
    cut: pair.gap + band > right,
  }
}
