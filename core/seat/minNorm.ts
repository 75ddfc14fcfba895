/**
 * The shortest vector in the convex hull of some: the direction in which all of them grow at once, as fast as the slowest can.
 * @param gradients not empty, all of one length
 * Error: the squared length is within 1e-6 of the least, relatively, or 60 rounds were made.
 * Source: E. G. Gilbert (1966), as conditional gradients; from memory.
 */
export function minNorm(gradients: readonly (readonly number[])[]): number[] {
  const d = [...gradients[0]]
  for (let round = 0; round < 60; round++) {
    let least = Infinity
    let at = 0
    for (let i = 0; i < gradients.length; i++) {
      const along = product(gradients[i], d)
      if (along < least) {
        least = along
        at = i
      }
    }
    const squared = product(d, d)
    if (squared - least < 1e-6 * Math.max(squared, 1e-9)) break
    let [over, under] = [0, 0]
    for (let k = 0; k < d.length; k++) {
      const e = gradients[at][k] - d[k]
      over -= e * d[k]
      under += e * e
    }
    const t = Math.min(1, Math.max(0, over / under))
    for (let k = 0; k < d.length; k++) d[k] += t * (gradients[at][k] - d[k])
  }
  return d
}

function product(a: readonly number[], b: readonly number[]): number {
  let sum = 0
  for (let k = 0; k < a.length; k++) sum += a[k] * b[k]
  return sum
}
