/** Best-first queue: pairs of whole numbers with a lower bound each, the least bound taken first. Grows as needed. */
export class BoundQueue {
  size = 0
  /** The pair taken last. */
  first = 0
  second = 0
  bound = 0
  private bounds: Float64Array
  private firsts: Int32Array
  private seconds: Int32Array

  constructor(room = 256) {
    this.bounds = new Float64Array(room)
    this.firsts = new Int32Array(room)
    this.seconds = new Int32Array(room)
  }

  clear(): void {
    this.size = 0
  }

  /** Least bound in the queue; Infinity when empty. */
  least(): number {
    return this.size > 0 ? this.bounds[0] : Infinity
  }

  push(bound: number, first: number, second: number): void {
    if (this.size === this.bounds.length) this.grow()
    const { bounds, firsts, seconds } = this
    let at = this.size++
    while (at > 0) {
      const parent = (at - 1) >> 1
      if (bounds[parent] <= bound) break
      bounds[at] = bounds[parent]
      firsts[at] = firsts[parent]
      seconds[at] = seconds[parent]
      at = parent
    }
    bounds[at] = bound
    firsts[at] = first
    seconds[at] = second
  }

  /** Takes the pair of least bound into `first`, `second`, `bound`; false when empty. */
  take(): boolean {
    if (this.size === 0) return false
    const { bounds, firsts, seconds } = this
    this.bound = bounds[0]
    this.first = firsts[0]
    this.second = seconds[0]
    const last = --this.size
    const bound = bounds[last]
    let at = 0
    for (let child = 1; child < last; child = 2 * at + 1) {
      if (child + 1 < last && bounds[child + 1] < bounds[child]) child++
      if (bounds[child] >= bound) break
      bounds[at] = bounds[child]
      firsts[at] = firsts[child]
      seconds[at] = seconds[child]
      at = child
    }
    bounds[at] = bound
    firsts[at] = firsts[last]
    seconds[at] = seconds[last]
    return true
  }

  private grow(): void {
    const bounds = new Float64Array(2 * this.size)
    bounds.set(this.bounds)
    this.bounds = bounds
    const firsts = new Int32Array(2 * this.size)
    firsts.set(this.firsts)
    this.firsts = firsts
    const seconds = new Int32Array(2 * this.size)
    seconds.set(this.seconds)
    this.seconds = seconds
  }
}
