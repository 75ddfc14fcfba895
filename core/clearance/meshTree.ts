import { BufferAttribute, BufferGeometry } from 'three'
import { CENTER, MeshBVH, SAH } from 'three-mesh-bvh'
import type { Mesh } from '../shape/mesh.ts'
import type { Vec3 } from '../shape/vec.ts'

/**
 * Tree of axis-aligned boxes over a mesh's triangles, in the tree's own frame: the mesh's frame less `centre`, so that
 * coordinates are small. Node 0 is the root; the left child of an inner node is the next one.
 */
export interface MeshTree {
  readonly mesh: Mesh
  readonly quality: TreeQuality
  /** Middle of the mesh's bounds, mesh frame, mm. */
  readonly centre: Vec3
  /** Largest coordinate in the tree's frame, mm. */
  readonly reach: number
  /** x, y, z after each other, mm; order of `mesh.positions`. */
  readonly positions: Float64Array
  /** Three vertex numbers a triangle, in the tree's order: a leaf's triangles follow each other. */
  readonly corners: Uint32Array
  /** Six numbers a node: least x, y, z, greatest x, y, z. Exact: nothing is rounded inwards or outwards. */
  readonly boxes: Float64Array
  /** Inner node: number of its right child. Leaf: −1. */
  readonly right: Int32Array
  /** Leaf: its first triangle in `corners`. */
  readonly first: Int32Array
  /** Leaf: how many triangles. Inner node: 0. */
  readonly count: Int32Array
}

/** 'quick' is built four times faster, 'good' answers up to 1.6 times faster; both answer the same. */
export type TreeQuality = 'quick' | 'good'

const trees = new WeakMap<Mesh, MeshTree>()
/** Above this many triangles the first tree is a quick one; a better one can be asked for later. */
const quickAbove = 200_000

/**
 * The tree of a mesh, built at the first asking and kept as long as the mesh is.
 * @param quality default: 'good' for meshes of up to 200,000 triangles, else 'quick'. A tree that is there already is taken
 * unless 'good' is asked for and it is not.
 */
export function meshTree(mesh: Mesh, quality?: TreeQuality): MeshTree {
  const known = trees.get(mesh)
  if (known && (quality !== 'good' || known.quality === 'good')) return known
  const built = buildTree(mesh, quality ?? (mesh.triangles.length / 3 > quickAbove ? 'quick' : 'good'))
  trees.set(mesh, built)
  return built
}

/**
 * Puts a good tree in the place of a quick one: for when nobody waits, 1.3 s a million triangles.
 * @returns whether there was something to better
 */
export function improveTree(mesh: Mesh): boolean {
  if (trees.get(mesh)?.quality === 'good') return false
  meshTree(mesh, 'good')
  return true
}

/**
 * The library ends a branch where no split pays or at 40 levels, whatever is left: with many triangles that lie over each
 * other, leaves of thousands, and beyond 65,535 its packed count overflows unseen. The strict size, an option it keeps
 * to itself, goes on by halves; depth is then bounded by the numbers, not by a level.
 */
const leafRule = { _strictLeafSize: 16, maxDepth: 1000 }
const good = { strategy: SAH, targetLeafSize: 4 } as const
const quick = { strategy: CENTER, targetLeafSize: 10 } as const

function buildTree(mesh: Mesh, quality: TreeQuality): MeshTree {
  if (mesh.triangles.length === 0) throw new Error('a mesh without triangles has no tree')
  const centre = middle(mesh.positions)
  const positions = new Float64Array(mesh.positions.length)
  let reach = 0
  for (let k = 0; k < 3; k++)
    for (let i = k; i < positions.length; i += 3) {
      positions[i] = mesh.positions[i] - centre[k]
      reach = Math.max(reach, Math.abs(positions[i]))
    }
  const geometry = new BufferGeometry()
  geometry.setAttribute('position', new BufferAttribute(positions, 3))
  // The library sorts the index it is given: it gets a copy, the mesh stays as it is.
  const corners = mesh.triangles.slice()
  geometry.setIndex(new BufferAttribute(corners, 1))
  const library = new MeshBVH(geometry, { ...leafRule, ...(quality === 'good' ? good : quick) })
  const nodes = unpacked((library as unknown as { _roots: ArrayBuffer[] })._roots)
  const held = nodes.count.reduce((sum, count) => sum + count, 0)
  if (held !== corners.length / 3) throw new Error(`a tree of ${held} triangles over ${corners.length / 3}`)
  return { mesh, quality, centre, reach, positions, corners, boxes: nodeBoxes(nodes, positions, corners), ...nodes }
}

