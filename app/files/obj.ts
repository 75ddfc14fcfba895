import { bad, good, type Outcome } from '../../core/fault.ts'
import { GrowingDoubles } from './growing.ts'
import {
  badIndex,
  noTriangles,
  notFinite,
  tooManyTriangles,
  tooManyVertices,
  unexpectedWord,
  unsupported,
  wideText,
} from './meshFaults.ts'
import { FaceCutter, mostCorners } from './polygon.ts'
import { type Importer, mostVertices, type RawMesh, type ReadLimits } from './rawMesh.ts'
import { isWideText, TextScan, wholeNumber } from './textScan.ts'

/*
 * Own reader and not three's OBJLoader: that one turns a bad index or 'nan' into NaN positions without an error, fans
 * concave faces, rounds to single precision, and takes five times as long.
 */

/** Statements that carry no surface: looks, names, groups, points and lines. */
const passedOver = [
  ...['vt', 'vn', 'vp', 'g', 'o', 's', 'mg', 'p', 'l', 'usemtl', 'mtllib', 'usemap', 'maplib'],
  ...['lod', 'bevel', 'c_interp', 'd_interp', 'shadow_obj', 'trace_obj'],
]
/** Statements that carry a surface which is not made of faces, or bring in another file. */
const refused = ['cstype', 'curv', 'curv2', 'surf', 'deg', 'bmat', 'step', 'parm', 'trim', 'hole', 'scrv', 'sp', 'con']
const otherFiles = ['call', 'csh']

export const obj: Importer = {
  name: 'OBJ',
  extensions: ['obj'],
  sniff(bytes) {
    const scan = new TextScan(bytes.subarray(0, 4096))
    while (scan.wordAnywhere() && bytes[scan.start] === 35) scan.nextLine()
    return ['v', 'vn', 'vt', 'o', 'g', 'mtllib', 'usemtl'].some((word) => scan.is(word))
  },
  read: readObj,
}

/**
 * Reads the polygons of an OBJ: `v` and `f` with 1-based or negative indices, `\` at a line's end joining lines.
 * The format has no end mark and no counts, so a file cut between two statements cannot be told from a whole one;
 * the mesh's report then shows it open.
 * Source: B. Maki, Object Files (.obj), the format's public description (from memory).
 */
function readObj(bytes: Uint8Array, limits: ReadLimits): Outcome<RawMesh> {
  if (isWideText(bytes)) return wideText()
  const reader = new ObjReader(bytes, limits)
  const fault = reader.read()
  if (fault) return fault
  if (reader.cutter.triangles.length === 0) return noTriangles('no face')
  return good({
    positions: reader.positions.done(),
    triangles: reader.cutter.triangles.done(),
    bentFaces: reader.cutter.bentFaces,
  })
}

class ObjReader {
  readonly positions = new GrowingDoubles()
  readonly cutter = new FaceCutter((vertex, axis) => this.positions.get(3 * vertex + axis))
  private readonly scan: TextScan
  private readonly limits: ReadLimits
  private faces = 0

  constructor(bytes: Uint8Array, limits: ReadLimits) {
    this.scan = new TextScan(bytes)
    this.limits = limits
  }

  read(): Outcome<never> | null {
    const { scan } = this
    while (scan.wordAnywhere()) {
      // A comment ends with its line, whatever stands at its end.
      if (scan.bytes[scan.start] === 35) {
        scan.nextLine()
        continue
      }
      const fault = this.statement()
      if (fault) return fault
      this.passLine()
    }
    return null
  }

  private statement(): Outcome<never> | null {
    const { scan } = this
    if (scan.is('v')) return this.vertex()
    if (scan.is('f') || scan.is('fo')) return this.face()
    if (passedOver.some((word) => scan.is(word))) return null
    if (refused.some((word) => scan.is(word))) return unsupported('faces (f)', `a free-form surface (${scan.text()})`)
    if (otherFiles.some((word) => scan.is(word)))
      return unsupported('one file alone', `a call of another (${scan.text()})`)
    return unexpectedWord(scan, 'an OBJ statement such as v or f')
  }

  /** Next word of the statement; a `\` as the last thing on a line goes on with the next line. */
  private word(): boolean {
    const { scan } = this
    while (scan.word()) {
      if (scan.bytes[scan.end - 1] !== 92) return true
      scan.nextLine()
      scan.end--
      if (scan.end > scan.start) return true
    }
    return false
  }

  private passLine(): void {
    while (this.word());
    this.scan.nextLine()
  }

  private vertex(): Outcome<never> | null {
    const { scan } = this
    const read: number[] = []
    for (let axis = 0; axis < 3; axis++) {
      if (!this.word()) return unexpectedWord(scan, 'three coordinates')
      const value = scan.number()
      if (!Number.isFinite(value)) return notFinite(this.positions.length / 3, axis, scan.text(), scan.line)
      read.push(value)
    }
    this.positions.push3(read[0], read[1], read[2])
    const most = mostVertices(this.limits)
    return this.positions.length > 3 * most ? tooManyVertices(most, 'more') : null
  }

  private face(): Outcome<never> | null {
    const { scan, positions } = this
    this.faces++
    const line = scan.line
    const corners: number[] = []
    const vertices = positions.length / 3
    while (this.word()) {
      const index = this.vertexIndex(vertices)
      if (index < 0) return badIndex(this.faces, `1 to ${vertices} or −1 to −${vertices}`, scan.text(), scan.line)
      corners.push(index)
      if (corners.length > mostCorners)
        return unsupported(`at most ${mostCorners} corners a face`, `more in face ${this.faces}`)
    }
    if (corners.length < 3)
      return bad({
        code: 'mesh-syntax',
        item: `face ${this.faces}`,
        line,
        expected: 'at least 3 corners',
        got: corners.length,
      })
    if (!this.cutter.add(corners))
      return bad({
        code: 'mesh-face-crosses-itself',
        item: `face ${this.faces}`,
        line,
        expected: 'a face that does not cross itself',
      })
    const count = this.cutter.triangles.length / 3
    return count > this.limits.triangles ? tooManyTriangles(this.limits.triangles, 'more') : null
  }

  /** Index from 0 of the corner `v`, `v/vt`, `v//vn` or `v/vt/vn`; −1 where there is no such vertex. */
  private vertexIndex(vertices: number): number {
    const { bytes, start, end } = this.scan
    let slash = start
    while (slash < end && bytes[slash] !== 47) slash++
    const named = wholeNumber(bytes, start, slash)
    const index = named < 0 ? vertices + named : named - 1
    return index >= 0 && index < vertices ? index : -1
  }
}
