import { type Aim, leastSize, logBound, valueAt } from './fitAim.ts'
import { branches } from './fitBranch.ts'
import type { FitProblem } from './fit.ts'
import type { FitEngine } from './fitEngine.ts'
import { dimension, type Faces } from './fitFrame.ts'
import { improve } from './fitImprove.ts'
import { LogProgram } from './fitLogProgram.ts'
import { type Node, sizeRows } from './fitNode.ts'
import type { Row } from './fitProgram.ts'
import { propagated } from './fitPropagate.ts'
import { distanceTo, type FaceBox, type Rule, secantRow, standing } from './fitRule.ts'

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
  /** Without secants a node is bounded by its outer box alone: the plain method, for comparison. Default true. */
  readonly cuts?: boolean
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

const roundsAskingEngine = 3
const roundsOfCuts = 9
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
      // Nodes were given up for having no more than this; what they hold beyond the best is not known better.
      const givenUp = this.value > 0 ? this.value * (1 + this.options.within) : 0
      const upperBound = Math.max(givenUp, Math.exp(log) * (1 + 1e-12))
      const done = (stopped: FitResult['stopped']): FitResult => ({
        best: this.best,
        value: this.value,
        upperBound,
        stopped,
        conflict: this.conflictNames(),
        nodes: this.looked,
      })
      if (this.nodes.length === 0 || open <= this.target())
        // What is too narrow to be cut further, and still better, stays unproved.
        return done(this.closed <= this.target() + 1e-12 || this.closed === -Infinity ? 'proved' : 'work')
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
    let at: Faces = given.low
    for (let round = 0; ; round++) {
      const tight = propagated(node, this.aim, this.rules, this.value * (1 + this.options.within), (rule) =>
        this.note(rule),
      )
      if (!tight) return
      const found = this.bounded(tight)
      node = { ...tight, bound: Math.min(given.bound, found.bound) }
      if (node.bound <= this.target()) {
        this.close(node.bound)
        return
      }
      const worst = this.worstKnown(found.x)
      at = found.x
      if (!isCore(at)) break
      if (round === 0 && this.looked % Math.min(16, 1 + (this.failures >> 3)) === 0) this.tryFrom(found.x, node)
      if (node.bound <= this.target()) {
        this.close(node.bound)
        return
      }
      if (round >= roundsAskingEngine || worst > nearlyKept) break
      const news = this.learn(this.engine.broken(found.x, coarse, this.options.eased))
      if (node.bound <= this.target()) {
        this.close(node.bound)
        return
      }
      if (news === 0) break
    }
    this.branch(node, at)
  }

  private learn(rules: readonly Rule[]): number {
    let news = 0
    for (const rule of rules) {
      const { low, high } = rule.box
      const name = [...rule.from, ...rule.to, rule.apart, ...[...low, ...high].flatMap((f) => [f.onLow, f.offset])]
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

  private branch(node: Node, x: Faces): void {
    const children = branches(node, x, this.aim, this.rules)
    if (children) this.offer(children)
    else this.close(node.bound)
  }

  private bounded(node: Node): { x: Faces; bound: number } {
    const caps = node.sizes.map(([, most]) => most)
    const rows: Row[] = [...this.rows, ...sizeRows(node), ...node.extra]
    const open = this.rules.filter((rule) => standing(rule, node) === 'open')
    const cut = new Set<Rule>()
    const program = new LogProgram(this.aim, node, node.sizes)
    let bound = Infinity
    let x = middleOf(node)
    for (let round = 0; round < roundsOfCuts; round++) {
      const answer = program.solve(rows)
      if (answer.infeasible) {
        const scaled = answer.weights.map((w) => w * this.farkasScale(rows, answer.weights, node, caps))
        return { x: answer.x, bound: Math.min(bound, logBound(this.aim, node, caps, rows, scaled)) }
      }
      x = answer.x
      bound = Math.min(bound, logBound(this.aim, node, caps, rows, answer.weights))
      if (bound <= this.target()) break
      const loose = program.touchAt(x)
      if (this.options.cuts === false) break
      const worst = open
        .filter((rule) => !cut.has(rule))
        .map((rule) => ({ rule, by: rule.apart - distanceTo(rule, x) }))
        .filter(({ by }) => by > 1e-4)
        .sort((p, q) => q.by - p.by)
        .slice(0, 5)
      if (worst.length === 0 && !loose) break
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

const isCore = (x: Faces): boolean => [0, 1, 2].every((k) => dimension(x, k) > leastSize / 2)

const middleOf = ({ low, high }: FaceBox): Faces => low.map((l, j) => (l + high[j]) / 2)
