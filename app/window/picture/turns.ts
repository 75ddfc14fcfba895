/**
 * Work for the graphics, one piece after the other: none begins before the one before it is drawn. Many calls to the
 * graphics (a new size, a first use of a shader, pixels read back) wait for all that was asked of them before; with
 * nothing before them they answer at once. Meanwhile newer wishes of the page can come in.
 */
export class Turns {
  private readonly drawn: () => Promise<void>
  private last: Promise<void> = Promise.resolve()

  /** @param drawn resolves when all that was asked of the graphics is drawn, without holding up what else is asked */
  constructor(drawn: () => Promise<void>) {
    this.drawn = drawn
  }

  /** Does the work in its turn; resolves with what it answers, before that is drawn. */
  take<T>(work: () => T | Promise<T>): Promise<T> {
    const answer = this.last.then(work)
    // What goes wrong is told to whoever asked for it; the next one has its turn all the same.
    this.last = answer.then(this.drawn, this.drawn).catch(() => {})
    return answer
  }
}
