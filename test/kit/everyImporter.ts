import { describe, expect, test } from 'vitest'
import type { Fault, Outcome } from '../../core/fault.ts'
import { defaultLimits, type Importer, type RawMesh } from '../../app/files/rawMesh.ts'
import type { PlainMesh } from './meshWriters.ts'

export interface ImporterSample {
  readonly name: string
  readonly bytes: Uint8Array
  readonly mesh: PlainMesh
  /** Whether the format says how long a file is, so that every cut one must be noticed. */
  readonly endsKnown: boolean
}

/** What every reader of meshes must hold to, whatever the bytes. Each importer's test calls this once a file. */
export function everyImporter(importer: Importer, sample: ImporterSample): void {
  const { bytes, mesh, endsKnown } = sample
  const read = (data: Uint8Array, limits = defaultLimits) => held(importer.read(data, limits))

  describe(`${importer.name}, ${sample.name}, as every importer`, () => {
    test('the whole file gives back its triangles, corner by corner', () => {
      const raw = read(bytes)
      if (!raw.ok) throw new Error(JSON.stringify(raw.faults))
      expect(corners(raw.value)).toEqual(corners(mesh))
    })

    test('the file is known by its content', () => {
      expect(importer.sniff(bytes)).toBe(true)
      expect(importer.sniff(new Uint8Array(0))).toBe(false)
    })

    test('a file cut at any length gives an outcome, never a throw, never a number that is not finite', () => {
      let good = 0
      for (let length = 0; length < bytes.length; length++) {
        const cut = read(bytes.slice(0, length))
        if (cut.ok) good++
        else for (const fault of cut.faults) expectSaid(fault)
      }
      if (endsKnown) expect(good).toBeLessThanOrEqual(trailing(bytes))
    })

    test('a file with any one byte changed gives an outcome', () => {
      let refused = 0
      for (let at = 0; at < bytes.length; at++)
        for (const change of [0xff, 0x80, 0x01]) {
          const changed = bytes.slice()
          changed[at] ^= change
          if (!read(changed).ok) refused++
        }
      expect(refused).toBeGreaterThan(0)
    })

    test('a lying header cannot make it take memory: bytes of 0xff over any four', () => {
      for (let at = 0; at + 4 <= bytes.length; at++) {
        const lying = bytes.slice()
        lying.fill(0xff, at, at + 4)
        read(lying)
      }
    })

    test('one triangle over the limit is refused by name, the limit itself is not', () => {
      const triangles = mesh.triangles.length / 3
      const over = read(bytes, { ...defaultLimits, triangles: triangles - 1 })
      expect(over.ok ? [] : over.faults.map((f) => f.code)).toEqual([
        expect.stringMatching(/^mesh-too-(many-(triangles|vertices)|big)$/),
      ])
      expect(read(bytes, { ...defaultLimits, triangles }).ok).toBe(true)
    })

    test('other bytes are refused', () => {
      for (const other of otherBytes()) {
        const outcome = read(other)
        expect(outcome.ok).toBe(false)
        if (!outcome.ok) for (const fault of outcome.faults) expectSaid(fault)
      }
    })
  })
}

/** A good outcome has finite coordinates and indices in range. */
function held(outcome: Outcome<RawMesh>): Outcome<RawMesh> {
  if (!outcome.ok) return outcome
  const { positions, triangles } = outcome.value
  expect(positions.every(Number.isFinite)).toBe(true)
  expect(triangles.every((v) => v < positions.length / 3)).toBe(true)
  expect(triangles.length % 3).toBe(0)
  expect(triangles.length).toBeGreaterThan(0)
  return outcome
}

/** A fault says what was expected, and is not a library's own wording. */
function expectSaid(fault: Fault): void {
  expect(fault.code).toMatch(/^mesh-/)
  expect(fault.expected).toBeTruthy()
  expect(JSON.stringify(fault)).not.toMatch(/DataView|Offset is outside|typed array|undefined/)
}

const corners = ({ positions, triangles }: PlainMesh) =>
  Array.from(triangles, (v) => [positions[3 * v], positions[3 * v + 1], positions[3 * v + 2]])

/** Bytes at a text file's end that say nothing more (its last name and line end). */
function trailing(bytes: Uint8Array): number {
  const tail = new TextDecoder('latin1').decode(bytes.subarray(-40))
  return /endsolid[^\n]*\n$/.test(tail) ? tail.length - tail.lastIndexOf('endsolid') - 8 : /\d\n$/.test(tail) ? 1 : 0
}

function otherBytes(): Uint8Array[] {
  const texts = [
    '',
    '\n',
    ' ',
    'hello',
    '{"a": 1}',
    'solid',
    'ply\n',
    'glTF',
    'v 1 2',
    'f 1 2 3',
    '%PDF-1.7\n',
    'PK\u0003\u0004',
  ]
  const patterns = [0, 255, 65].flatMap((b) => [1, 84, 134, 300].map((n) => new Uint8Array(n).fill(b)))
  return [...texts.map((t) => new TextEncoder().encode(t)), ...patterns]
}
