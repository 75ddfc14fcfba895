import { Advancer, type Moving } from './advance.ts'
import { reachOf } from './aim.ts'
import { Exits } from './exits.ts'
import { insetOf } from './inset.ts'
import { pivotsOf } from './pivots.ts'
import { after, motionOf, type Step } from './steps.ts'
import type { SeatSubject } from './subject.ts'
import type { Work } from './work.ts'
import type { Pose, Vec3 } from '../shape/vec.ts'

/** By how much the part is drawn in to see how far a push is from clear, mm. */
const scoreInsets = [1, 2, 4, 7, 11, 16, 22, 30]

/** What all searches for a way out share: the part, what stays, and how to ask. */
export class SeatSearch {
  readonly subject: SeatSubject
  readonly work: Work
  readonly advancer: Advancer
  readonly exits: Exits
  readonly pivots: readonly Vec3[]
  /** Farthest point of the part from its middle, mm. */
  readonly reach: number
  private readonly drawnIn: readonly { readonly by: number; readonly exits: Exits; readonly advancer: Advancer }[]

  constructor(subject: SeatSubject, work: Work) {
    this.subject = subject
    this.work = work
    this.advancer = new Advancer(subject, work.sweeps)
    this.exits = new Exits(subject, this.advancer)
    this.pivots = pivotsOf(subject.pieces)
    this.reach = reachOf(subject)
    this.drawnIn = scoreInsets.map((by) => {
      const smaller: Moving & SeatSubject = insetOf(subject, by)
      const advancer = new Advancer(smaller, work.sweeps)
      return { by, advancer, exits: new Exits(smaller, advancer) }
    })
  }

  isClear(pose: Pose, step: Step, margin: number): boolean {
    return this.advancer.isClear(motionOf(step, pose), margin)
  }

  /** Whether all steps are clear one after the other. */
  areClear(from: Pose, steps: readonly Step[], margin: number): boolean {
    let pose = from
    for (const step of steps) {
      if (!this.isClear(pose, step, margin)) return false
      pose = after(pose, step)
    }
    return true
  }

  /**
   * How far the best push out of a pose is from clear.
   * @returns the least drawing in that frees a push, mm, and its direction's number; Infinity where none does
   */
  score(pose: Pose, margin: number): { readonly inset: number; readonly way: number } {
    let best = scoreInsets.length
    let way = -1
    for (let i = 0; i < this.exits.directions.length; i++)
      while (best > 0 && this.isPushClear(pose, i, best - 1, margin)) {
        best--
        way = i
      }
    return { inset: scoreInsets[best] ?? Infinity, way }
  }

  private isPushClear(pose: Pose, way: number, level: number, margin: number): boolean {
    const { exits, advancer } = this.drawnIn[level]
    const { hints } = exits
    const isClear = advancer.isClear(motionOf(exits.push(pose, way), pose), margin, hints[way])
    if (!isClear) hints[way] = advancer.stoppedBy
    return isClear
  }
}
