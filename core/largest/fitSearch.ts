import { type Aim, logBound, sizeAbove, sizeBelow, valueAt } from './fitAim.ts'
import type { FitProblem } from './fit.ts'
import type { FitEngine } from './fitEngine.ts'
import { dimension, type Faces } from './fitFrame.ts'
import { improve } from './fitImprove.ts'
import { type Row, solveProgram } from './fitProgram.ts'
import {
  distanceTo,
  type FaceBox,
  mustBeOut,
  openWays,
  outRange,
  type Rule,
  secantErrors,
  secantRow,
  standing,
  wayRow,
} from './fitRule.ts'

export interface FitOptions {
  /** Share of the best value by which the bound may exceed it. */
  readonly within: number
  /** Nodes looked at, at most. */
  readonly work: number
  readonly eased?: { readonly keepOut: string; readonly by: number }
  /** A core to begin with; it is tried, not trusted. */
  readonly start?: Faces
  /** Only values above this count; 0 for all. */
  readonly above?: number
  readonly stop: () => 'time' | 'cancelled' | null
  readonly progress: (value: number, bound: number) => void
}

export interface FitResult {
  readonly best: Faces | null
  readonly value: number
  /** No core that keeps every rule has a greater value. */
  readonly upperBound: number
  readonly stopped: 'proved' | 'work' | 'time' | 'cancelled'
  /** Keep-outs whose rules the proof that nothing fits leans on. */
  readonly conflict: readonly string[]
  readonly nodes: number
}

interface Node extends FaceBox {
  /** Least and greatest size of each dimension that still counts. */
  readonly sizes: readonly [number, number][]
  /** Logarithm of the bound. */
  readonly bound: number
  /** Ways chosen that hang on two faces, and so are no interval of one. */
  readonly extra: readonly Row[]
  /** Rules whose ways such rows have told apart already. */
  readonly told: readonly Rule[]
}

const roundsAskingEngine = 3
const roundsOfCuts = 6
/** A violation that the program's answer may have before the mesh is asked again, mm. */
const nearlyKept = 3
const coarse = 2e-3

/**
 * Largest core, by branch and bound on the six faces.
 *
 * Every rule met so far ("the point stays so far out of this box") is relaxed over a node's box of faces to one linear row,
 * the secant of its squared gaps; a small linear program then gives multipliers, and their Lagrangian a proved bound of the
 * logarithm of the value. Rules enter only when the program's answer breaks them: the clearance engine is asked there.
 * Branches: a size between two that can be had; the ways of keeping a rule; else a face.
 * Source: spatial branch and bound with outer approximation, R. Horst, H. Tuy, Global Optimization (from memory); cuts as in
 * the trial that this project began with.
 */
export class FitSearch {
  /** As the core at this tilt keeps them, and as every tilt of the range does; the same where there is no range. */
  private readonly exact: Rule[] = []
  private readonly rules: Rule[] = []
  private readonly known = new Set<string>()
  private readonly nodes: Node[] = []
  private best: Faces | null = null
  private value: number
  private looked = 0
  private closed = -Infinity
  private failures = 0
  private readonly conflicts = new Map<string, number>()
  private readonly engine: FitEngine
  private readonly aim: Aim
  private readonly options: FitOptions
  private readonly rows: readonly Row[]
  private readonly rowsHere: readonly Row[]
  private readonly loosened: (rule: Rule) => Rule

  constructor({ engine, aim, box, rowsHere, loosened, looser }: FitProblem, options: FitOptions) {
    this.engine = engine
    this.aim = aim
    this.loosened = loosened
    this.options = options
    this.rowsHere = [...rowsHere, ...engine.halfSpaceRows(options.eased)]
    this.rows = [...aim.rows, ...engine.halfSpaceRows(options.eased, looser)]
    this.value = options.above ?? 0
    this.nodes.push({
      ...box,
      sizes: aim.sizes.map(({ least, most }) => [least, most] as [number, number]),
      bound: Infinity,
      extra: [],
      told: [],
    })
    if (options.start) this.tryFrom(options.start, box)
  }