function middle(positions: Float64Array): Vec3 {
  const low = [Infinity, Infinity, Infinity]
  const high = [-Infinity, -Infinity, -Infinity]
  for (let i = 0; i < positions.length; i += 3)
    for (let k = 0; k < 3; k++) {
      const x = positions[i + k]
      if (x < low[k]) low[k] = x
      if (x > high[k]) high[k] = x
    }
  // Whole millimetres: subtracting them loses nothing where the mesh's own numbers have room for them.
  return [0, 1, 2].map((k) => Math.round(low[k] / 2 + high[k] / 2)) as unknown as Vec3
}

interface Nodes {
  readonly right: Int32Array
  readonly first: Int32Array
  readonly count: Int32Array
}

const wordsPerNode = 8
const leafMark = 0xffff

/**
 * Topology out of the library's packed nodes (32 bytes: six float bounds; word 6: first triangle of a leaf, or distance
 * to the right child in nodes; half word 14: triangles of a leaf; half word 15: leaf mark). This layout is internal to
 * three-mesh-bvh 0.9.17, hence the pinned version and the test that every triangle is met once. Its single-precision
 * bounds are not taken over.
 */
function unpacked(roots: readonly ArrayBuffer[]): Nodes {
  if (roots.length !== 1) throw new Error(`a tree of one root was expected, not ${roots.length}`)
  const words = new Uint32Array(roots[0])
  const halves = new Uint16Array(roots[0])
  const n = words.length / wordsPerNode
  const right = new Int32Array(n)
  const first = new Int32Array(n)
  const count = new Int32Array(n)
  for (let node = 0; node < n; node++) {
    const word = node * wordsPerNode
    if (halves[2 * word + 15] === leafMark) {
      right[node] = -1
      first[node] = words[word + 6]
      count[node] = halves[2 * word + 14]
    } else right[node] = node + words[word + 6]
  }
  return { right, first, count }
}

/** Children come after their parent, so one pass from the back meets them first. */
function nodeBoxes({ right, first, count }: Nodes, positions: Float64Array, corners: Uint32Array): Float64Array {
  const boxes = new Float64Array(6 * right.length)
  for (let node = right.length - 1; node >= 0; node--) {
    const at = 6 * node
    boxes.fill(Infinity, at, at + 3)
    boxes.fill(-Infinity, at + 3, at + 6)
    if (right[node] < 0) {
      for (let i = 3 * first[node]; i < 3 * (first[node] + count[node]); i++)
        growByVertex(boxes, at, positions, 3 * corners[i])
    } else {
      growByBox(boxes, at, at + 6)
      growByBox(boxes, at, 6 * right[node])
    }
  }
  return boxes
}

function growByVertex(boxes: Float64Array, at: number, positions: Float64Array, vertex: number): void {
  for (let k = 0; k < 3; k++) {
    const x = positions[vertex + k]
    if (x < boxes[at + k]) boxes[at + k] = x
    if (x > boxes[at + 3 + k]) boxes[at + 3 + k] = x
  }
}

function growByBox(boxes: Float64Array, at: number, from: number): void {
  for (let k = 0; k < 3; k++) {
    if (boxes[from + k] < boxes[at + k]) boxes[at + k] = boxes[from + k]
    if (boxes[from + 3 + k] > boxes[at + 3 + k]) boxes[at + 3 + k] = boxes[from + 3 + k]
  }
}
