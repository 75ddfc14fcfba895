import type { Io } from './io.ts'

/** What is over before this is not talked about, ms. */
const quietFor = 400
/** Between two rewritings of the line, ms. */
const pause = 100

/**
 * How far a search has come, on stderr. A terminal gets one line that is written over; a file or a pipe a line after 2 s,
 * 4 s, 8 s and so on, so that a log stays short.
 */
export class Progress {
  private readonly begin = performance.now()
  private nextLine = 2000
  private lastShown = -Infinity
  private shown = false
  private readonly io: Io
  private readonly wording: (inHand: number, bound: number) => string
  private readonly stopping: string

  /**
   * @param wording value in hand and bound in words
   * @param stopping what Ctrl-C does
   */
  constructor(io: Io, wording: (inHand: number, bound: number) => string, stopping = 'Ctrl-C takes the best so far') {
    this.io = io
    this.wording = wording
    this.stopping = stopping
  }

  told(inHand: number, bound: number): void {
    const time = performance.now() - this.begin
    if (this.io.rewritableColumns === undefined) this.line(time, inHand, bound)
    else this.rewritten(this.io.rewritableColumns, time, inHand, bound)
  }

  private line(time: number, inHand: number, bound: number): void {
    if (time < this.nextLine) return
    while (this.nextLine <= time) this.nextLine *= 2
    this.io.err(`${seconds(time)}  ${this.wording(inHand, bound)}\n`)
  }

  private rewritten(columns: number, time: number, inHand: number, bound: number): void {
    if (time < quietFor || time - this.lastShown < pause) return
    this.lastShown = time
    this.shown = true
    const text = `${seconds(time)}  ${this.wording(inHand, bound)}  ${this.stopping}`
    this.io.err(`\r${[...text].slice(0, Math.max(columns - 1, 0)).join('')}\u001b[K`)
  }

  /** Takes the line away: what comes now begins at the left. */
  end(): void {
    if (this.shown) this.io.err('\r\u001b[K')
    this.shown = false
  }
}

const seconds = (ms: number): string => `${(ms / 1000).toFixed(1)} s`.padStart(7)
