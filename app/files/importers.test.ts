import { gzipSync } from 'node:zlib'
import { describe, expect, test } from 'vitest'
import { boxMesh, objText, plyFile, stlBinary, stlText } from '../../test/kit/meshWriters.ts'
import { importers, meshExtensions, readMesh } from './importers.ts'
import { defaultLimits } from './rawMesh.ts'

const box = boxMesh([40, 25.5, 10])
const files: Record<string, Uint8Array> = {
  'a.stl': stlBinary(box),
  'b.STL': stlText(box),
  'c.obj': objText(box),
  'd.ply': plyFile(box, 'binary_big_endian'),
}

describe('reading a mesh by its name', () => {
  test.each(Object.keys(files))('%s, plain and packed, give the same', async (name) => {
    const plain = await readMesh(name, files[name])
    expect(plain).toMatchObject({
      ok: true,
      value: { format: importers.find((i) => name.toLowerCase().endsWith(i.extensions[0]))?.name },
    })
    expect(await readMesh(`${name}.gz`, new Uint8Array(gzipSync(files[name])))).toEqual(plain)
  })

  test.each([
    ['no ending', 'bumper', files['a.stl'], { code: 'mesh-format-unknown', expected: '.stl, .obj, .ply, .glb' }],
    ['an unknown ending', 'bumper.step', files['a.stl'], { code: 'mesh-format-unknown', got: '.step' }],
    ['only .gz', 'bumper.gz', files['a.stl'], { code: 'mesh-format-unknown' }],
    ['an empty file', 'bumper.stl', new Uint8Array(0), { code: 'mesh-empty-file', expected: 'STL data' }],
    [
      'another format by content',
      'bumper.stl',
      files['d.ply'],
      { code: 'mesh-format-mismatch', expected: 'STL data', got: 'PLY data' },
    ],
    [
      'text of another format',
      'bumper.ply',
      files['b.STL'],
      { code: 'mesh-format-mismatch', expected: 'PLY data', got: 'STL data' },
    ],
    [
      'packed without saying so',
      'bumper.stl',
      new Uint8Array(gzipSync(files['a.stl'])),
      { code: 'mesh-format-mismatch' },
    ],
    [
      'not packed though it says so',
      'bumper.stl.gz',
      files['a.stl'],
      { code: 'mesh-format-mismatch', expected: 'gzip data' },
    ],
    ['cut gzip', 'bumper.stl.gz', new Uint8Array(gzipSync(files['a.stl'])).slice(0, 60), { code: 'gzip-broken' }],
  ])('%s is refused, with the file’s name', async (_, name, bytes, fault) => {
    expect(await readMesh(name, bytes)).toMatchObject({ ok: false, faults: [{ file: name, ...fault }] })
  })

  test('gzip with a wrong checksum is refused', async () => {
    const packed = new Uint8Array(gzipSync(files['a.stl']))
    packed[packed.length - 8] ^= 1
    expect(await readMesh('a.stl.gz', packed)).toMatchObject({ ok: false, faults: [{ code: 'gzip-broken' }] })
  })

  test('a small file that inflates to 200 MB is stopped at the limit', async () => {
    const bomb = new Uint8Array(gzipSync(new Uint8Array(200_000_000)))
    expect(bomb.length).toBeLessThan(1_000_000)
    const limits = { ...defaultLimits, bytes: 1_000_000 }
    expect(await readMesh('bomb.stl.gz', bomb, limits)).toMatchObject({ ok: false, faults: [{ code: 'gzip-too-big' }] })
  })

  test('a file over the byte limit is refused before it is looked at', async () => {
    expect(await readMesh('a.stl', files['a.stl'], { ...defaultLimits, bytes: 100 })).toMatchObject({
      ok: false,
      faults: [{ code: 'mesh-too-big' }],
    })
  })

  test('no two formats share an ending', () => {
    expect(new Set(meshExtensions).size).toBe(meshExtensions.length)
  })
})
