import { Sweeps } from './sweeps.ts'

export type Stop = () => 'time' | 'cancelled' | null

/** Asked for whether to stop only once in so many queries: asking may cost more than a query. */
const between = 512

/** What a search may still do, counted in distance queries so that the same bay gives the same path everywhere. */
export class Work {
  readonly sweeps = new Sweeps()
  stopped: 'time' | 'cancelled' | null = null
  private readonly most: number
  private readonly stop: Stop
  private readonly told: (share: number) => void
  private asked = 0
  /** Work besides queries: nodes looked through. */
  private aside = 0

  constructor(most: number, stop: Stop = () => null, told: (share: number) => void = () => {}) {
    this.most = most
    this.stop = stop
    this.told = told
  }

  get done(): number {
    return this.sweeps.queries + Math.floor(this.aside)
  }

  /** Nodes looked through count as a share of a query each: else a large tree would cost time and no work. */
  look(nodes: number): void {
    this.aside += nodes / 60
  }

  get left(): number {
    return Math.max(0, this.most - this.done)
  }

  /** Whether the search has to end before this much work is done in all. */
  isOver(until = this.most): boolean {
    const { done } = this
    if (done - this.asked >= between) {
      this.asked = done
      this.told(Math.min(1, done / this.most))
      this.stopped ??= this.stop()
    }
    return this.stopped !== null || done >= until || done >= this.most
  }
}

/** Seeded numbers 0 … 1. Mulberry32, public domain, by T. Ettinger; from memory. */
export function chances(seed: number): () => number {
  let state = seed >>> 0
  return () => {
    state = (state + 0x6d2b79f5) >>> 0
    let t = state
    t = Math.imul(t ^ (t >>> 15), t | 1)
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61)
    return ((t ^ (t >>> 14)) >>> 0) / 2 ** 32
  }
}