  run(): FitResult {
    for (;;) {
      const open = this.nodes[0]?.bound ?? -Infinity
      const log = Math.max(open, this.closed)
      const upperBound = Math.max(this.value, Math.exp(log) * (1 + 1e-12))
      const done = (stopped: FitResult['stopped']): FitResult => ({
        best: this.best,
        value: this.value,
        upperBound,
        stopped,
        conflict: this.conflictNames(),
        nodes: this.looked,
      })
      if (this.nodes.length === 0 || open <= this.target()) return done('proved')
      if (this.looked >= this.options.work) return done('work')
      const asked = this.options.stop()
      if (asked) return done(asked)
      if (this.looked % 4 === 0) this.options.progress(this.value, upperBound)
      this.looked++
      this.look(this.nodes.shift() as Node)
    }
  }

  /** Logarithm that a bound must exceed for its node to matter. */
  private target(): number {
    return this.value > 0 ? Math.log(this.value * (1 + this.options.within)) : -Infinity
  }

  private conflictNames(): string[] {
    return [...this.conflicts]
      .sort((a, b) => b[1] - a[1] || (a[0] < b[0] ? -1 : 1))
      .slice(0, 8)
      .map(([name]) => name)
  }

  private note(rule: Rule): void {
    this.conflicts.set(rule.keepOut, (this.conflicts.get(rule.keepOut) ?? 0) + 1)
  }

  private close(bound: number): void {
    if (bound > this.closed) this.closed = bound
  }

  private look(given: Node): void {
    let node: Node = given
    for (let round = 0; ; round++) {
      const tight = this.propagated(node)
      if (!tight) return
      const found = this.bounded(tight)
      node = { ...tight, bound: Math.min(given.bound, found.bound) }
      if (node.bound <= this.target()) return this.close(node.bound)
      const worst = this.worstKnown(found.x)
      if (round === 0 && this.looked % Math.min(16, 1 + (this.failures >> 3)) === 0) this.tryFrom(found.x, node)
      if (node.bound <= this.target()) return this.close(node.bound)
      if (round >= roundsAskingEngine || worst > nearlyKept) return this.branch(node, found.x)
      const news = this.learn(this.engine.broken(found.x, coarse, this.options.eased))
      if (node.bound <= this.target()) return this.close(node.bound)
      if (news === 0) return this.branch(node, found.x)
    }
  }

  private learn(rules: readonly Rule[]): number {
    let news = 0
    for (const rule of rules) {
      const { low, high } = rule.box
      const name = [...rule.point, rule.apart, ...[...low, ...high].flatMap((f) => [f.onLow, f.offset])]
        .map((x) => Math.round(x * 1e7))
        .join()
      if (this.known.has(name)) continue
      this.known.add(name)
      this.exact.push(rule)
      const loose = this.loosened(rule)
      if (loose === rule || loose.apart > 0.01) this.rules.push(loose)
      news++
    }
    return news
  }

  private worstKnown(x: Faces): number {
    let worst = 0
    for (const rule of this.rules) worst = Math.max(worst, rule.apart - distanceTo(rule, x))
    return worst
  }

  private tryFrom(x: Faces, within: FaceBox): void {
    const found = improve(
      this.engine,
      this.aim,
      this.rowsHere,
      this.exact,
      x,
      this.options.eased,
      (rules) => void this.learn(rules),
      this.value,
      within,
    )
    if (found && valueAt(this.aim, found) > this.value * (1 + 1e-9)) {
      this.best = found
      this.value = valueAt(this.aim, found)
      this.failures = 0
    } else this.failures++
  }

  /** Tightens faces and sizes by what must hold; null where nothing is left. */
  private propagated(given: Node): Node | null {
    const low = given.low.slice()
    const high = given.high.slice()
    const sizes = given.sizes.map(([a, b]) => [a, b] as [number, number])
    const node = { ...given, low, high, sizes }
    for (let round = 0; round < 4; round++) {
      const before = low.reduce((s, x, j) => s + high[j] - x, 0)
      if (!this.tightenSizes(node)) return null
      for (const rule of this.rules) if (!this.tightenBy(rule, node)) return null
      for (const row of node.extra) if (!tightenByRow(row, node)) return null
      if (before - low.reduce((s, x, j) => s + high[j] - x, 0) < 0.01) break
    }
    return node
  }

