import { describe, expect, test } from 'vitest'
import { everyImporter } from '../../test/kit/everyImporter.ts'
import { boxMesh, stlBinary, stlText } from '../../test/kit/meshWriters.ts'
import { defaultLimits } from './rawMesh.ts'
import { stl } from './stl.ts'

const box = boxMesh([40, 25.5, 10])
everyImporter(stl, { name: 'binary', bytes: stlBinary(box), mesh: box, endsKnown: true })
everyImporter(stl, { name: 'ASCII', bytes: stlText(box), mesh: box, endsKnown: true })

const read = (bytes: Uint8Array | string) =>
  stl.read(typeof bytes === 'string' ? new TextEncoder().encode(bytes) : bytes, defaultLimits)
const facet = (corners: string) => `facet normal 0 0 1\nouter loop\n${corners}\nendloop\nendfacet\n`

describe('binary STL', () => {
  test('a header that begins with solid is still binary when the length fits the count', () => {
    expect(read(stlBinary(box, { header: 'solid made by a program' }))).toMatchObject({ ok: true })
  })

  test('a count above what is there is a cut file, one below is a lying header', () => {
    expect(read(stlBinary(box, { count: 13 }))).toMatchInlineSnapshot(`
      {
        "faults": [
          {
            "code": "mesh-truncated",
            "expected": "734 bytes for the 13 triangles that the header counts",
            "field": "header",
            "got": "684 bytes, room for 12 triangles",
          },
        ],
        "ok": false,
      }
    `)
    expect(read(stlBinary(box, { count: 11 }))).toMatchObject({
      ok: false,
      faults: [{ code: 'mesh-lying-header', field: 'header' }],
    })
    expect(read(stlBinary(box, { count: 4294967295 }))).toMatchObject({
      ok: false,
      faults: [{ code: 'mesh-truncated' }],
    })
    expect(read(stlBinary(box, { header: 'solid lie', count: 11 }))).toMatchObject({
      ok: false,
      faults: [{ code: 'mesh-lying-header' }],
    })
  })

  test('a coordinate that is not finite is named by triangle, corner and axis', () => {
    const bytes = stlBinary(box)
    new DataView(bytes.buffer).setFloat32(84 + 50 * 4 + 12 + 12 + 8, Number.NaN, true)
    expect(read(bytes)).toEqual({
      ok: false,
      faults: [
        { code: 'mesh-not-finite', item: 'triangle 5, corner 2', field: 'z', expected: 'a finite number', got: 'NaN' },
      ],
    })
  })

  test('no triangles at all is a fault', () => {
    expect(read(stlBinary({ positions: [], triangles: [] }))).toMatchObject({
      ok: false,
      faults: [{ code: 'mesh-no-triangles' }],
    })
  })
})

describe('ASCII STL', () => {
  test('coordinates keep double precision', () => {
    const text = `solid\n${facet('vertex 0.1 1234567.890123456 -3.3e-7\nvertex 1E2 +.5 5.\nvertex 0 0 1208925819614629174706176')}endsolid`
    const raw = read(text)
    expect(raw.ok && [...raw.value.positions]).toEqual([0.1, 1234567.890123456, -3.3e-7, 100, 0.5, 5, 0, 0, 2 ** 80])
  })

  test('several solids, any case, odd spacing, CR line ends and a normal of nan', () => {
    const one = facet('vertex 0 0 0\nvertex 1 0 0\nvertex 0 1 0').replace('0 0 1', '-nan nan nan')
    const text = `\n SOLID first one\r${one.toUpperCase().replaceAll('\n', '\r')}ENDSOLID\rsolid empty\rendsolid\rsolid two\r${one.replaceAll('\n', '\t\r\n')}endsolid two`
    const raw = read(text)
    expect(raw.ok && raw.value.triangles.length).toBe(6)
  })

  test.each([
    [
      'a word for a number',
      facet('vertex 0 0 0\nvertex 1 x 0\nvertex 0 1 0'),
      { code: 'mesh-not-finite', line: 5, got: 'x' },
    ],
    [
      'a decimal comma',
      facet('vertex 0 0,5 0\nvertex 1 1 0\nvertex 0 1 0'),
      { code: 'mesh-not-finite', line: 4, got: '0,5' },
    ],
    ['nan', facet('vertex 0 0 0\nvertex 1 nan 0\nvertex 0 1 0'), { code: 'mesh-not-finite', line: 5, got: 'nan' }],
    [
      '1e999',
      facet('vertex 0 0 0\nvertex 1 1e999 0\nvertex 0 1 0'),
      { code: 'mesh-not-finite', line: 5, got: '1e999' },
    ],
    [
      'two coordinates',
      facet('vertex 0 0\nvertex 1 0 0\nvertex 0 1 0'),
      { code: 'mesh-syntax', line: 4, expected: 'three coordinates' },
    ],
    ['two corners', facet('vertex 0 0 0\nvertex 1 0 0'), { code: 'mesh-syntax', line: 6, expected: "'vertex'" }],
    [
      'four corners',
      facet('vertex 0 0 0\nvertex 1 0 0\nvertex 1 1 0\nvertex 0 1 0'),
      { code: 'mesh-syntax', line: 7, expected: "'endloop'" },
    ],
  ])('%s is refused with its line', (_, body, fault) => {
    expect(read(`solid a\n${body}endsolid a\n`)).toMatchObject({ ok: false, faults: [fault] })
  })

  test('text in two-byte characters is refused as such', () => {
    const wide = new Uint8Array([0xff, 0xfe, ...[...'solid a'].flatMap((c) => [c.charCodeAt(0), 0])])
    expect(read(wide)).toMatchObject({ ok: false, faults: [{ code: 'mesh-syntax', got: 'text in UTF-16' }] })
  })
})
