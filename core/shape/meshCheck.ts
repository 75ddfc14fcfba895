import { orient2d } from 'robust-predicates'
import { bad, type Fault, good, type Outcome } from '../fault.ts'
import { pointBounds } from './bounds.ts'
import type { Bounds } from './form.ts'
import { surfaceMeasure } from './measure.ts'
import { mergeVertices } from './mergeVertices.ts'
import type { Mesh } from './mesh.ts'
import { meshEdges, mostTriangles } from './meshEdges.ts'
import { componentsToTurn, componentVolumes } from './meshOrient.ts'

/** What was found in a mesh and done to it; plain data. Lengths in the mesh's own unit. */
export interface MeshReport {
  readonly triangles: number
  readonly vertices: number
  /** Given vertices that were equal to another, and such that no triangle uses. */
  readonly mergedVertices: number
  readonly unusedVertices: number
  /** Triangles left out: a corner twice (after merging), or three corners exactly on a line. */
  readonly dropped: { readonly repeatedCorner: number; readonly zeroArea: number }
  readonly edges: number
  readonly openEdges: number
  readonly nonManifoldEdges: number
  /** Edges whose two triangles are not wound alike. */
  readonly misdirectedEdges: number
  /** Parts that hang together by edges. */
  readonly components: number
  /** Vertices − edges + triangles. */
  readonly eulerCharacteristic: number
  readonly closed: boolean
  /** Components of a closed mesh that faced inward and were turned round. */
  readonly turnedBack: number
  /** Components of a closed mesh that face inward because they are cavities. */
  readonly cavities: number
  readonly bounds: Bounds
  readonly area: number
  /** Of the solid; null where the mesh is not closed. */
  readonly volume: number | null
}

export interface MeshLimits {
  readonly triangles: number
  /** Largest coordinate, in the mesh's own unit. */
  readonly reach: number
}

export const defaultMeshLimits: MeshLimits = { triangles: 20_000_000, reach: 1e10 }

/**
 * Makes a mesh that the rest of the program can rely on from whatever a file held.
 * @param positions x, y, z after each other, any number of repeats; not changed
 * @param triangles three vertex numbers each; null: the positions are triangles one after the other
 * @returns the merged mesh, and what was found. Open and non-manifold meshes are no fault: they are shells.
 * Faults: 'mesh-empty' (no triangle, or none left), 'not-finite' (got: vertex number), 'coordinate-too-large',
 * 'index-out-of-range' (got: triangle and vertex number), 'incomplete-triangle', 'too-many-triangles'.
 * "On a line" is exact down to coordinates of about 1e-140, where products underflow.
 */
export function checkMesh(
  positions: Float64Array,
  triangles: Uint32Array | null,
  limits: MeshLimits = defaultMeshLimits,
): Outcome<{ readonly mesh: Mesh; readonly report: MeshReport }> {
  const given = triangles ?? Uint32Array.from({ length: Math.floor(positions.length / 3) }, (_, i) => i)
  const fault = firstFault(positions, given, limits)
  if (fault) return bad(fault)

  const merged = mergeVertices(positions)
  const kept = keptTriangles(merged.positions, given, merged.numbers)
  if (kept.triangles.length === 0)
    return bad({
      code: 'mesh-empty',
      expected: 'a triangle with an area',
      got: { triangles: given.length / 3, ...kept.dropped },
    })
  const used = onlyUsed(merged.positions, kept.triangles)
  const found = meshEdges(used.triangles, used.positions.length / 3)
  // Where triangles without area were left out, what they joined is judged with them in place: a cut along a line exactly
  // on the surface opens nothing. What is kept stays first, so that its components can be taken over.
  const sealed =
    kept.flat.length > 0 && !isSealed(found)
      ? meshEdges(joined(kept.triangles, kept.flat), merged.positions.length / 3)
      : found
  const closed = isSealed(sealed)
  const componentOf = sealed.componentOf.subarray(0, used.triangles.length / 3)
  const solid = closed ? turnedOutside(used, componentOf, sealed.components) : null

  const vertices = used.positions.length / 3
  const told = closed ? sealed : found
  const faces = used.triangles.length / 3 + (told === found ? 0 : kept.flat.length / 3)
  const report: MeshReport = {
    triangles: used.triangles.length / 3,
    vertices,
    mergedVertices: (positions.length - merged.positions.length) / 3,
    unusedVertices: merged.positions.length / 3 - vertices,
    dropped: kept.dropped,
    edges: told.edges,
    openEdges: told.open,
    nonManifoldEdges: told.nonManifold,
    misdirectedEdges: told.misdirected,
    components: told.components,
    eulerCharacteristic: vertices - told.edges + faces,
    closed,
    turnedBack: solid?.turnedBack ?? 0,
    cavities: solid?.cavities ?? 0,
    bounds: pointBounds(used.positions),
    area: surfaceMeasure(used.positions, used.triangles).area,
    volume: solid?.volume ?? null,
  }
  return good({ mesh: { ...used, closed }, report })
}

const isSealed = ({ open, nonManifold, misdirected }: ReturnType<typeof meshEdges>): boolean =>
  open + nonManifold + misdirected === 0

function joined(a: Uint32Array, b: Uint32Array): Uint32Array {
  const all = new Uint32Array(a.length + b.length)
  all.set(a)
  all.set(b, a.length)
  return all
}

