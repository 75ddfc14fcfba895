import { type Aim, sizeAbove, sizeBelow } from './fitAim.ts'
import type { Faces } from './fitFrame.ts'
import { type Node, settle, tightenByRow } from './fitNode.ts'
import { mustBeOut, openWays, outRange, type Rule, standing, wayRow } from './fitRule.ts'

/**
 * @param wanted value that a core must have to count; 0 for any
 * @param note   is told the rules that leave nothing
 */
/** Tightens faces and sizes by what must hold; null where nothing is left. */
export function propagated(
  given: Node,
  aim: Aim,
  rules: readonly Rule[],
  wanted: number,
  note: (rule: Rule) => void,
): Node | null {
  const low = given.low.slice()
  const high = given.high.slice()
  const sizes = given.sizes.map(([a, b]) => [a, b] as [number, number])
  const node = { ...given, low, high, sizes }
  for (let round = 0; round < 4; round++) {
    const before = low.reduce((s, x, j) => s + high[j] - x, 0)
    if (!tightenSizes(node, aim, wanted)) return null
    for (const rule of rules) if (!tightenBy(rule, node, note)) return null
    for (const row of node.extra) if (!tightenByRow(row, node)) return null
    if (before - low.reduce((s, x, j) => s + high[j] - x, 0) < 0.01) break
  }
  return node
}

function tightenSizes(
  { low, high, sizes }: { low: Faces; high: Faces; sizes: [number, number][] },
  aim: Aim,
  wanted: number,
): boolean {
  for (let k = 0; k < 3; k++) {
    const most = sizeBelow(aim.sizes[k], Math.min(sizes[k][1], high[3 + k] - low[k]))
    if (most === undefined || most < sizes[k][0] - 1e-9) return false
    sizes[k][1] = most
  }
  for (let k = 0; k < 3; k++) {
    if (aim.weights[k] > 0 && wanted > 0) {
      const others = sizes.reduce((p, [, most], j) => (j !== k && aim.weights[j] > 0 ? p * most : p), 1)
      const least = sizeAbove(aim.sizes[k], Math.max(sizes[k][0], (wanted / others) * (1 - 1e-12)))
      if (least === undefined || least > sizes[k][1] + 1e-9) return false
      sizes[k][0] = Math.min(least, sizes[k][1])
    }
    const [least, most] = sizes[k]
    high[k] = Math.min(high[k], high[3 + k] - least)
    low[3 + k] = Math.max(low[3 + k], low[k] + least)
    low[k] = Math.max(low[k], low[3 + k] - most)
    high[3 + k] = Math.min(high[3 + k], high[k] + most)
    if (!settle(low, high, k) || !settle(low, high, 3 + k)) return false
  }
  return true
}

function tightenBy(rule: Rule, box: { low: Faces; high: Faces }, note: (rule: Rule) => void): boolean {
  const stands = standing(rule, box)
  if (stands === 'kept') return true
  if (stands === 'broken') {
    note(rule)
    return false
  }
  const must = mustBeOut(rule, box)
  for (let axis = 0; axis < 3; axis++) {
    if (must[axis] <= 0) continue
    const open = openWays(rule, box).filter((way) => way.axis === axis && outRange(rule, way, box)[1] >= must[axis])
    if (open.length === 0) {
      note(rule)
      return false
    }
    if (open.length === 1 && !tightenByRow(wayRow(rule, open[0], must[axis]), box)) {
      note(rule)
      return false
    }
  }
  return true
}
