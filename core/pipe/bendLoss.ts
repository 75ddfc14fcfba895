import { ends } from './friction.ts'
import type { Friction } from './friction.ts'

/** Loss coefficient (share of ρv²/2 in the bore) of a bend as a band between published methods. */
export interface BendCoefficient {
  readonly atLeast: number
  readonly atMost: number
  readonly methods: readonly [string, string]
}

/** Centreline radius over bore for which the methods were measured; outside only those that reach so far are followed. */
export const bendRatios = { least: 1, most: 20 } as const
/** Reynolds number from which the methods' bends no longer depend on it. Idelchik, diagram 6-1 (from memory). */
export const bendReynolds = 2e5

/** Crane TP-410, sheet A-29: K of a 90° bend over f_T, by centreline radius over bore. */
const craneRatio = [1, 1.5, 2, 3, 4, 6, 8, 10, 12, 14, 16, 20]
const craneLengths = [20, 14, 12, 12, 14, 17, 24, 30, 34, 38, 42, 50]
/** mm, of new commercial steel: Crane's friction in fully turbulent flow is of that pipe, whatever the pipe is. */
const craneRoughness = 0.045
/** Degrees; below, Crane's rule (made for whole quarters, and near another library's fit down to here) gives a sharp bend for none at all. */
const craneLeastAngle = 30

/**
 * Loss of one bend, friction along its arc included, as a band over Crane, Idelchik and Rennels & Hudson.
 * @param bore   mm, above 0
 * @param radius of the centreline, mm, at least half the bore
 * @param angle  turned, degrees, 0 … 360
 * @param f      friction factor of the straight pipe, as a band: it goes into two of the methods
 * @returns coefficients of ρv²/2. They grow with f. Bends are taken alone: one close behind another costs less or more
 *   than two (Idelchik: by up to some 30 %), which no method here knows.
 * Validity: radius/bore 1 … 20 (`bendRatios`; below and above Crane is not followed), Re from 2e5 on (`bendReynolds`);
 *   Crane for rough steel, so it is mostly the upper end. At radius/bore 1 they differ by up to 50 %, at 1.5 by 20 %.
 */
export function bendCoefficient(bore: number, radius: number, angle: number, f: Friction): BendCoefficient {
  const ratio = radius / bore
  const crane: (readonly [string, number])[] =
    ratio >= bendRatios.least && ratio <= bendRatios.most ? [['Crane TP-410', craneBend(bore, ratio, angle)]] : []
  const at = (factor: number) =>
    [
      ...crane,
      ['Idelchik', idelchikBend(ratio, angle, factor)],
      ['Rennels & Hudson', rennelsBend(ratio, angle, factor)],
    ] as const
  const [low] = ends(at(f.atLeast))
  const [, high] = ends(at(f.atMost))
  return { atLeast: low[1], atMost: high[1], methods: [low[0], high[0]] }
}

/**
 * Crane's friction factor in fully turbulent flow, by bore in mm: 0.25 / (log₁₀ ε/3.7D)², ε 0.045 mm.
 * Source: Crane Technical Paper 410, sheet A-26.
 */
export const craneFriction = (bore: number): number => 0.25 / Math.log10(craneRoughness / (3.7 * bore)) ** 2

/**
 * Crane TP-410, sheet A-29: K₉₀ from the table, straight lines between; other angles with n = angle/90 by
 * K = (n − 1)(0.25 π f_T r/d + 0.5 K₉₀) + K₉₀. The rule does not come to 0 with the angle: below 30° straight down to
 * nothing, our own.
 * @param ratio centreline radius over bore, 1 … 20
 */
function craneBend(bore: number, ratio: number, angle: number): number {
  return craneOfQuarters(craneFriction(bore), ratio, angle)
}

/** The same from a given f_T. */
export function craneOfQuarters(fullyTurbulent: number, ratio: number, angle: number): number {
  const quarter = fullyTurbulent * between(craneRatio, craneLengths, ratio)
  const followed = Math.max(angle, craneLeastAngle)
  const k = (followed / 90 - 1) * (0.25 * Math.PI * fullyTurbulent * ratio + 0.5 * quarter) + quarter
  return (k * angle) / followed
}

/**
 * Idelchik, Handbook of Hydraulic Resistance, diagram 6-1, round bends with smooth walls: A·B + 0.0175 λ·δ·R/D.
 * B = 0.21/√(R/D) from R/D 1 on, 0.21/(R/D)^2.5 below; A = 0.9 sin δ up to 70°, 1 at 90°, 0.7 + 0.35 δ/90 from 100° on,
 * straight lines between. From memory, but for the value at 90°.
 */
export function idelchikBend(ratio: number, angle: number, f: number): number {
  const curve = 0.21 / (ratio >= 1 ? Math.sqrt(ratio) : ratio ** 2.5)
  return idelchikAngle(angle) * curve + 0.0175 * f * angle * ratio
}

function idelchikAngle(angle: number): number {
  if (angle <= 70) return 0.9 * Math.sin((angle * Math.PI) / 180)
  if (angle >= 100) return 0.7 + (0.35 * angle) / 90
  return between([70, 90, 100], [0.9 * Math.sin((70 * Math.PI) / 180), 1, 0.7 + 35 / 90], angle)
}

/**
 * Rennels & Hudson, Pipe Flow (2012), smooth-walled bends: f·α·r/d + (0.10 + 2.4 f) sin(α/2)
 * + 6.6 f (√sin(α/2) + sin(α/2)) / (r/d)^(4α/π). From memory; at 90° held to an open library's values.
 */
export function rennelsBend(ratio: number, angle: number, f: number): number {
  const alpha = (angle * Math.PI) / 180
  // Beyond a half turn the sine would fall again: the turn's first half, and the rest by itself.
  if (angle > 180) return rennelsBend(ratio, 180, f) + rennelsBend(ratio, angle - 180, f)
  const sine = Math.sin(alpha / 2)
  return (
    f * alpha * ratio + (0.1 + 2.4 * f) * sine + (6.6 * f * (Math.sqrt(sine) + sine)) / ratio ** ((4 * alpha) / Math.PI)
  )
}

/** Straight lines between the points of a table with growing `xs`; x lies within. */
function between(xs: readonly number[], ys: readonly number[], x: number): number {
  const k = Math.max(
    1,
    xs.findIndex((each) => each >= x),
  )
  return ys[k - 1] + ((x - xs[k - 1]) / (xs[k] - xs[k - 1])) * (ys[k] - ys[k - 1])
}
