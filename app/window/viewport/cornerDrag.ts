import type { Vec3 } from '../../../core/shape/vec.ts'
import { moveCorner, newVisit } from '../pipes/cornerEdits.ts'
import type { History } from '../state/history.ts'
import { takeBack, type WindowStore } from '../state/windowState.ts'
import type { Rig } from './camera.ts'
import { dragged } from './cornerWays.ts'

/** While the worker is busy the next place waits; but never for longer than this, ms. */
const patience = 120

export interface Held {
  readonly oneAxis: boolean
  readonly step: number
}

/**
 * One drag of a corner, from press to release. The pointer is followed at once; the bay as fast as its gaps are
 * computed, so that the ledger goes along instead of being begun anew all the time. All of it is one step back.
 */
export class CornerDrag {
  private readonly store: WindowStore
  private readonly corner: number
  private readonly from: Vec3
  private readonly rig: Rig
  private readonly start: readonly [number, number]
  private readonly visit: number
  /** From before the drag: what giving it up goes back to. */
  private readonly before: History | null
  private readonly shown: (at: Vec3 | null) => void
  private wanted: Vec3
  private given: Vec3
  private last = 0
  private frame = 0

  /**
   * @param start where the pointer went down, pixels
   * @param before the history from before anything was done for this drag
   * @param shown is told where the corner is in the hand; null when the drag is over
   * @param visit of an edit that this drag goes on with: a corner that was just put in
   */
  constructor(
    { store, corner, from, rig }: { store: WindowStore; corner: number; from: Vec3; rig: Rig },
    start: readonly [number, number],
    before: History | null,
    shown: (at: Vec3 | null) => void,
    visit = newVisit(),
  ) {
    this.store = store
    this.corner = corner
    this.from = from
    this.rig = rig
    this.start = start
    this.visit = visit
    this.before = before
    this.shown = shown
    this.wanted = from
    this.given = from
  }

  move(x: number, y: number, held: Held): void {
    this.wanted = dragged(this.from, [x - this.start[0], y - this.start[1]], this.rig, held)
    this.shown(this.wanted)
    this.schedule()
  }

  /** Released: the last place counts. A corner that is back where it was has not been moved. */
  end(): void {
    cancelAnimationFrame(this.frame)
    if (same(this.wanted, this.from) && !same(this.given, this.from)) this.goBack()
    else this.give()
    this.shown(null)
  }

  /** Given up: everything is as it was, and nothing is left to redo. */
  cancel(): void {
    cancelAnimationFrame(this.frame)
    this.goBack()
    this.shown(null)
  }

  private goBack(): void {
    if (this.before && this.store.getState().history !== this.before) takeBack(this.store, this.before)
  }

  private schedule(): void {
    cancelAnimationFrame(this.frame)
    this.frame = requestAnimationFrame(() => {
      const isBusy = this.store.getState().computing !== null
      if (isBusy && performance.now() - this.last < patience) this.schedule()
      else this.give()
    })
  }

  private give(): void {
    if (same(this.wanted, this.given)) return
    this.last = performance.now()
    // A place that the bay refuses (on another corner) is passed over.
    if (moveCorner(this.store, this.corner, this.wanted, this.visit)) this.given = this.wanted
  }
}

const same = (one: Vec3, other: Vec3): boolean => one.every((x, k) => x === other[k])
