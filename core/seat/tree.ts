import { along, dot, length, product, scale, sub, turned, unit, type Mat3, type Pose, type Vec3 } from '../shape/vec.ts'
import { turnBetween } from './connect.ts'
import { cornersOfBay } from './exits.ts'
import { turnAbout } from './move.ts'
import { aimedOut } from './aimedOut.ts'
import type { SeatSearch } from './search.ts'
import { after, axes, isShift, isSomething, motionOf, shareOfStep, shiftStep, type Step, turnStep } from './steps.ts'
import { chances } from './work.ts'
import { type Stopper, yieldingTurn } from './yielding.ts'

/** A view in which a tree grows: two shifts and the turn about the axis they are square to. */
export interface Plane {
  readonly name: string
  /** Number of the axis it is square to. */
  readonly square: 0 | 1 | 2
}
export const planes: readonly Plane[] = [
  { name: 'side', square: 1 },
  { name: 'plan', square: 2 },
  { name: 'front', square: 0 },
]

export interface TreeOptions {
  /** All six freedoms where left out. */
  readonly plane?: Plane
  /** Widest turn that is drawn in a plane, degrees; 0 for shifts alone. */
  readonly widest?: number
  readonly seed: number
  readonly margin: number
  /** Work done in all at which it gives up. */
  readonly until: number
  /** Poses to grow near, six times in ten. */
  readonly guides?: readonly Pose[]
}

interface Node {
  readonly pose: Pose
  readonly parent: number
  readonly step: Step | null
}

/** More nodes make the nearest one dear to find and bring little. */
const mostNodes = 3000
/** Widest turns about each axis that are drawn in space, degrees. */
const widestInSpace = 40
/** A turn that gives way goes on in so many stretches at most, of so many degrees each. */
const mostStretches = 12
const stretch = 6
/** So many steps turn and shift at once. */
const atOnce = 0.2
/** A share of new nodes is turned and shifted until the push out is clear. */
const aimShare = 0.12

/**
 * A way out by a tree from the seat. A pose is drawn, and the nearest node makes up to three named moves towards it, each as
 * far as it is proved clear; a shift that is blocked at once slides along what blocks it. From every new node a straight push
 * out is tried.
 * Source: S. M. LaValle, Rapidly-exploring random trees (1998), from memory; the named moves are our own.
 */
export function tree(search: SeatSearch, options: TreeOptions): Step[] | null {
  return new Tree(search, options).grow()
}

class Tree {
  private readonly nodes: Node[]
  private readonly search: SeatSearch
  private readonly options: TreeOptions
  private readonly chance: () => number
  private readonly space: readonly (readonly [number, number])[]
  private readonly turnAxes: readonly Vec3[]
  private readonly shiftAxes: readonly number[]
  private readonly free: readonly boolean[] | undefined
  /** What stopped the last turn. */
  private stopper: Stopper | null = null

  constructor(search: SeatSearch, options: TreeOptions) {
    const { plane, seed, widest } = options
    this.search = search
    this.options = options
    this.chance = chances(seed)
    this.nodes = [{ pose: search.subject.seat, parent: -1, step: null }]
    this.space = roomAbout(search)
    this.turnAxes = plane ? [axes[plane.square]] : axes
    this.shiftAxes = [0, 1, 2].filter((k) => k !== plane?.square)
    this.free =
      plane && [0, 1, 2, 3, 4, 5].map((k) => (k < 3 ? k !== plane.square : k - 3 === plane.square && widest !== 0))
  }

  grow(): Step[] | null {
    const { work } = this.search
    while (!work.isOver(this.options.until) && this.nodes.length < mostNodes) {
      const goal = this.drawn()
      let at = this.nearest(goal)
      for (let k = 0; k < 3; k++) {
        const step = this.stepTowards(this.nodes[at].pose, goal, k % 2 === 0 ? 0.5 : 0.35)
        const made = step && this.advanced(this.nodes[at].pose, step)
        if (!made) continue
        this.nodes.push({ pose: after(this.nodes[at].pose, made), parent: at, step: made })
        at = this.nodes.length - 1
        const out = this.out(at)
        if (out) return out
        if (!this.stopper || k > 0) continue
        at = this.yielded(at, goal)
        const beyond = at === this.nodes.length - 1 ? this.out(at) : null
        if (beyond) return beyond
      }
    }
    return null
  }

