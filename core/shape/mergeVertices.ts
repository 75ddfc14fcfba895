/** Vertices without repeats, and for each given vertex the number it now has. */
export interface MergedVertices {
  readonly positions: Float64Array
  readonly numbers: Uint32Array
}

/**
 * Gives equal vertices one number, in order of first appearance. Equal means the same three doubles; −0 equals 0.
 * @param given x, y, z after each other, finite
 * A hash table in typed arrays: three million corners of a triangle soup take a fraction of a second, where objects
 * or string keys take several. The table grows with the vertices found, so that it stays in the cache.
 */
export function mergeVertices(given: Float64Array): MergedVertices {
  const count = given.length / 3
  const numbers = new Uint32Array(count)
  // Adding 0 turns −0 into 0, so that equal numbers have equal bits.
  const clean = new Float64Array(given.length)
  for (let i = 0; i < clean.length; i++) clean[i] = given[i] + 0
  const bits = new Uint32Array(clean.buffer)

  let hashes = new Uint32Array(Math.max(16, count >> 2))
  let table = new Int32Array(tableSize(count >> 2)).fill(-1)
  let found = 0
  for (let i = 0; i < count; i++) {
    const hash = hashOf(bits, 6 * i)
    let slot = hash & (table.length - 1)
    let same = -1
    while (table[slot] >= 0) {
      const other = table[slot]
      if (hashes[other] === hash && samePoint(clean, other, i)) {
        same = other
        break
      }
      slot = (slot + 1) & (table.length - 1)
    }
    if (same >= 0) {
      numbers[i] = same
      continue
    }
    if (found === hashes.length) hashes = grown(hashes)
    hashes[found] = hash
    // Found vertices move to the front of the same array: a vertex never moves over one not yet read.
    clean[3 * found] = clean[3 * i]
    clean[3 * found + 1] = clean[3 * i + 1]
    clean[3 * found + 2] = clean[3 * i + 2]
    table[slot] = found
    numbers[i] = found++
    if (2 * found > table.length) table = rehashed(hashes, found, 2 * table.length)
  }
  return { positions: clean.slice(0, 3 * found), numbers }
}

function samePoint(points: Float64Array, a: number, b: number): boolean {
  return (
    points[3 * a] === points[3 * b] &&
    points[3 * a + 1] === points[3 * b + 1] &&
    points[3 * a + 2] === points[3 * b + 2]
  )
}

function tableSize(vertices: number): number {
  let size = 1024
  while (size < 2 * vertices) size *= 2
  return size
}

function grown(array: Uint32Array): Uint32Array<ArrayBuffer> {
  const larger = new Uint32Array(2 * array.length)
  larger.set(array)
  return larger
}

function rehashed(hashes: Uint32Array, found: number, size: number): Int32Array<ArrayBuffer> {
  const table = new Int32Array(size).fill(-1)
  for (let i = 0; i < found; i++) {
    let slot = hashes[i] & (size - 1)
    while (table[slot] >= 0) slot = (slot + 1) & (size - 1)
    table[slot] = i
  }
  return table
}

/** Mixes six words. Multipliers are odd, with bits all over; the end is the usual shift-and-multiply avalanche. */
function hashOf(bits: Uint32Array, o: number): number {
  let h = Math.imul(bits[o], 0x9e3779b1) ^ Math.imul(bits[o + 1], 0x85ebca77)
  h = Math.imul(h ^ (h >>> 15), 0x2c1b3c6d)
  h ^= Math.imul(bits[o + 2], 0xc2b2ae3d) ^ Math.imul(bits[o + 3], 0x27d4eb2f)
  h = Math.imul(h ^ (h >>> 13), 0x297a2d39)
  h ^= Math.imul(bits[o + 4], 0x165667b1) ^ Math.imul(bits[o + 5], 0x9e3779b1)
  h = Math.imul(h ^ (h >>> 16), 0x85ebca6b)
  h = Math.imul(h ^ (h >>> 13), 0xc2b2ae35)
  return (h ^ (h >>> 16)) >>> 0
}
