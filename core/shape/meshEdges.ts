/** How the triangles of a mesh meet. */
export interface MeshEdges {
  readonly edges: number
  /** Edges with one triangle. */
  readonly open: number
  /** Edges with more than two triangles. */
  readonly nonManifold: number
  /** Edges whose two triangles run along it the same way. */
  readonly misdirected: number
  /** Component of each triangle, numbered by first appearance; triangles with a common edge are in one. */
  readonly componentOf: Int32Array
  readonly components: number
}

/** Sort keys are vertex × 2^26 + half-edge. Both stay below 2^26 with this many triangles, so keys are exact in a double. */
const keyBase = 2 ** 26
export const mostTriangles = Math.floor(keyBase / 3)

/**
 * Counts the edges of a mesh and what hangs together by them.
 * @param triangles three vertex numbers each, no vertex twice in one; at most `mostTriangles`
 */
export function meshEdges(triangles: Uint32Array, vertices: number): MeshEdges {
  const parent = new Int32Array(triangles.length / 3)
  for (let t = 0; t < parent.length; t++) parent[t] = t
  let [edges, open, nonManifold, misdirected] = [0, 0, 0, 0]
  eachEdge(triangles, vertices, (low, _high, sides, from, to) => {
    edges++
    const first = sides[from]
    for (let i = from + 1; i < to; i++) join(parent, (first / 3) | 0, (sides[i] / 3) | 0)
    if (to === from + 1) open++
    else if (to > from + 2) nonManifold++
    else if ((triangles[first] === low) === (triangles[sides[from + 1]] === low)) misdirected++
  })
  return { edges, open, nonManifold, misdirected, ...numbered(parent) }
}

/** Called for each edge: its lower and higher vertex, and the half-edges on it, `sides[from]` … `sides[to − 1]`. */
type EdgeVisit = (low: number, high: number, sides: Float64Array, from: number, to: number) => void

/**
 * Visits every edge of a mesh once, by its lower, then its higher vertex. Half-edge 3t + k runs from corner k of
 * triangle t to the next. They are put in buckets by their lower vertex and sorted there by the other: no hash table,
 * and a vertex with any number of triangles costs no more than sorting them.
 */
export function eachEdge(triangles: Uint32Array, vertices: number, visit: EdgeVisit): void {
  const { starts, keys } = bucketed(triangles, vertices)
  for (let v = 0; v < vertices; v++) {
    const end = starts[v + 1]
    sortRange(keys, starts[v], end)
    for (let i = starts[v]; i < end; ) {
      const other = Math.floor(keys[i] / keyBase)
      let j = i
      // From here on the place of the key holds its half-edge alone.
      for (; j < end && keys[j] < (other + 1) * keyBase; j++) keys[j] -= other * keyBase
      visit(v, other, keys, i, j)
      i = j
    }
  }
}

/** Keys other vertex × 2^26 + half-edge, in buckets by the lower vertex. Half-edge 3t + k runs from corner k to k + 1. */
function bucketed(triangles: Uint32Array, vertices: number): { starts: Uint32Array; keys: Float64Array } {
  const starts = new Uint32Array(vertices + 1)
  for (let t = 0; t < triangles.length; t += 3) {
    const [a, b, c] = [triangles[t], triangles[t + 1], triangles[t + 2]]
    starts[Math.min(a, b)]++
    starts[Math.min(b, c)]++
    starts[Math.min(c, a)]++
  }
  let sum = 0
  for (let v = 0; v <= vertices; v++) {
    const here = starts[v]
    sum += here
    starts[v] = sum
  }
  const keys = new Float64Array(triangles.length)
  // Filling from the back brings each start to where its bucket begins.
  for (let t = triangles.length - 3; t >= 0; t -= 3) {
    const [a, b, c] = [triangles[t], triangles[t + 1], triangles[t + 2]]
    keys[--starts[Math.min(a, b)]] = Math.max(a, b) * keyBase + t
    keys[--starts[Math.min(b, c)]] = Math.max(b, c) * keyBase + t + 1
    keys[--starts[Math.min(c, a)]] = Math.max(c, a) * keyBase + t + 2
  }
  return { starts, keys }
}

function sortRange(keys: Float64Array, from: number, to: number): void {
  if (to - from > 24) {
    keys.subarray(from, to).sort()
    return
  }
  for (let i = from + 1; i < to; i++) {
    const key = keys[i]
    let j = i - 1
    for (; j >= from && keys[j] > key; j--) keys[j + 1] = keys[j]
    keys[j + 1] = key
  }
}

function root(parent: Int32Array, t: number): number {
  let at = t
  while (parent[at] !== at) {
    parent[at] = parent[parent[at]]
    at = parent[at]
  }
  return at
}

function join(parent: Int32Array, s: number, t: number): void {
  const [a, b] = [root(parent, s), root(parent, t)]
  if (a < b) parent[b] = a
  else parent[a] = b
}

function numbered(parent: Int32Array): { componentOf: Int32Array; components: number } {
  const componentOf = new Int32Array(parent.length)
  let components = 0
  // The root is the component's lowest triangle, so it has its number before any other asks.
  for (let t = 0; t < parent.length; t++) {
    const r = root(parent, t)
    componentOf[t] = r === t ? components++ : componentOf[r]
  }
  return { componentOf, components }
}
