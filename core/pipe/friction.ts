/** Darcy friction factor of a round pipe as a band between published formulas; four times Fanning's. */
export interface Friction {
  readonly atLeast: number
  readonly atMost: number
  readonly methods: readonly [string, string]
}

/** Below: laminar; from `turbulentFrom` on: turbulent. Between the two a flow may be either. Common practice: White, Çengel. */
export const laminarTo = 2300
export const turbulentFrom = 4000
/** Roughness over bore up to which Colebrook's and Churchill's formulas are meant (the Moody chart's upper edge). */
export const largestRoughness = 0.05

const laminar = 'Hagen–Poiseuille'
const colebrookName = 'Colebrook–White'
const churchillName = 'Churchill 1977'

/**
 * Friction factor between the methods that hold at a Reynolds number.
 * @param reynolds  of the bore, above 0
 * @param roughness of the wall over bore, 0 … 0.05; beyond, the formulas are still followed, see `largestRoughness`
 * @returns laminar: 64/Re and Churchill; turbulent: Colebrook and Churchill; between Re 2300 and 4000 all three, since
 *   the flow may be either. f·Re² never falls as Re grows: more flow never costs less.
 * Error: that of the methods; smooth and rough pipes agree with them within about 5 % (Moody's chart), 15 % by Moody himself.
 */
export function friction(reynolds: number, roughness: number): Friction {
  const known: (readonly [string, number])[] = [[churchillName, churchill(reynolds, roughness)]]
  if (reynolds < turbulentFrom) known.push([laminar, 64 / reynolds])
  if (reynolds >= laminarTo) known.push([colebrookName, colebrook(reynolds, roughness)])
  const [low, high] = ends(known)
  return { atLeast: low[1], atMost: high[1], methods: [low[0], high[0]] }
}

/** The least and the greatest of named values; at least one. */
export function ends<T extends readonly [string, number]>(named: readonly T[]): [T, T] {
  return [named.reduce((a, b) => (b[1] < a[1] ? b : a)), named.reduce((a, b) => (b[1] > a[1] ? b : a))]
}

/**
 * Colebrook–White: 1/√f = −2 log₁₀(ε/3.7D + 2.51/(Re √f)), solved by Newton's rule on 1/√f to rounding.
 * Validity: Re from 4000 on, ε/D up to 0.05. Source: C. F. Colebrook, J. Inst. Civil Engineers 11 (1939) 133 (from memory).
 */
export function colebrook(reynolds: number, roughness: number): number {
  const rough = roughness / 3.7
  let x = 8
  // The left side is concave in x and its slope above 1: from any start it converges, in about five rounds.
  for (let round = 0; round < 40; round++) {
    const inner = rough + (2.51 * x) / reynolds
    const step = (x + 2 * Math.log10(inner)) / (1 + (2 * 2.51) / (reynolds * inner * Math.LN10))
    // A step across 0 would leave the logarithm's domain: half way there instead.
    const next = step < x ? x - step : x / 2
    if (Math.abs(next - x) <= 1e-15 * x) break
    x = next
  }
  return 1 / (x * x)
}

/**
 * Churchill's formula for all flows: f = 8 [(8/Re)¹² + (A + B)^−1.5]^(1/12), A = (2.457 ln 1/((7/Re)^0.9 + 0.27 ε/D))¹⁶,
 * B = (37530/Re)¹⁶. Source: S. W. Churchill, Chemical Engineering, 7 November 1977, 91 (from memory).
 */
export function churchill(reynolds: number, roughness: number): number {
  const a = (2.457 * Math.log(1 / ((7 / reynolds) ** 0.9 + 0.27 * roughness))) ** 16
  const b = (37530 / reynolds) ** 16
  return 8 * ((8 / reynolds) ** 12 + (a + b) ** -1.5) ** (1 / 12)
}
