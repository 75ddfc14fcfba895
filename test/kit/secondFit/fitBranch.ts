import { type Aim, sizeAbove, sizeBelow } from './fitAim.ts'
import { dimension, type Faces } from './fitFrame.ts'
import { type Node, withRow } from './fitNode.ts'
import { distanceTo, openWays, outRange, type Rule, secantErrors, standing, wayRow } from './fitRule.ts'

/** Children that together hold every core of the node that keeps the rules. Undefined where it is too narrow to be cut. */
export function branches(node: Node, x: Faces, aim: Aim, rules: readonly Rule[]): readonly Node[] | undefined {
  const size = sizeBetween(node, x, aim)
  if (size) return size
  const rule = ruleToSplit(node, x, rules)
  return (rule && byWays(node, rule)) ?? splitFace(node, x, rules)
}

function sizeBetween(node: Node, x: Faces, aim: Aim): Node[] | undefined {
  for (let k = 0; k < 3; k++) {
    const sizes = aim.sizes[k]
    const [least, most] = node.sizes[k]
    if (!sizes.list || least === most) continue
    const now = dimension(x, k)
    let below = sizeBelow(sizes, Math.min(now, most))
    if (below === undefined || below < least) below = least
    if (below >= most) below = sizeBelow(sizes, most - 1e-6)
    if (below === undefined || below < least) continue
    const above = sizeAbove(sizes, below + 1e-6)
    if (above === undefined || above > most) continue
    const part = (range: [number, number]): Node => ({
      ...node,
      sizes: node.sizes.map((s, j) => (j === k ? range : s)),
    })
    return [part([above, most]), part([least, below])]
  }
  return undefined
}

/** The broken rule with the fewest ways left, each a cut of its own. */
function ruleToSplit(node: Node, x: Faces, rules: readonly Rule[]): Rule | undefined {
  let best: Rule | undefined
  let least = Infinity
  for (const rule of rules) {
    const by = rule.apart - distanceTo(rule, x)
    if (by < 0.05 && !(rule.apart <= 1e-7 && by >= -1e-9 && distanceTo(rule, x) === 0)) continue
    if (standing(rule, node) !== 'open') continue
    const open = openWays(rule, node)
    if (node.told.includes(rule)) continue
    const score = open.reduce((sum, way) => {
      const [low, high] = outRange(rule, way, node)
      return sum + Math.min(1, (high - Math.max(low, 0)) / Math.max(1, high - low)) + 0.05
    }, 0)
    if (score < least) {
      least = score
      best = rule
    }
  }
  return least < 2.5 ? best : undefined
}

/** One child a way, each without the ways before it; undefined where some child would not be smaller. */
function byWays(node: Node, rule: Rule): Node[] | undefined {
  const open = openWays(rule, node)
  const axes = new Set(open.map((way) => way.axis)).size
  const by = Math.max(0, rule.apart - 1e-7) / Math.sqrt(axes)
  const children: Node[] = []
  let rest: Node = node
  for (const way of open) {
    const [least, most] = outRange(rule, way, rest)
    if (most < by) continue
    if (least >= by - 1e-6) return undefined
    const child = withRow(rest, rule, wayRow(rule, way, by))
    if (child) children.push(child)
    const out = wayRow(rule, way, by)
    const without = withRow(rest, rule, { a: out.a.map((v) => -v), b: -out.b })
    if (!without) break
    rest = without
  }
  return children
}

/** Cuts the face that the loosest secants of broken rules hang on, at the program's answer; else the widest. */
function splitFace(node: Node, x: Faces, rules: readonly Rule[]): Node[] | undefined {
  const errors = new Float64Array(6)
  for (const rule of rules)
    if (rule.apart - distanceTo(rule, x) > 1e-4 && standing(rule, node) === 'open') secantErrors(rule, node, x, errors)
  const width = (j: number): number => node.high[j] - node.low[j]
  let face = 0
  const worth = (j: number): number => (width(j) > 1e-6 ? errors[j] + 1e-9 * width(j) : -1)
  for (let j = 1; j < 6; j++) if (worth(j) > worth(face)) face = j
  if (worth(face) < 0) {
    return undefined
  }
  const at = Math.min(node.high[face] - 0.1 * width(face), Math.max(node.low[face] + 0.1 * width(face), x[face]))
  const high = node.high.slice()
  high[face] = at
  const low = node.low.slice()
  low[face] = at
  return [
    { ...node, high },
    { ...node, low },
  ]
}
