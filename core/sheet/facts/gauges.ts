import { stackOf } from '../../seat/stack.ts'
import type { Gauge } from './sheetFacts.ts'

/** What a gap is measured with at the car, and how sure that is. Lengths mm. */
export interface ChosenGauge {
  readonly gauge: Gauge
  /** Largest error: what it shows is off by no more than this, either way. */
  readonly error: number
}

/** Leaves of a feeler gauge, two or three at once: by common practice up to here, in steps of 0.05. No source. */
const feelerTo = 2
const feelerError = 0.05
/** Taper gauges and rods (drill shanks): common practice, no source. */
const gapGaugeTo = 15
const gapGaugeError = 0.1
/** Inside jaws of a common calliper reach in so far; common practice, no source. Beyond, a rod of known length is felt for. */
const jawsReach = 40
const rodError = 0.5
const calliperTo = 150
/** Vernier 0.05 up to 300 mm, 0.02 more for inside measurement. Source: DIN 862 (1988), from secondary texts. */
const calliperError = 0.05 + 0.02
/** Clay or putty is pressed flat in the gap, taken off and measured; thicker lumps fall off. Common practice, no source. */
const clayTo = 25
const clayError = 0.5

/**
 * By size and reach, as is common practice.
 * @param gap predicted, mm
 * @param reach how far in from where it is reached, mm
 */
export function gaugeFor(gap: number, reach: number): ChosenGauge {
  if (gap <= feelerTo) return { gauge: 'feeler gauge', error: feelerError }
  if (gap <= gapGaugeTo) return { gauge: 'gap gauge', error: gapGaugeError }
  if (gap > calliperTo) return { gauge: 'tape', error: tapeError(gap) }
  return reach <= jawsReach ? { gauge: 'calliper', error: calliperError } : { gauge: 'gap gauge', error: rodError }
}

/** What no straight gauge gets to: clay, or a tape put in by hand where the gap is wide. */
export const blindGauge = (gap: number): ChosenGauge =>
  gap <= clayTo ? { gauge: 'clay', error: clayError } : { gauge: 'tape', error: tapeError(gap) }

/**
 * Largest error of a tape of class II from its hooked end, mm: 0.3 + 0.2 for each metre begun, and 0.2 for the hook.
 * Source: Directive 2014/32/EU, annex MI-008, chapter I, table 1.
 */
export const tapeError = (length: number): number => 0.5 + 0.2 * Math.max(1, Math.ceil(Math.abs(length) / 1000))

/**
 * Independent contributions combined and expanded with k = 2, mm. Where one rectangular share is nearly all of it, that
 * covers more than 95 %.
 * @param measured expanded uncertainties
 * @param limits of what lies anywhere between ±limit alike
 */
export const combined = (measured: readonly number[], limits: readonly number[]): number =>
  stackOf([
    ...measured.map((limit) => ({ limit, spread: 'measured' as const })),
    ...limits.map((limit) => ({ limit, spread: 'limits' as const })),
  ]).expanded
