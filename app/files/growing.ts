/** Number lists that grow by doubling: typed arrays of the right length at the end, without a list of boxed numbers. */
export class GrowingDoubles {
  private items = new Float64Array(3072)
  length = 0

  push3(x: number, y: number, z: number): void {
    if (this.length + 3 > this.items.length) {
      const wider = new Float64Array(this.items.length * 2)
      wider.set(this.items)
      this.items = wider
    }
    this.items[this.length++] = x
    this.items[this.length++] = y
    this.items[this.length++] = z
  }

  get(i: number): number {
    return this.items[i]
  }

  done(): Float64Array {
    return this.items.slice(0, this.length)
  }
}

export class GrowingIndices {
  private items = new Uint32Array(3072)
  length = 0

  push3(a: number, b: number, c: number): void {
    if (this.length + 3 > this.items.length) {
      const wider = new Uint32Array(this.items.length * 2)
      wider.set(this.items)
      this.items = wider
    }
    this.items[this.length++] = a
    this.items[this.length++] = b
    this.items[this.length++] = c
  }

  done(): Uint32Array {
    return this.items.slice(0, this.length)
  }
}
