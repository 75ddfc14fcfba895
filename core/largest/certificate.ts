import type { Program } from './program.ts'
import type { Cell } from './problem.ts'
import { tiltAt, unknowns } from './unknowns.ts'

/**
 * Upper bound of the aim over all cores of a cell that keep the program's rows: the greatest of
 * Σ share·log(dimension) + Σ weight·(a·x − b) over the cell, in closed form. It holds for any weights that are not
 * negative, so nothing depends on how well the program was solved. Rounding is on the safe side.
 * Source: Lagrangian duality: textbook, no source.
 */
export function certified(program: Program, shares: readonly number[], { low, high, most }: Cell): number {
  const { n, rows, weights, count } = program
  slope.fill(0)
  let constant = 0
  let size = 1
  for (let i = 0; i < count; i++) {
    const weight = weights[i]
    if (!(weight > 0)) continue
    const r = i * (n + 1)
    for (let j = 0; j < n; j++) slope[j] += weight * rows[r + j]
    constant -= weight * rows[r + n]
    size += weight * Math.abs(rows[r + n])
  }
  let bound = constant
  for (let k = 0; k < 3; k++) {
    const top = axisMost(shares[k], most[k], low[k], high[k], low[3 + k], high[3 + k], slope[3 + k], slope[k])
    bound += top
    const reach = Math.max(Math.abs(low[k]), Math.abs(high[3 + k]))
    size += (Math.abs(slope[k]) + Math.abs(slope[3 + k])) * reach
  }
  const turned = slope[tiltAt]
  bound += turned > 0 ? turned * high[tiltAt] : turned * low[tiltAt]
  // Some dozens of roundings of terms up to `size`.
  return bound + 3e-15 * (size + Math.abs(bound)) * (count + 8)
}

const slope = new Float64Array(unknowns)

/**
 * Greatest share·log(min(x1 − x0, most)) + p·x1 + q·x0 for x0 in [a0, a1] and x1 in [b0, b1]. Along (1, 1) the
 * dimension stays and the rest is linear, so the greatest lies on an edge; on each edge one unknown is left.
 */
function axisMost(
  share: number,
  most: number,
  a0: number,
  a1: number,
  b0: number,
  b1: number,
  p: number,
  q: number,
): number {
  if (share === 0) return (p > 0 ? p * b1 : p * b0) + (q > 0 ? q * a1 : q * a0)
  return Math.max(
    onLowEdge(share, most, a0, b0, b1, p) + q * a0,
    onLowEdge(share, most, a1, b0, b1, p) + q * a1,
    onHighEdge(share, most, b0, a0, a1, q) + p * b0,
    onHighEdge(share, most, b1, a0, a1, q) + p * b1,
  )
}

function onLowEdge(share: number, most: number, x0: number, b0: number, b1: number, p: number): number {
  let x1 = b1
  if (p < 0) x1 = Math.min(b1, Math.max(b0, x0 + Math.min(most, -share / p)))
  const length = Math.min(most, x1 - x0)
  return length > 0 ? share * Math.log(length) + p * x1 : -Infinity
}

function onHighEdge(share: number, most: number, x1: number, a0: number, a1: number, q: number): number {
  let x0 = a0
  if (q > 0) x0 = Math.min(a1, Math.max(a0, x1 - Math.min(most, share / q)))
  const length = Math.min(most, x1 - x0)
  return length > 0 ? share * Math.log(length) + q * x0 : -Infinity
}
