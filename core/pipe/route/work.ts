import type { Stop } from './problem.ts'

/** Work between two questions, in units of about a microsecond: some ten milliseconds on a slow machine. */
const between = 5000

/**
 * Counts work and asks now and then whether to break off. It asks by work done and not by the clock, so that the same
 * problem is asked about at the same points of the search everywhere.
 */
export class Work {
  /** Why it was broken off; null while it goes on. */
  ended: 'time' | 'cancelled' | null = null
  private readonly stop: Stop
  private done = 0

  constructor(stop: Stop) {
    this.stop = stop
  }

  /** Counts `units` of work, about a microsecond each. True once the search is to end. */
  ends(units: number): boolean {
    this.done += units
    if (this.ended === null && this.done >= between) this.asks()
    return this.ended !== null
  }

  /** Asks at once, for work of unknown length. */
  asks(): boolean {
    this.done = 0
    this.ended ??= this.stop()
    return this.ended !== null
  }
}
