import { clearance } from '../clearance/clearance.ts'
import { boxGap, formBounds } from '../clearance/formBounds.ts'
import { recentred } from '../clearance/recentred.ts'
import { setOf } from '../clearance/support.ts'
import type { ConvexForm, Form, HalfSpaceForm, Solid } from '../shape/form.ts'
import { solidFrom } from '../shape/solid.ts'
import { scale, type Vec3 } from '../shape/vec.ts'
import { type Figures, verdictOf } from '../verdict/verdict.ts'
import { signedDistance } from './placeBody.ts'

/** What must lie between a part and a keep-out, mm. */
export type Wants = Pick<Figures, 'tolerance' | 'uncertainty' | 'required'>

/** A straight move after which a pair is proved to clear. */
export interface ClearingMove {
  /** mm; the pair moved by just this clears. */
  readonly by: number
  /** mm; proved: nowhere short of this does it clear. */
  readonly notBefore: number
}

/** Engine calls a way, at most. */
const mostRounds = 200
/** A step shorter than this is no progress: then a little more is tried until the pair is proved to clear, mm. */
const noStep = 1e-4
const nudges = [1e-4, 1e-3, 4e-3, 0.016, 0.064]

/**
 * Least move along a direction after which a pair clears.
 *
 * A convex body moving straight is too near to another one for one stretch of the way and no other, and the same holds for
 * a point: the distance is a convex function of the move. So each look at the pair tells a stretch that need not be
 * entered: from here until the nearest convex piece, or the nearest point of a mesh or tube, is left behind. Where parts
 * lie inside a mesh the depth helps: less than depth and what is wanted together is never enough.
 * Source: conservative advancement, B. Mirtich, Impulse-based Dynamic Simulation (1996), from memory; the stretches: ours.
 */
export const wayAlong = (
  direction: Vec3,
  part: Solid,
  keepOut: Solid,
  wants: Wants,
  reach: number,
): ClearingMove | null => new WaySeeker(direction, part, keepOut, wants, reach).run()

class WaySeeker {
  private readonly direction: Vec3
  private readonly part: Solid
  private readonly keepOut: Solid
  private readonly wants: Wants
  private readonly wanted: number
  private readonly reach: number
  private readonly bodies: readonly ConvexForm[]
  private readonly convexPieces: readonly (ConvexForm | HalfSpaceForm)[]

  constructor(direction: Vec3, part: Solid, keepOut: Solid, wants: Wants, reach: number) {
    this.direction = direction
    this.part = part
    this.keepOut = keepOut
    this.wants = wants
    this.wanted = wants.tolerance + wants.uncertainty + wants.required
    this.reach = reach
    this.bodies = part.forms.filter((form) => form.form === 'convex')
    this.convexPieces = keepOut.forms.filter((form) => form.form === 'convex' || form.form === 'halfSpace')
  }

  run(): ClearingMove | null {
    let proved = 0
    for (let round = 0; round < mostRounds && proved <= this.reach; round++) {
      const here = this.look(proved)
      if (here.clears) return { by: proved, notBefore: proved }
      const next = this.next(proved, here)
      if (next - proved < noStep) {
        for (const nudge of nudges) {
          const by = proved + nudge
          if (by <= this.reach && this.look(by).clears) return { by, notBefore: proved }
        }
        if (next - proved < 1e-9) return null
      }
      proved = next
    }
    return null
  }

  /** From a move that does not clear, a longer one that nothing short of is proved to clear. */
  private next(from: number, here: Look): number {
    let next = from + Math.max(0, here.wanting)
    for (const body of this.bodies) {
      for (const piece of this.convexPieces) next = Math.max(next, from + this.leftBehind(body, piece, from))
      if (next > this.reach) return next
      const behind = this.stretch((t) => this.isNearPoint(body, here.onKeepOut, from + t))
      next = Math.max(next, from + behind)
    }
    return next
  }

  /** How far on a convex piece stays too near; 0 where it is not. */
  private leftBehind(body: ConvexForm, piece: ConvexForm | HalfSpaceForm, from: number): number {
    const bounds = formBounds(piece)
    const solid = solidFrom([piece])
    return this.stretch((t) => {
      const there = this.moved(body, from + t)
      if (boxGap(formBounds(there), bounds) >= this.wanted) return false
      const answer = clearance(solidFrom([there]), solid, { depth: false })
      return answer.overlap !== undefined || answer.atMost < this.wanted
    })
  }

  private isNearPoint(body: ConvexForm, point: Vec3, by: number): boolean {
    const [x, y, z] = point.map((p, k) => p - by * this.direction[k])
    return signedDistance({ body: body.body, set: setOf(body.body) }, x, y, z) < this.wanted
  }

  /** Greatest move up to which `isNear` holds without a break: it holds for one stretch only. Beyond reach: as far as looked. */
  private stretch(isNear: (by: number) => boolean): number {
    if (!isNear(0)) return 0
    let near = 0
    let far = this.reach + 1
    if (isNear(far)) return far
    while (far - near > 1e-7) {
      const middle = (near + far) / 2
      if (isNear(middle)) near = middle
      else far = middle
    }
    return near
  }

  private moved(form: Form, by: number): Form {
    return recentred(form, scale(this.direction, -by))
  }

  private look(by: number): Look {
    const moved = solidFrom(this.part.forms.map((form) => this.moved(form, by)))
    const { atLeast, atMost, overlap, onKeepOut } = clearance(moved, this.keepOut)
    const figures: Figures = {
      ...this.wants,
      gap: atMost,
      error: atMost - atLeast,
      ...(overlap && { depth: overlap.depthAtLeast, depthAtMost: overlap.depthAtMost }),
    }
    return {
      clears: verdictOf(figures) === 'clears',
      wanting: this.wanted - atMost + (overlap?.depthAtLeast ?? 0) - 1e-9,
      onKeepOut,
    }
  }
}

interface Look {
  readonly clears: boolean
  /** No move shorter than this helps, mm. */
  readonly wanting: number
  readonly onKeepOut: Vec3
}
