/**
 * Work for the graphics, one piece after the other: none begins before the one before it is drawn. Many calls to the
 * graphics (a new size, a first use of a shader, pixels read back) wait for all that was asked of them before, and the
 * page with them; with nothing before them they answer at once.
 */
export class Turns {
  private readonly drawn: () => Promise<void>
  private last: Promise<void> = Promise.resolve()
  private open = 0

  /** @param drawn resolves when all that was asked of the graphics is drawn, without holding up the page */
  constructor(drawn: () => Promise<void>) {
    this.drawn = drawn
  }

  /** Work is under way or waits for its turn. */
  get isBusy(): boolean {
    return this.open > 0
  }

  /** Resolves when all work so far is drawn. */
  get idle(): Promise<void> {
    return this.last
  }

  /** Does the work in its turn; resolves with what it answers, before that is drawn. */
  take<T>(work: () => T | Promise<T>): Promise<T> {
    this.open++
    const answer = this.last.then(work)
    const done = () => {
      this.open--
    }
    // What goes wrong is told to whoever asked for it; the next one has its turn all the same.
    this.last = answer.then(this.drawn, this.drawn).then(done, done)
    return answer
  }
}
