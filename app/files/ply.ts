import { bad, good, type Outcome } from '../../core/fault.ts'
import { badIndex, noTriangles, tooManyTriangles, tooManyVertices, truncated, unsupported } from './meshFaults.ts'
import { type PlyElement, type PlyProperty, readPlyHeader } from './plyHeader.ts'
import { type PlyValues, plyTrouble, plyValues } from './plyValues.ts'
import { FaceCutter, mostCorners } from './polygon.ts'
import { type Importer, mostVertices, type RawMesh, type ReadLimits } from './rawMesh.ts'

/*
 * Own reader and not three's PLYLoader: that one fans concave faces, rounds to single precision, and reads on past the
 * end of a cut file.
 */

export const ply: Importer = {
  name: 'PLY',
  extensions: ['ply'],
  sniff: (bytes) => /^ply[\r\n]/.test(String.fromCharCode(...bytes.subarray(0, 4))),
  read: readPly,
}

/** Reads the `vertex` and `face` elements of a PLY, ASCII or binary of either byte order; other elements are passed over. */
function readPly(bytes: Uint8Array, limits: ReadLimits): Outcome<RawMesh> {
  const header = readPlyHeader(bytes)
  if (!header.ok) return header
  const { elements } = header.value
  const faces = elements.findIndex((e) => e.name === 'face')
  const vertices = elements.findIndex((e) => e.name === 'vertex')
  if (vertices < 0) return bad({ code: 'mesh-syntax', field: 'header', expected: "an element 'vertex'", got: 'none' })
  if (faces < 0 || elements[faces].count === 0) return noTriangles("no element 'face'")
  if (faces < vertices) return unsupported('vertices before faces', 'faces before vertices')
  if (elements[vertices].count > mostVertices(limits))
    return tooManyVertices(mostVertices(limits), elements[vertices].count)
  if (elements[faces].count > limits.triangles) return tooManyTriangles(limits.triangles, elements[faces].count)
  const values = plyValues(bytes, header.value)
  for (const element of elements.slice(0, vertices)) passOver(values, element)
  const positions = readVertices(values, elements[vertices])
  if (!positions.ok) return positions
  for (const element of elements.slice(vertices + 1, faces)) passOver(values, element)
  const cut = readFaces(values, elements[faces], positions.value, limits)
  if (!cut.ok) return cut
  if (cut.value.triangles.length === 0) return noTriangles('faces without a triangle')
  return good({ positions: positions.value, triangles: cut.value.triangles.done(), bentFaces: cut.value.bentFaces })
}

function passOver(values: PlyValues, element: PlyElement): void {
  // An element of no properties takes no bytes: its count alone must not keep us turning.
  if (element.properties.length === 0) return
  for (let row = 0; row < element.count && !values.pastEnd; row++)
    for (const property of element.properties) passOne(values, property)
}

function passOne(values: PlyValues, { type, count }: PlyProperty): void {
  const length = count ? values.next(count) : 1
  if (length > 0) values.skip(type, length)
}

function readVertices(values: PlyValues, element: PlyElement): Outcome<Float64Array> {
  const slots = element.properties.map((p) => (p.count ? -1 : ['x', 'y', 'z'].indexOf(p.name)))
  if (![0, 1, 2].every((axis) => slots.filter((s) => s === axis).length === 1))
    return bad({
      code: 'mesh-syntax',
      field: 'header',
      expected: 'vertex properties x, y and z, once each',
      got:
        element.properties
          .map((p) => p.name)
          .join(', ')
          .slice(0, 60) || 'none',
    })
  const room = element.properties.every((p) => values.hasRoom(p.count ?? p.type, element.count))
  if (!room) return truncated(`${element.count} vertices, as the header counts`, 'fewer bytes than that')
  const positions = new Float64Array(element.count * 3)
  for (let row = 0; row < element.count; row++) {
    for (let p = 0; p < slots.length; p++) {
      if (slots[p] < 0) {
        passOne(values, element.properties[p])
        continue
      }
      const value = values.next(element.properties[p].type)
      if (value - value !== 0) return plyTrouble(values, { item: `vertex ${row + 1}`, field: 'xyz'[slots[p]] })
      positions[3 * row + slots[p]] = value
    }
  }
  return good(positions)
}

function readFaces(
  values: PlyValues,
  element: PlyElement,
  positions: Float64Array,
  limits: ReadLimits,
): Outcome<FaceCutter> {
  const corners = element.properties.findIndex(
    (p) => p.count && (p.name === 'vertex_indices' || p.name === 'vertex_index'),
  )
  if (corners < 0)
    return bad({ code: 'mesh-syntax', field: 'header', expected: "face property 'list … vertex_indices'", got: 'none' })
  const vertices = positions.length / 3
  const cutter = new FaceCutter((vertex, axis) => positions[3 * vertex + axis])
  const loop: number[] = []
  for (let row = 0; row < element.count; row++) {
    for (let p = 0; p < element.properties.length; p++) {
      if (p !== corners) {
        passOne(values, element.properties[p])
        continue
      }
      const fault = readLoop(values, element.properties[p], row, vertices, loop)
      if (fault) return fault
    }
    if (!cutter.add(loop))
      return bad({
        code: 'mesh-face-crosses-itself',
        item: `face ${row + 1}`,
        expected: 'a face that does not cross itself',
      })
    if (cutter.triangles.length / 3 > limits.triangles) return tooManyTriangles(limits.triangles, 'more')
  }
  // What stands behind the corners of the last face may be cut off too.
  return values.pastEnd ? plyTrouble(values, { item: `face ${element.count}` }) : good(cutter)
}

/** Corner indices of one face into `loop` (one list for all faces: a new one each would double the time). */
function readLoop(
  values: PlyValues,
  { type, count }: PlyProperty,
  row: number,
  vertices: number,
  loop: number[],
): Outcome<never> | null {
  const item = `face ${row + 1}`
  const length = values.next(count as NonNullable<typeof count>)
  if (Number.isNaN(length)) return plyTrouble(values, { item })
  if (!Number.isInteger(length) || length < 3)
    return bad({ code: 'mesh-syntax', item, expected: 'at least 3 corners', got: length })
  if (length > mostCorners) return unsupported(`at most ${mostCorners} corners a face`, `${length} in ${item}`)
  if (!values.hasRoom(type, length)) return truncated(`${length} corners of ${item}`, 'fewer bytes than that')
  loop.length = length
  for (let i = 0; i < length; i++) {
    const index = values.next(type)
    if (Number.isNaN(index)) return plyTrouble(values, { item })
    if (!Number.isInteger(index) || index < 0 || index >= vertices)
      return badIndex(row + 1, `0 to ${vertices - 1}`, index)
    loop[i] = index
  }
  return null
}
