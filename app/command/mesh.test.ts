import { mkdtemp, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { cli } from '../../test/kit/cli.ts'
import { boxMesh, objText, stlBinary } from '../../test/kit/meshWriters.ts'

let folder: string
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'mesh-'))
})
afterAll(() => rm(folder, { recursive: true }))

const box = boxMesh([2, 4, 0.5])
async function written(name: string, bytes: Uint8Array): Promise<string> {
  await writeFile(join(folder, name), bytes)
  return join(folder, name)
}

test('without a unit, sizes are the file’s own and what they would be in each unit', async () => {
  const { status, out, err } = await cli(['mesh', await written('box.stl', stlBinary(box))])
  expect({ status, err }).toEqual({ status: 0, err: '' })
  expect(out).toMatchInlineSnapshot(`
    "box.stl: STL, 684 bytes

    triangles   12
    vertices    8 (28 more were equal to one of them)
    surface     closed: a solid
    components  1
    size        2 × 4 × 0.5 in the file’s own numbers

    if its unit is             it is, in mm               in inches
    ──────────────  ───────────────────────  ──────────────────────
    mm                      2.0 × 4.0 × 0.5      0.08 × 0.16 × 0.02
    cm                    20.0 × 40.0 × 5.0      0.79 × 1.57 × 0.20
    m               2000.0 × 4000.0 × 500.0  78.74 × 157.48 × 19.69
    inch                50.8 × 101.6 × 12.7      2.00 × 4.00 × 0.50
    foot             609.6 × 1219.2 × 152.4    24.00 × 48.00 × 6.00

    The file does not say which. Name it in the bay, "unit": "mm" for example, or here with --unit.
    "
  `)
})

test('with a unit, sizes are in mm, or in inches for those who like', async () => {
  const path = await written('box.stl', stlBinary(box))
  const { out } = await cli(['mesh', path, '--unit', 'inch'])
  // By hand: 2 × 4 × 0.5 in = 50.8 × 101.6 × 12.7 mm; 4 in³ = 65.548256 cm³; area 2 × (8 + 1 + 2) = 22 in² = 141.9352 cm².
  expect(out).toContain('50.8 mm × 101.6 mm × 12.7 mm')
  expect(out).toContain('65.5483 cm³')
  expect(out).toContain('141.935 cm²')
  expect((await cli(['mesh', path, '--unit', 'inch', '--units', 'inch'])).out).toContain('2″ × 4″ × 1/2″')
})

test('as JSON, own numbers and mm', async () => {
  const { out } = await cli(['mesh', await written('box.stl', stlBinary(box)), '--unit', 'm', '--json'])
  expect(JSON.parse(out)).toMatchObject({
    command: 'mesh',
    file: { name: 'box.stl', bytes: 684, sha256: expect.stringMatching(/^[0-9a-f]{64}$/) },
    format: 'STL',
    unit: 'm',
    triangles: 12,
    trianglesInFile: 12,
    vertices: 8,
    mergedVertices: 28,
    closed: true,
    components: 1,
    size: [2, 4, 0.5],
    volume: expect.closeTo(4, 12),
    mm: { size: [2000, 4000, 500], volume: expect.closeTo(4e9, 3), area: 22e6 },
  })
  expect(JSON.parse((await cli(['mesh', join(folder, 'box.stl'), '--json'])).out)).toMatchObject({
    unit: null,
    mm: null,
  })
})

test('an open mesh, triangles without area and faces that are not flat are told', async () => {
  const open = { ...box, triangles: [...Array.from(box.triangles).slice(0, 33), 0, 0, 1] }
  const shell = await cli(['mesh', await written('open.obj', objText(open))])
  expect(shell.status).toBe(0)
  expect(shell.out).toContain('not closed: a shell without an inside (3 open edges)')
  expect(shell.out).toContain('11 (of 12 in the file; left out: 1 with a corner twice)')
  const bent = await cli([
    'mesh',
    await written('bent.obj', new TextEncoder().encode('v 0 0 0\nv 1 0 0\nv 1 1 0.2\nv 0 1 0\nf 1 2 3 4\n')),
  ])
  expect(bent.out).toContain('1 face of more than three corners not flat')
})

test('a file turned inside out is turned back and says so', async () => {
  const turned = { ...box, triangles: Array.from(box.triangles).reverse() }
  expect((await cli(['mesh', await written('turned.stl', stlBinary(turned))])).out).toContain(
    'closed: a solid; 1 component faced inward and is turned back',
  )
})

test.each([
  ['none.stl', null, /none\.stl: there is no such file/],
  ['cut.stl', stlBinary(box).slice(0, 200), /cut\.stl: header: the file is cut off/],
  [
    'part.step',
    new Uint8Array(5),
    /part\.step: not a mesh format that is read here; expected \.stl, \.obj, \.ply, \.glb/,
  ],
])('%s is refused', async (name, bytes, said) => {
  const path = bytes ? await written(name, bytes) : join(folder, name)
  const { status, out, err } = await cli(['mesh', path])
  expect({ status, out }).toEqual({ status: 2, out: '' })
  expect(err).toMatch(said)
})
