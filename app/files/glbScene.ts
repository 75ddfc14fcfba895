import { bad, good, type Outcome } from '../../core/fault.ts'
import { readElements } from './glbAccessor.ts'
import type { GlbJson, GlbNode, GlbPrimitive } from './glbJson.ts'
import { determinant3, identity4, nodeMatrix, product4, times, type Matrix4 } from './glbMatrix.ts'
import { badIndex, noTriangles, tooManyTriangles, tooManyVertices, unsupported } from './meshFaults.ts'
import { mostVertices, type RawMesh, type ReadLimits } from './rawMesh.ts'

interface Piece {
  readonly positions: Float64Array
  readonly triangles: Uint32Array
}
interface Standing {
  readonly node: number
  readonly matrix: Matrix4
}

/** Walks the default scene (or, without scenes, every node that is no child) and joins its triangles. */
export function collectTriangles(json: GlbJson, bin: Uint8Array, limits: ReadLimits): Outcome<RawMesh> {
  const standing = placedNodes(json)
  if (!standing.ok) return standing
  const pieces: Piece[] = []
  let triangles = 0
  let vertices = 0
  for (const { node, matrix } of standing.value) {
    const mesh = (json.nodes as GlbNode[])[node].mesh
    if (mesh === undefined) continue
    for (const primitive of json.meshes?.[mesh]?.primitives ?? []) {
      const piece = readPrimitive(json, bin, primitive, `meshes[${mesh}]`, limits)
      if (!piece.ok) return piece
      if (!piece.value) continue
      triangles += piece.value.triangles.length / 3
      vertices += piece.value.positions.length / 3
      if (triangles > limits.triangles) return tooManyTriangles(limits.triangles, 'more')
      if (vertices > mostVertices(limits)) return tooManyVertices(mostVertices(limits), 'more')
      const moved = place(piece.value, matrix)
      if (!moved)
        return bad({
          code: 'mesh-not-finite',
          field: `nodes[${node}]`,
          expected: 'finite coordinates after the node’s transform',
          got: 'an overflow',
        })
      pieces.push(moved)
    }
  }
  return triangles === 0 ? noTriangles('no mesh with triangles in the scene') : good(join(pieces, vertices, triangles))
}

/** Nodes of the scene with their transforms to it. The standard asks for a tree: a node met twice is refused. */
function placedNodes(json: GlbJson): Outcome<Standing[]> {
  const nodes = json.nodes ?? []
  const children = new Set(nodes.flatMap((n) => n.children ?? []))
  const roots = json.scenes?.length
    ? (json.scenes[json.scene ?? 0]?.nodes ?? [])
    : nodes.map((_, i) => i).filter((i) => !children.has(i))
  const met = new Set<number>()
  const found: Standing[] = []
  const waiting: Standing[] = roots.map((node) => ({ node, matrix: identity4 })).reverse()
  for (let next = waiting.pop(); next; next = waiting.pop()) {
    const node = nodes[next.node]
    const field = `nodes[${next.node}]`
    if (!node)
      return bad({ code: 'mesh-syntax', field, expected: `a node from 0 to ${nodes.length - 1}`, got: next.node })
    if (met.has(next.node))
      return bad({
        code: 'mesh-syntax',
        field,
        expected: 'a tree of nodes',
        got: 'a node with two parents or inside itself',
      })
    met.add(next.node)
    if (node.skin !== undefined) return unsupported('a rigid mesh', `a skin on ${field}`)
    if (node.extensions && 'EXT_mesh_gpu_instancing' in node.extensions)
      return unsupported('one place a node', `instances on ${field}`)
    if (node.mesh !== undefined && !json.meshes?.[node.mesh])
      return bad({ code: 'mesh-syntax', field: `${field}.mesh`, expected: 'a mesh of the file', got: node.mesh })
    const matrix = product4(next.matrix, nodeMatrix(node))
    found.push({ node: next.node, matrix })
    for (const child of [...(node.children ?? [])].reverse()) waiting.push({ node: child, matrix })
  }
  return good(found)
}

/** Triangles of one primitive in its own frame; null for points and lines. */
function readPrimitive(
  json: GlbJson,
  bin: Uint8Array,
  primitive: GlbPrimitive,
  where: string,
  limits: ReadLimits,
): Outcome<Piece | null> {
  const mode = primitive.mode ?? 4
  if (mode < 4) return good(null)
  if (mode > 4) return unsupported('separate triangles (mode 4)', `mode ${mode} in ${where}`)
  if (primitive.targets?.length) return unsupported('a rigid mesh', `morph targets in ${where}`)
  const accessor = primitive.attributes.POSITION
  if (accessor === undefined) return good(null)
  const positions = readElements(json, bin, accessor, 'VEC3', mostVertices(limits))
  if (!positions.ok) return positions
  const vertices = positions.value.length / 3
  const corners =
    primitive.indices === undefined
      ? count(vertices)
      : readElements(json, bin, primitive.indices, 'SCALAR', 3 * limits.triangles)
  if (!corners.ok) return corners
  const { value } = corners
  if (value.length % 3 !== 0)
    return bad({ code: 'mesh-syntax', field: where, expected: 'a count of corners that 3 divides', got: value.length })
  const triangles = new Uint32Array(value.length)
  for (let i = 0; i < value.length; i++) {
    if (!(value[i] >= 0 && value[i] < vertices))
      return badIndex(Math.floor(i / 3) + 1, `0 to ${vertices - 1} in ${where}`, value[i])
    triangles[i] = value[i]
  }
  return good({ positions: positions.value, triangles })
}

const count = (n: number): Outcome<Float64Array> => good(Float64Array.from({ length: n }, (_, i) => i))

/** Null where the transform carries a coordinate out of all bounds. */
function place(piece: Piece, matrix: Matrix4): Piece | null {
  const positions = new Float64Array(piece.positions.length)
  for (let i = 0; i < positions.length; i += 3) {
    const p = times(matrix, piece.positions[i], piece.positions[i + 1], piece.positions[i + 2])
    if (!p.every(Number.isFinite)) return null
    positions.set(p, i)
  }
  const triangles = piece.triangles.slice()
  // A transform that mirrors turns the winding round; the standard says to turn it back.
  if (determinant3(matrix) < 0)
    for (let t = 0; t < triangles.length; t += 3)
      [triangles[t + 1], triangles[t + 2]] = [triangles[t + 2], triangles[t + 1]]
  return { positions, triangles }
}

function join(pieces: readonly Piece[], vertices: number, triangles: number): RawMesh {
  const joined = { positions: new Float64Array(vertices * 3), triangles: new Uint32Array(triangles * 3), bentFaces: 0 }
  let atVertex = 0
  let atCorner = 0
  for (const piece of pieces) {
    joined.positions.set(piece.positions, atVertex * 3)
    for (const corner of piece.triangles) joined.triangles[atCorner++] = corner + atVertex
    atVertex += piece.positions.length / 3
  }
  return joined
}
