import { describe, expect, test } from 'vitest'
import { everyImporter } from '../../test/kit/everyImporter.ts'
import { boxMesh, objText } from '../../test/kit/meshWriters.ts'
import { obj } from './obj.ts'
import { defaultLimits } from './rawMesh.ts'

const box = boxMesh([40, 25.5, 0.1])
everyImporter(obj, { name: 'triangles', bytes: objText(box), mesh: box, endsKnown: false })

const read = (text: string) => obj.read(new TextEncoder().encode(text), defaultLimits)
const square = 'v 0 0 0\nv 1 0 0\nv 1 1 0\nv 0 1 0\n'
const triangles = (text: string) => {
  const raw = read(text)
  if (!raw.ok) throw new Error(JSON.stringify(raw.faults))
  return [...raw.value.triangles]
}

describe('OBJ', () => {
  test('corners with texture and normal indices, and negative ones, name the same vertices', () => {
    expect(
      triangles(`${square}vt 0 0\nvn 0 0 1\nf 1/1 2/1 3/1\nf 1//1 3//1 4//1\nf 1/1/1 2/1/1 3/1/1\nf -4 -3 -2`),
    ).toEqual([0, 1, 2, 0, 2, 3, 0, 1, 2, 0, 1, 2])
  })

  test('a backslash at a line’s end joins lines, in a comment it does not', () => {
    expect(triangles(`${square}# path C:\\\nf 1 \\\n 2 \\\r\n3\nf 1 3\\\n 4\n`)).toEqual([0, 1, 2, 0, 2, 3])
  })

  test('colours behind the coordinates, points, lines, groups and materials are passed over', () => {
    expect(
      triangles(
        `mtllib my file.mtl\no a\ng b c\n${square.replaceAll('0\n', '0 0.5 0.5 0.5\n')}usemtl x\ns off\np 1\nl 1 2\nf 1 2 3\n`,
      ),
    ).toEqual([0, 1, 2])
  })

  test('a concave face keeps its area', () => {
    const raw = read('v 0 0 0\nv 4 0 0\nv 4 1 0\nv 1 1 0\nv 1 7 0\nv 0 7 0\nf 1 2 3 4 5 6\n')
    expect(raw.ok && raw.value.triangles.length).toBe(12)
  })

  test.each([
    ['index 0', `${square}f 0 1 2`, { code: 'mesh-bad-index', item: 'face 1', line: 5, got: '0' }],
    [
      'an index beyond the vertices',
      `${square}f 1 2 3\nf 1 2 5`,
      { code: 'mesh-bad-index', item: 'face 2', line: 6, expected: 'a vertex index from 1 to 4 or −1 to −4', got: '5' },
    ],
    ['a negative index beyond them', `${square}f -5 2 3`, { code: 'mesh-bad-index', got: '-5' }],
    ['a word for an index', `${square}f 1 two 3`, { code: 'mesh-bad-index', got: 'two' }],
    ['nan', 'v 0 nan 0\nf 1 1 1', { code: 'mesh-not-finite', item: 'vertex 1', field: 'y', line: 1, got: 'nan' }],
    [
      '1e999',
      'v 0 0 0\nv 0 0 1e999\nf 1 1 1',
      { code: 'mesh-not-finite', item: 'vertex 2', field: 'z', line: 2, got: '1e999' },
    ],
    [
      'two coordinates',
      'v 0 0\nf 1 1 1',
      { code: 'mesh-syntax', line: 1, expected: 'three coordinates', got: 'the end of the line' },
    ],
    [
      'a face of two corners',
      `${square}f 1 2`,
      { code: 'mesh-syntax', item: 'face 1', line: 5, expected: 'at least 3 corners', got: 2 },
    ],
    [
      'a face that crosses itself',
      `v 0 0 0\nv 4 4 0\nv 4 0 0\nv 0 3 0\nf 1 2 3 4`,
      { code: 'mesh-face-crosses-itself', item: 'face 1', line: 5 },
    ],
    ['a word that is no statement', `${square}f 1 2 3\nthe end`, { code: 'mesh-syntax', line: 6, got: 'the' }],
    [
      'a free-form surface',
      `${square}cstype bezier\n`,
      { code: 'mesh-unsupported', got: 'a free-form surface (cstype)' },
    ],
    ['a call of another file', `call other.obj\n`, { code: 'mesh-unsupported' }],
    ['vertices alone', square, { code: 'mesh-no-triangles' }],
    ['a face of very many corners', `${square}f ${'1 2 3 4 '.repeat(3000)}`, { code: 'mesh-unsupported' }],
  ])('%s is refused by name', (_, text, fault) => {
    expect(read(text)).toMatchObject({ ok: false, faults: [fault] })
  })
})