  /**
   * A turn that was stopped goes on while the part gives way, in stretches that each are a node.
   * @returns the last node reached
   */
  private yielded(from: number, goal: Pose): number {
    const { plane, margin } = this.options
    const { advancer, work } = this.search
    let at = from
    let stoppers = this.stopper ? [this.stopper] : []
    for (let n = 0; n < mostStretches && stoppers.length > 0 && stoppers.length < 4 && !work.isOver(); n++) {
      const { pose } = this.nodes[at]
      const { axis, angle } = turnBetween(pose.turn, goal.turn)
      if (angle < 0.6) break
      const turn = turnStep(axis, this.search.pivots[0], Math.min(stretch, angle))
      const step = yieldingTurn(pose, turn, stoppers, plane?.square)
      if (!step) break
      const { share, away, on } = advancer.advance(motionOf(step, pose), margin)
      const made = shareOfStep(step, share)
      const stopper = away && { away, on }
      if (Math.abs(made.angle) >= 0.25) {
        this.nodes.push({ pose: after(pose, made), parent: at, step: made })
        at = this.nodes.length - 1
        stoppers = stopper ? [stopper] : stoppers
      } else if (stopper) stoppers = [...stoppers, stopper]
      else break
    }
    return at
  }

  private out(at: number): Step[] | null {
    const { search, options } = this
    const { pose } = this.nodes[at]
    const push = search.exits.shot(pose, options.margin)
    if (push) return [...this.stepsTo(at), push]
    if (this.chance() >= aimShare) return null
    const { inset, way } = search.score(pose, options.margin)
    if (inset > 25) return null
    const aimed = aimedOut(search, pose, way, options.margin, { rounds: 60, ...(this.free && { free: this.free }) })
    return aimed && [...this.stepsTo(at), ...aimed]
  }

  private stepsTo(at: number): Step[] {
    const steps: Step[] = []
    for (let i = at; i > 0; i = this.nodes[i].parent) {
      const { step } = this.nodes[i]
      if (step) steps.push(step)
    }
    return steps.reverse()
  }

  private drawn(): Pose {
    const { chance, space, search, options } = this
    const { seat } = search.subject
    const { plane, guides } = options
    if (guides && guides.length > 0 && chance() < 0.6) return this.nearGuide(guides)
    const at = [0, 1, 2].map((k) => space[k][0] + chance() * (space[k][1] - space[k][0]))
    if (plane) {
      at[plane.square] = seat.at[plane.square]
      const turn = turnAbout(axes[plane.square], radians(this.options.widest ?? widestInSpace) * (2 * chance() - 1))
      return { at: at as unknown as Vec3, turn: product(turn, seat.turn) }
    }
    let turn: Mat3 = seat.turn
    for (const axis of axes) turn = product(turnAbout(axis, radians(widestInSpace) * (2 * chance() - 1)), turn)
    return { at: at as unknown as Vec3, turn }
  }

  private nearGuide(guides: readonly Pose[]): Pose {
    const { chance, options } = this
    const { plane } = options
    const guide = guides[Math.floor(chance() * guides.length)]
    const jitter = () => (chance() + chance() - 1) * 12
    const at = guide.at.map((x, k) => (k === plane?.square ? x : x + jitter())) as unknown as Vec3
    const axis = plane ? axes[plane.square] : unit([chance() - 0.5, chance() - 0.5, chance() - 0.5 + 1e-9])
    return { at, turn: product(turnAbout(axis, (chance() + chance() - 1) * 0.06), guide.turn) }
  }

  /** By how far their points lie apart, roughly. */
  private nearest({ at, turn: b }: Pose): number {
    const { nodes, search } = this
    const size = 0.6 * search.reach
    let best = 0
    let least = Infinity
    for (let i = 0; i < nodes.length; i++) {
      const { at: p, turn: a } = nodes[i].pose
      const apart = Math.hypot(p[0] - at[0], p[1] - at[1], p[2] - at[2])
      if (apart >= least) continue
      const trace =
        a[0] * b[0] +
        a[1] * b[1] +
        a[2] * b[2] +
        a[3] * b[3] +
        a[4] * b[4] +
        a[5] * b[5] +
        a[6] * b[6] +
        a[7] * b[7] +
        a[8] * b[8]
      const d = apart + Math.acos(Math.max(-1, Math.min(1, (trace - 1) / 2))) * size
      if (d < least) {
        least = d
        best = i
      }
    }
    search.work.look(nodes.length)
    return best
  }

