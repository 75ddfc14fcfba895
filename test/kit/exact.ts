/** A double as mantissa × 2^exponent, without rounding. */
function parts(x: number): [bigint, number] {
  if (x === 0) return [0n, 0]
  let [mantissa, exponent] = [x, 0]
  while (!Number.isInteger(mantissa)) {
    mantissa *= 2
    exponent--
  }
  return [BigInt(mantissa), exponent]
}

/** Sign of a₁b₁ + a₂b₂ + … in exact arithmetic, for tests that must not trust the rounding they test. */
export function exactSignOfDot(a: readonly number[], b: readonly number[]): number {
  const terms = a.map((x, i) => {
    const [[m, e], [n, f]] = [parts(x), parts(b[i])]
    return [m * n, e + f] as const
  })
  const lowest = Math.min(...terms.map(([, e]) => e))
  const sum = terms.reduce((total, [m, e]) => total + (m << BigInt(e - lowest)), 0n)
  return sum > 0n ? 1 : sum < 0n ? -1 : 0
}
