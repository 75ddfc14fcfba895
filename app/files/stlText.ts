import { bad, good, type Outcome } from '../../core/fault.ts'
import { GrowingDoubles } from './growing.ts'
import { noTriangles, tooManyTriangles, unexpectedWord } from './meshFaults.ts'
import type { RawMesh, ReadLimits } from './rawMesh.ts'
import { TextScan } from './textScan.ts'

/**
 * ASCII STL: any number of `solid … endsolid` blocks, words in any case, coordinates in double precision.
 * Normals are passed over unread (some programs write 'nan' there); the corners' order tells the outside.
 * A last `endsolid` is asked for: without it nobody knows that the file is whole.
 */
export function readStlText(bytes: Uint8Array, limits: ReadLimits): Outcome<RawMesh> {
  const scan = new TextScan(bytes)
  const positions = new GrowingDoubles()
  while (scan.wordAnywhere()) {
    if (!scan.is('solid')) return unexpectedWord(scan, "'solid'")
    scan.nextLine()
    const fault = readSolid(scan, positions, limits)
    if (fault) return fault
    // Whatever stands behind 'endsolid' is the solid's name.
    scan.nextLine()
  }
  const count = positions.length / 9
  if (count === 0) return noTriangles('an ASCII STL without a facet')
  const triangles = new Uint32Array(count * 3)
  for (let i = 0; i < triangles.length; i++) triangles[i] = i
  return good({ positions: positions.done(), triangles, bentFaces: 0 })
}

/** Facets up to and with 'endsolid'; null when all is well. */
function readSolid(scan: TextScan, positions: GrowingDoubles, limits: ReadLimits): Outcome<never> | null {
  for (;;) {
    if (!scan.wordAnywhere()) return unexpectedWord(scan, "'facet' or 'endsolid'")
    if (scan.is('endsolid')) return null
    if (!scan.is('facet')) return unexpectedWord(scan, "'facet' or 'endsolid'")
    if (positions.length / 9 >= limits.triangles) return tooManyTriangles(limits.triangles, 'more')
    scan.nextLine()
    const fault = readFacet(scan, positions)
    if (fault) return fault
  }
}

function readFacet(scan: TextScan, positions: GrowingDoubles): Outcome<never> | null {
  const opening = expectWords(scan, 'outer', 'loop')
  if (opening) return opening
  for (let corner = 0; corner < 3; corner++) {
    const fault = expectWords(scan, 'vertex') ?? readCorner(scan, positions)
    if (fault) return fault
  }
  return expectWords(scan, 'endloop', 'endfacet')
}

function readCorner(scan: TextScan, positions: GrowingDoubles): Outcome<never> | null {
  const x = coordinate(scan)
  const y = coordinate(scan)
  const z = coordinate(scan)
  if (typeof x !== 'number') return x
  if (typeof y !== 'number') return y
  if (typeof z !== 'number') return z
  positions.push3(x, y, z)
  return null
}

function coordinate(scan: TextScan): number | Outcome<never> {
  if (!scan.word()) return unexpectedWord(scan, 'three coordinates')
  const value = scan.number()
  if (Number.isFinite(value)) return value
  return bad({ code: 'mesh-not-finite', line: scan.line, expected: 'a finite number', got: scan.text() })
}

function expectWords(scan: TextScan, ...words: string[]): Outcome<never> | null {
  for (const word of words) {
    scan.wordAnywhere()
    if (!scan.is(word)) return unexpectedWord(scan, `'${word}'`)
  }
  return null
}