  private stepTowards(from: Pose, goal: Pose, shifting: number): Step | null {
    if (this.options.widest === 0) return this.shiftTowards(from, goal)
    if (this.chance() < atOnce) return this.bothTowards(from, goal)
    return this.chance() < shifting ? this.shiftTowards(from, goal) : this.turnTowards(from, goal)
  }

  /** Turn and shift at once, straight to the goal: round corners neither of them goes alone. */
  private bothTowards(from: Pose, goal: Pose): Step | null {
    const { pivots } = this.search
    const { axis, angle } = turnBetween(from.turn, goal.turn)
    if (angle < 0.6) return null
    const turn = turnStep(axis, pivots[Math.floor(this.chance() * pivots.length)], angle)
    return { ...turn, shift: sub(goal.at, after(from, turn).at) }
  }

  /** The whole way, or its share along one axis: the bay's or the part's own. */
  private shiftTowards(from: Pose, goal: Pose): Step | null {
    const { chance } = this
    const whole = sub(goal.at, from.at)
    const kind = chance()
    if (kind < 0.4) return length(whole) >= 3 ? shiftStep(unit(whole), length(whole)) : null
    const axis = axes[this.shiftAxes[Math.floor(chance() * this.shiftAxes.length)]]
    const way = kind < 0.7 ? axis : turned(from.turn, axis)
    const amount = dot(whole, way)
    return Math.abs(amount) >= 3 ? shiftStep(scale(way, Math.sign(amount)), Math.abs(amount)) : null
  }

  /** The whole turn, or its share about one of the bay's axes; about one of the named pivots. */
  private turnTowards(from: Pose, goal: Pose): Step | null {
    const { chance, turnAxes } = this
    const { pivots } = this.search
    const { axis, angle } = turnBetween(from.turn, goal.turn)
    const isWhole = chance() < 0.4
    const chosen = isWhole ? axis : turnAxes[Math.floor(chance() * turnAxes.length)]
    const amount = isWhole ? angle : dot(axis, chosen) * angle
    const pivot = pivots[Math.floor(chance() * pivots.length)]
    return Math.abs(amount) >= 0.6 ? turnStep(chosen, pivot, amount) : null
  }

  private advanced(pose: Pose, step: Step): Step | null {
    const { advancer } = this.search
    const { margin } = this.options
    const { share, away, on } = advancer.advance(motionOf(step, pose), margin)
    const made = shareOfStep(step, share)
    this.stopper = away && !isShift(step) ? { away, on } : null
    if (isSomething(made, 2, 0.5)) return made
    if (!isShift(step) || !away) return null
    const slide = this.alongside(step, away)
    if (!slide) return null
    const slid = shareOfStep(slide, advancer.advance(motionOf(slide, pose), margin).share)
    return isSomething(slid, 2, 0.5) ? slid : null
  }

  /** What is left of a shift beside the plane that blocks it, leaning off it a little. */
  private alongside({ shift }: Step, away: Vec3): Step | null {
    const { plane } = this.options
    const beside = along(shift, away, -1.001 * dot(shift, away)).map((x, k) => (k === plane?.square ? 0 : x))
    const rest: Vec3 = [beside[0], beside[1], beside[2]]
    return length(rest) > 0.05 * length(shift) ? shiftStep(unit(rest), length(rest)) : null
  }
}

const radians = (degrees: number): number => (degrees * Math.PI) / 180

/** Where the part's middle may be of use: about the seat as far as the part is long, within the keep-outs and a little beyond. */
function roomAbout({ subject, reach }: SeatSearch): (readonly [number, number])[] {
  const corners = cornersOfBay(subject)
  return [0, 1, 2].map((k) => {
    const at = subject.seat.at[k]
    const low = corners.reduce((least, corner) => Math.min(least, corner[k]), at)
    const high = corners.reduce((most, corner) => Math.max(most, corner[k]), at)
    return [Math.max(at - 1.3 * reach, low - 0.3 * reach), Math.min(at + 1.3 * reach, high + 0.3 * reach)] as const
  })
}
