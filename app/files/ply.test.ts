import { describe, expect, test } from 'vitest'
import { everyImporter } from '../../test/kit/everyImporter.ts'
import { boxMesh, plyFile } from '../../test/kit/meshWriters.ts'
import { ply } from './ply.ts'
import { defaultLimits } from './rawMesh.ts'

const box = boxMesh([40, 25.5, 10])
for (const format of ['ascii', 'binary_little_endian', 'binary_big_endian'] as const) {
  everyImporter(ply, { name: format, bytes: plyFile(box, format), mesh: box, endsKnown: format !== 'ascii' })
  test(`${format} in single precision gives the same`, () => {
    expect(ply.read(plyFile(box, format, 'float'), defaultLimits)).toEqual(
      ply.read(plyFile(box, format), defaultLimits),
    )
  })
}

const read = (text: string) => ply.read(new TextEncoder().encode(text), defaultLimits)
const header = (faceCount: number, vertex = 'property float x\nproperty float y\nproperty float z', between = '') =>
  `ply\nformat ascii 1.0\nelement vertex 4\n${vertex}\n${between}element face ${faceCount}\nproperty list uchar int vertex_indices\nend_header\n`
const square = '0 0 0\n1 0 0\n1 1 0\n0 1 0\n'

describe('PLY', () => {
  test('double precision in text and in bytes', () => {
    const fine = { positions: [0, 0, 0, 0.1, 0, 0, 0, 1 / 3, 12345.678901234567], triangles: [0, 1, 2] }
    for (const format of ['ascii', 'binary_little_endian', 'binary_big_endian'] as const) {
      const raw = ply.read(plyFile(fine, format), defaultLimits)
      expect(raw.ok && [...raw.value.positions]).toEqual(fine.positions)
    }
  })

  test('properties in another order, elements and lists in between, CR LF line ends', () => {
    const text = header(
      1,
      'property uchar red\nproperty float z\nproperty float y\nproperty list uchar int near\nproperty float x',
      'element edge 2\nproperty int a\nproperty int b\n',
    )
    const raw = read(
      `${text}9 3 2 2 7 7 1\n9 0 0 0 5\n9 0 0 0 5\n9 0 0 0 5\n0 1\n1 2\n3 0 1 2\n`.replaceAll('\n', '\r\n'),
    )
    expect(raw.ok && [...raw.value.positions.subarray(0, 6)]).toEqual([1, 2, 3, 5, 0, 0])
  })

  test('a quadrilateral becomes two triangles', () => {
    const raw = read(`${header(1)}${square}4 0 1 2 3\n`)
    expect(raw.ok && raw.value.triangles.length).toBe(6)
  })

  test.each([
    [
      'an index beyond the vertices',
      `${header(1)}${square}3 0 1 4\n`,
      { code: 'mesh-bad-index', item: 'face 1', expected: 'a vertex index from 0 to 3', got: 4 },
    ],
    ['a negative index', `${header(1)}${square}3 0 1 -1\n`, { code: 'mesh-bad-index', got: -1 }],
    ['a face of two corners', `${header(1)}${square}2 0 1\n`, { code: 'mesh-syntax', item: 'face 1', got: 2 }],
    [
      'nan',
      `${header(1)}0 0 0\n1 nan 0\n1 1 0\n0 1 0\n3 0 1 2\n`,
      { code: 'mesh-not-finite', item: 'vertex 2', field: 'y', line: 11, got: 'nan' },
    ],
    ['fewer faces than counted', `${header(2)}${square}3 0 1 2\n`, { code: 'mesh-truncated', item: 'face 2' }],
    ['fewer vertices than counted', `${header(1)}0 0 0\n1 0 0\n`, { code: 'mesh-truncated' }],
    ['no faces', `${header(0)}${square}`, { code: 'mesh-no-triangles' }],
    [
      'no z',
      `${header(1, 'property float x\nproperty float y')}0 0\n`,
      { code: 'mesh-syntax', field: 'header', got: 'x, y' },
    ],
    [
      'a list where one value belongs',
      header(1, 'property list uchar float x\nproperty float y\nproperty float z'),
      { code: 'mesh-syntax', field: 'header' },
    ],
    [
      'a count of a trillion',
      header(1).replace('vertex 4', 'vertex 1000000000000'),
      { code: 'mesh-too-many-vertices' },
    ],
    ['a format of another version', header(1).replace('1.0', '2.0'), { code: 'mesh-syntax', line: 2 }],
    ['a type that is none', header(1).replace('uchar int', 'uchar long'), { code: 'mesh-syntax', line: 8 }],
    ['an inherited name as a type', header(1).replace('uchar int', 'uchar toString'), { code: 'mesh-syntax', line: 8 }],
    [
      'an element without properties and without end',
      header(1, undefined, 'element nothing 999999999999999\n') + square,
      { code: 'mesh-truncated' },
    ],
  ])('%s is refused by name', (_, text, fault) => {
    expect(read(text)).toMatchObject({ ok: false, faults: [fault] })
  })
})
