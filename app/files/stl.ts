import { bad, good, type Outcome } from '../../core/fault.ts'
import { noTriangles, tooManyTriangles, wideText } from './meshFaults.ts'
import type { Importer, RawMesh, ReadLimits } from './rawMesh.ts'
import { readStlText } from './stlText.ts'
import { isWideText } from './textScan.ts'

/*
 * Own reader and not three's STLLoader: that one believes the header's count (a cut file becomes "Offset is outside
 * the bounds of the DataView"), rounds ASCII coordinates to single precision, and takes 'solid' in a binary header
 * for text only by a fixed guess.
 */

const headerBytes = 84
const triangleBytes = 50

export const stl: Importer = {
  name: 'STL',
  extensions: ['stl'],
  sniff: (bytes) => declaredBytes(bytes) === bytes.length || isText(bytes),
  read: readStl,
}

/**
 * Reads a binary or ASCII STL.
 * Binary is what has exactly the length that its count asks for, even when its header begins with 'solid'; ASCII is
 * what begins with 'solid' and holds text. Binary coordinates are single precision: that is the file's own precision.
 * A count that disagrees with the length is refused, since nobody can say which of the two is wrong.
 * Source: 3D Systems, StereoLithography Interface Specification (from memory).
 */
function readStl(bytes: Uint8Array, limits: ReadLimits): Outcome<RawMesh> {
  if (isWideText(bytes)) return wideText()
  if (declaredBytes(bytes) === bytes.length) return readBinary(bytes, limits)
  if (isText(bytes)) return readStlText(bytes, limits)
  if (bytes.length < headerBytes)
    return bad({ code: 'mesh-truncated', expected: `at least ${headerBytes} bytes`, got: `${bytes.length} bytes` })
  return lyingCount(bytes)
}

/** Length that a binary file's count asks for; −1 where there is no count. */
function declaredBytes(bytes: Uint8Array): number {
  if (bytes.length < headerBytes) return -1
  return headerBytes + triangleBytes * view(bytes).getUint32(80, true)
}

function lyingCount(bytes: Uint8Array): Outcome<never> {
  const count = view(bytes).getUint32(80, true)
  const held = (bytes.length - headerBytes) / triangleBytes
  return bad({
    code: count > held ? 'mesh-truncated' : 'mesh-lying-header',
    field: 'header',
    expected: `${declaredBytes(bytes)} bytes for the ${count} triangles that the header counts`,
    got: `${bytes.length} bytes, room for ${Math.floor(held)} triangles`,
  })
}

/** Begins with 'solid' and has none of the bytes that text does not have (a binary count always has a zero byte). */
function isText(bytes: Uint8Array): boolean {
  let i = bytes[0] === 0xef && bytes[1] === 0xbb && bytes[2] === 0xbf ? 3 : 0
  while (i < bytes.length && (bytes[i] === 32 || (bytes[i] >= 9 && bytes[i] <= 13))) i++
  if (String.fromCharCode(...bytes.subarray(i, i + 5)).toLowerCase() !== 'solid') return false
  return bytes.subarray(0, 1024).every((b) => b >= 32 || (b >= 9 && b <= 13))
}

function readBinary(bytes: Uint8Array, limits: ReadLimits): Outcome<RawMesh> {
  const count = view(bytes).getUint32(80, true)
  if (count === 0) return noTriangles('a binary STL that counts 0')
  if (count > limits.triangles) return tooManyTriangles(limits.triangles, count)
  const data = view(bytes)
  const positions = new Float64Array(count * 9)
  // The sum is a cheap sentinel: it can only be finite when every coordinate is (NaN and infinities stick).
  let sentinel = 0
  for (let t = 0, to = 0, from = headerBytes + 12; t < count; t++, from += triangleBytes - 36) {
    for (const last = to + 9; to < last; to++, from += 4) {
      const x = data.getFloat32(from, true)
      sentinel += x * 0
      positions[to] = x
    }
  }
  if (sentinel !== 0) return firstBadCoordinate(positions)
  const triangles = new Uint32Array(count * 3)
  for (let i = 0; i < triangles.length; i++) triangles[i] = i
  return good({ positions, triangles, bentFaces: 0 })
}

function firstBadCoordinate(positions: Float64Array): Outcome<never> {
  const i = positions.findIndex((x) => !Number.isFinite(x))
  const triangle = Math.floor(i / 9) + 1
  const corner = (Math.floor(i / 3) % 3) + 1
  return bad({
    code: 'mesh-not-finite',
    item: `triangle ${triangle}, corner ${corner}`,
    field: 'xyz'[i % 3],
    expected: 'a finite number',
    got: String(positions[i]),
  })
}

const view = (bytes: Uint8Array) => new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength)