  private tightenSizes({ low, high, sizes }: { low: Faces; high: Faces; sizes: [number, number][] }): boolean {
    for (let k = 0; k < 3; k++) {
      const most = sizeBelow(this.aim.sizes[k], Math.min(sizes[k][1], high[3 + k] - low[k]))
      if (most === undefined || most < sizes[k][0] - 1e-9) return false
      sizes[k][1] = most
    }
    const wanted = this.value * (1 + this.options.within)
    for (let k = 0; k < 3; k++) {
      if (this.aim.weights[k] > 0 && wanted > 0) {
        const others = sizes.reduce((p, [, most], j) => (j !== k && this.aim.weights[j] > 0 ? p * most : p), 1)
        const least = sizeAbove(this.aim.sizes[k], Math.max(sizes[k][0], (wanted / others) * (1 - 1e-12)))
        if (least === undefined || least > sizes[k][1] + 1e-9) {
          this.close(Math.log(wanted))
          return false
        }
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

  private tightenBy(rule: Rule, box: { low: Faces; high: Faces }): boolean {
    const stands = standing(rule, box)
    if (stands === 'kept') return true
    if (stands === 'broken') {
      this.note(rule)
      return false
    }
    const must = mustBeOut(rule, box)
    for (let axis = 0; axis < 3; axis++) {
      if (must[axis] <= 0) continue
      const open = openWays(rule, box).filter((way) => way.axis === axis && outRange(rule, way, box)[1] >= must[axis])
      if (open.length === 0) {
        this.note(rule)
        return false
      }
      if (open.length === 1 && !tightenByRow(wayRow(rule, open[0], must[axis]), box)) {
        this.note(rule)
        return false
      }
    }
    return true
  }

  private bounded(node: Node): { x: Faces; bound: number } {
    const caps = node.sizes.map(([, most]) => most)
    const rows: Row[] = [...this.rows, ...sizeRows(node), ...node.extra]
    const open = this.rules.filter((rule) => standing(rule, node) === 'open')
    const cut = new Set<Rule>()
    let slopes = caps
    let bound = Infinity
    let x = middleOf(node)
    for (let round = 0; round < roundsOfCuts; round++) {
      const c = new Float64Array(6)
      this.aim.weights.forEach((w, k) => {
        // A dimension without weight is still made large: stock and rows like room.
        const s = (w > 0 ? w : 1e-6) / Math.max(1e-6, slopes[k])
        c[k] = -s
        c[3 + k] = s
      })
      const answer = solveProgram(c, rows, node.low, node.high)
      if (answer.infeasible) {
        const scaled = answer.weights.map((w) => w * this.farkasScale(rows, answer.weights, node, caps))
        const proved = logBound(this.aim, node, caps, rows, scaled)
        return { x: answer.x, bound: Math.min(bound, proved) }
      }
      x = answer.x
      bound = Math.min(bound, logBound(this.aim, node, caps, rows, answer.weights))
      if (bound <= this.target()) break
      const now = [0, 1, 2].map((k) => Math.max(dimension(x, k), 0.2 * caps[k], 1e-3))
      const moved = now.some((s, k) => Math.abs(s - slopes[k]) > 0.02 * slopes[k])
      slopes = now
      const worst = open
        .filter((rule) => !cut.has(rule))
        .map((rule) => ({ rule, by: rule.apart - distanceTo(rule, x) }))
        .filter(({ by }) => by > 1e-4)
        .sort((p, q) => q.by - p.by)
        .slice(0, 5)
      if (worst.length === 0 && !moved) break
      for (const { rule } of worst) {
        cut.add(rule)
        rows.push(secantRow(rule, node))
      }
    }
    return { x, bound }
  }

  /** Large enough that a true contradiction outweighs any value, small enough to keep digits. */
  private farkasScale(rows: readonly Row[], weights: Float64Array, node: Node, caps: readonly number[]): number {
    const nothing: Aim = { ...this.aim, weights: [0, 0, 0] }
    const gap = -logBound(nothing, node, caps, rows, weights)
    return gap > 1e-9 ? 60 / gap : 0
  }

  private branch(node: Node, x: Faces): void {
    const size = this.sizeBetween(node, x)
    if (size) return this.offer(size)
    const rule = this.ruleToSplit(node, x)
    if (rule && this.offerWays(node, rule)) return
    this.offer(this.splitFace(node, x))
  }

  private sizeBetween(node: Node, x: Faces): Node[] | undefined {
    for (let k = 0; k < 3; k++) {
      const sizes = this.aim.sizes[k]
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
  private ruleToSplit(node: Node, x: Faces): Rule | undefined {
    let best: Rule | undefined
    let least = Infinity
    for (const rule of this.rules) {
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

  /** One child a way, each without the ways before it; false where some child would not be smaller. */
  private offerWays(node: Node, rule: Rule): boolean {
    const open = openWays(rule, node)
    const axes = new Set(open.map((way) => way.axis)).size
    const by = Math.max(0, rule.apart - 1e-7) / Math.sqrt(axes)
    const children: Node[] = []
    let rest: Node = node
    for (const way of open) {
      const [least, most] = outRange(rule, way, rest)
      if (most < by) continue
      if (least >= by - 1e-6) return false
      const child = withRow(rest, rule, wayRow(rule, way, by))
      if (child) children.push(child)
      const out = wayRow(rule, way, by)
      const without = withRow(rest, rule, { a: out.a.map((v) => -v), b: -out.b })
      if (!without) break
      rest = without
    }
    this.offer(children)
    return true
  }

  /** Cuts the face that the loosest secants of broken rules hang on, at the program's answer; else the widest. */
  private splitFace(node: Node, x: Faces): Node[] {
    const errors = new Float64Array(6)
    for (const rule of this.rules)
      if (rule.apart - distanceTo(rule, x) > 1e-4 && standing(rule, node) === 'open')
        secantErrors(rule, node, x, errors)
    const width = (j: number): number => node.high[j] - node.low[j]
    let face = 0
    const worth = (j: number): number => (width(j) > 1e-6 ? errors[j] + 1e-9 * width(j) : -1)
    for (let j = 1; j < 6; j++) if (worth(j) > worth(face)) face = j
    if (worth(face) < 0) {
      this.close(node.bound)
      return []
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

  private offer(children: readonly Node[]): void {
    for (const child of children) {
      let low = 0
      let high = this.nodes.length
      while (low < high) {
        const mid = (low + high) >> 1
        // Among equals the newest first: going down finds cores, going across only finds nodes.
        if (this.nodes[mid].bound > child.bound) low = mid + 1
        else high = mid
      }
      this.nodes.splice(low, 0, child)
    }
  }
}

const middleOf = ({ low, high }: FaceBox): Faces => low.map((l, j) => (l + high[j]) / 2)

/** Faces that cross by a rounding are one; by more, there is nothing left. */
function settle(low: Faces, high: Faces, j: number): boolean {
  if (low[j] <= high[j]) return true
  if (low[j] - high[j] > 1e-7) return false
  const at = (low[j] + high[j]) / 2
  low[j] = at
  high[j] = at
  return true
}

function sizeRows({ sizes }: Node): Row[] {
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
function withRow(node: Node, rule: Rule, row: Row): Node | null {
  const box = { low: node.low.slice(), high: node.high.slice() }
  if (!tightenByRow(row, box)) return null
  const single = row.a.reduce((n, v) => (v !== 0 ? n + 1 : n), 0) === 1
  return single ? { ...node, ...box } : { ...node, ...box, extra: [...node.extra, row], told: [...node.told, rule] }
}

/** Narrows the box to what a·x ≥ b leaves of it; false where that is nothing. */
function tightenByRow({ a, b }: Row, { low, high }: { low: Faces; high: Faces }): boolean {
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
