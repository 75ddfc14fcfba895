import type { Row } from './fitProgram.ts'
import type { FaceBox, Rule } from './fitRule.ts'
import type { Faces } from './fitFrame.ts'

/** A box of faces that cores may still have, with what is known of them. */
export interface Node extends FaceBox {
  /** Least and greatest size of each dimension that still counts. */
  readonly sizes: readonly [number, number][]
  /** Logarithm of the bound. */
  readonly bound: number
  /** Ways chosen that hang on two faces, and so are no interval of one. */
  readonly extra: readonly Row[]
  /** Rules whose ways such rows have told apart already. */
  readonly told: readonly Rule[]
}

/** Faces that cross by a rounding are one; by more, there is nothing left. */
export function settle(low: Faces, high: Faces, j: number): boolean {
  if (low[j] <= high[j]) return true
  if (low[j] - high[j] > 1e-7) return false
  const at = (low[j] + high[j]) / 2
  low[j] = at
  high[j] = at
  return true
}

/** The sizes that still count, as rows. */
export function sizeRows({ sizes }: Node): Row[] {
  return sizes.flatMap(([least, most], k) => {
    const up = new Float64Array(6)
    up[3 + k] = 1
    up[k] = -1
    return [
      { a: up, b: least - 1e-9 },
      { a: up.map((v) => -v), b: -most - 1e-9 },
    ]
  })
}

/** The node with one more row: an interval where the row hangs on one face, else a row of its own. Null where nothing is left. */
export function withRow(node: Node, rule: Rule, row: Row): Node | null {
  const box = { low: node.low.slice(), high: node.high.slice() }
  if (!tightenByRow(row, box)) return null
  const single = row.a.reduce((n, v) => (v !== 0 ? n + 1 : n), 0) === 1
  return single ? { ...node, ...box } : { ...node, ...box, extra: [...node.extra, row], told: [...node.told, rule] }
}

/** Narrows the box to what a·x ≥ b leaves of it; false where that is nothing. */
export function tightenByRow({ a, b }: Row, { low, high }: { low: Faces; high: Faces }): boolean {
  let most = -b
  for (let j = 0; j < 6; j++) if (a[j] !== 0) most += a[j] * (a[j] > 0 ? high[j] : low[j])
  if (most < -1e-7) return false
  for (let j = 0; j < 6; j++) {
    if (a[j] === 0) continue
    // What face j has to give when all others give their best, and a grain for rounding.
    const spare = Math.max(0, most) / Math.abs(a[j]) + 1e-9
    if (a[j] > 0) low[j] = Math.max(low[j], high[j] - spare)
    else high[j] = Math.min(high[j], low[j] + spare)
  }
  return true
}
