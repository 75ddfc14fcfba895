/** Bases of the first dimensions: enough for two lengths along the ports and three corners in space. */
const primes = [2, 3, 5, 7, 11, 13, 17, 19, 23, 29, 31]

/**
 * Number `index` (from 1) of the Halton sequence in one dimension, 0 … 1: spread evenly, and the same on every machine.
 * Source: J. H. Halton, On the efficiency of certain quasi-random sequences of points (1960), from memory.
 */
export function halton(index: number, dimension: number): number {
  const base = primes[dimension]
  let [share, value, left] = [1, 0, index]
  while (left > 0) {
    share /= base
    value += share * (left % base)
    left = Math.floor(left / base)
  }
  return value
}