interface Triangles {
  readonly positions: Float64Array
  readonly triangles: Uint32Array
}

function firstFault(positions: Float64Array, triangles: Uint32Array, limits: MeshLimits): Fault | null {
  const most = Math.min(limits.triangles, mostTriangles)
  if (triangles.length === 0) return { code: 'mesh-empty', expected: 'at least one triangle', got: 0 }
  if (triangles.length % 3 !== 0 || positions.length % 3 !== 0)
    return {
      code: 'incomplete-triangle',
      expected: 'three numbers a vertex, three vertices a triangle',
      got: triangles.length,
    }
  if (triangles.length / 3 > most)
    return { code: 'too-many-triangles', expected: `at most ${most}`, got: triangles.length / 3 }
  for (let i = 0; i < positions.length; i++) {
    if (Math.abs(positions[i]) <= limits.reach) continue
    const got = { vertex: Math.floor(i / 3), value: String(positions[i]) }
    if (!Number.isFinite(positions[i])) return { code: 'not-finite', expected: 'finite coordinates', got }
    return { code: 'coordinate-too-large', expected: `coordinates within ${limits.reach}`, got }
  }
  const vertices = positions.length / 3
  for (let i = 0; i < triangles.length; i++)
    if (triangles[i] >= vertices) {
      const got = { triangle: Math.floor(i / 3), vertex: triangles[i] }
      return { code: 'index-out-of-range', expected: `vertex numbers below ${vertices}`, got }
    }
  return null
}

function keptTriangles(positions: Float64Array, given: Uint32Array, numbers: Uint32Array) {
  const triangles = new Uint32Array(given.length)
  const dropped = { repeatedCorner: 0, zeroArea: 0 }
  const flat: number[] = []
  let n = 0
  for (let i = 0; i < given.length; i += 3) {
    const [a, b, c] = [numbers[given[i]], numbers[given[i + 1]], numbers[given[i + 2]]]
    if (a === b || b === c || c === a) dropped.repeatedCorner++
    else if (onLine(positions, 3 * a, 3 * b, 3 * c)) {
      dropped.zeroArea++
      flat.push(a, b, c)
    } else {
      triangles[n] = a
      triangles[n + 1] = b
      triangles[n + 2] = c
      n += 3
    }
  }
  return { triangles: triangles.subarray(0, n), flat: Uint32Array.from(flat), dropped }
}

/** Whether three points lie exactly on a line. A rounded cross product well clear of its error settles nearly all. */
function onLine(p: Float64Array, a: number, b: number, c: number): boolean {
  const [ux, uy, uz] = [p[b] - p[a], p[b + 1] - p[a + 1], p[b + 2] - p[a + 2]]
  const [vx, vy, vz] = [p[c] - p[a], p[c + 1] - p[a + 1], p[c + 2] - p[a + 2]]
  // Four roundings stand behind each component: 8 ulps of its terms are more than its error.
  if (clearOfZero(uy * vz, uz * vy) || clearOfZero(uz * vx, ux * vz) || clearOfZero(ux * vy, uy * vx)) return false
  return (
    orient2d(p[a], p[a + 1], p[b], p[b + 1], p[c], p[c + 1]) === 0 &&
    orient2d(p[a + 1], p[a + 2], p[b + 1], p[b + 2], p[c + 1], p[c + 2]) === 0 &&
    orient2d(p[a], p[a + 2], p[b], p[b + 2], p[c], p[c + 2]) === 0
  )
}

const clearOfZero = (x: number, y: number): boolean =>
  Math.abs(x - y) > 8 * Number.EPSILON * (Math.abs(x) + Math.abs(y)) && Math.abs(x - y) > 1e-280

/** Drops vertices that no triangle uses; the rest keep their order. */
function onlyUsed(positions: Float64Array, triangles: Uint32Array): Triangles {
  const numbers = new Int32Array(positions.length / 3).fill(-1)
  for (let i = 0; i < triangles.length; i++) numbers[triangles[i]] = 0
  let n = 0
  for (let v = 0; v < numbers.length; v++) if (numbers[v] === 0) numbers[v] = n++
  if (n === numbers.length) return { positions, triangles: triangles.slice() }
  const kept = new Float64Array(3 * n)
  for (let v = 0; v < numbers.length; v++)
    if (numbers[v] >= 0) for (let k = 0; k < 3; k++) kept[3 * numbers[v] + k] = positions[3 * v + k]
  return { positions: kept, triangles: triangles.map((v) => numbers[v]) }
}

/** Turns the components of a closed mesh that face inward without being cavities, in place. */
function turnedOutside({ positions, triangles }: Triangles, componentOf: Int32Array, components: number) {
  const volumes = componentVolumes(positions, triangles, componentOf, components)
  const turn = componentsToTurn(positions, triangles, componentOf, volumes)
  for (let t = 0; t < componentOf.length; t++) {
    if (!turn[componentOf[t]]) continue
    const second = triangles[3 * t + 1]
    triangles[3 * t + 1] = triangles[3 * t + 2]
    triangles[3 * t + 2] = second
  }
  const faced = volumes.map((v, part) => (turn[part] ? -v : v))
  return {
    volume: faced.reduce((sum, v) => sum + v, 0),
    turnedBack: turn.reduce((sum, is) => sum + is, 0),
    cavities: faced.filter((v) => v < 0).length,
  }
}
