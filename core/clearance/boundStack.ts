/** As `BoundQueue`, but what was laid on last is taken first. Grows as needed. */
export class BoundStack {
  size = 0
  /** The pair taken last. */
  first = 0
  second = 0
  bound = 0
  private bounds = new Float64Array(256)
  private nodes = new Int32Array(512)

  clear(): void {
    this.size = 0
  }

  push(bound: number, first: number, second: number): void {
    const at = this.size++
    if (at === this.bounds.length) this.grow()
    this.bounds[at] = bound
    this.nodes[2 * at] = first
    this.nodes[2 * at + 1] = second
  }

  /** Takes the last pair into `first`, `second`, `bound`; false when empty. */
  take(): boolean {
    if (this.size === 0) return false
    const at = --this.size
    this.bound = this.bounds[at]
    this.first = this.nodes[2 * at]
    this.second = this.nodes[2 * at + 1]
    return true
  }

  private grow(): void {
    const [bounds, nodes] = [new Float64Array(2 * this.bounds.length), new Int32Array(2 * this.nodes.length)]
    bounds.set(this.bounds)
    nodes.set(this.nodes)
    this.bounds = bounds
    this.nodes = nodes
  }
}
