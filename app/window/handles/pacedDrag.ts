import type { History } from '../state/history.ts'
import { takeBack, type WindowStore } from '../state/windowState.ts'

/** While the worker is busy the next value waits; but never for longer than this, ms. */
const patience = 120

export interface Pace<V> {
  readonly store: WindowStore
  readonly from: V
  /** The history from before anything was done for this drag: what giving it up goes back to. */
  readonly before: History | null
  readonly isSame: (one: V, other: V) => boolean
  /** Puts a value into the bay. @returns whether the bay took it; what it refuses is passed over */
  readonly give: (value: V) => boolean
  /** Is told what is in the hand; null when the drag is over. */
  readonly shown: (value: V | null) => void
}

/**
 * One drag, from press to release. The pointer is followed at once; the bay as fast as its gaps are computed, so that the
 * ledger goes along instead of being begun anew all the time. All of it is one step back.
 */
export class PacedDrag<V> {
  private readonly pace: Pace<V>
  private wanted: V
  private given: V
  private last = 0
  private frame = 0

  constructor(pace: Pace<V>) {
    this.pace = pace
    this.wanted = pace.from
    this.given = pace.from
  }

  move(value: V): void {
    this.wanted = value
    this.schedule()
  }

  /** Released: the last value counts. What is back where it was has not been changed. */
  end(): void {
    cancelAnimationFrame(this.frame)
    const { isSame, from, shown } = this.pace
    if (isSame(this.wanted, from) && !isSame(this.given, from)) this.goBack()
    else this.give()
    shown(null)
  }

  /** Given up: everything is as it was, and nothing is left to redo. */
  cancel(): void {
    cancelAnimationFrame(this.frame)
    this.goBack()
    this.pace.shown(null)
  }

  private goBack(): void {
    const { before, store } = this.pace
    if (before && store.getState().history !== before) takeBack(store, before)
  }

  /** Once a frame, however often the pointer tells where it is. */
  private schedule(): void {
    cancelAnimationFrame(this.frame)
    this.frame = requestAnimationFrame(() => {
      this.pace.shown(this.wanted)
      const isBusy = this.pace.store.getState().computing !== null
      if (isBusy && performance.now() - this.last < patience) this.schedule()
      else this.give()
    })
  }

  private give(): void {
    if (this.pace.isSame(this.wanted, this.given)) return
    this.last = performance.now()
    if (this.pace.give(this.wanted)) this.given = this.wanted
  }
}
