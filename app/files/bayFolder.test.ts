import { execFileSync } from 'node:child_process'
import { createHash } from 'node:crypto'
import { mkdir, mkdtemp, rm, symlink, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { gzipSync } from 'node:zlib'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { boxMesh, plyFile, stlBinary } from '../../test/kit/meshWriters.ts'
import { sampleBay } from '../../test/kit/sampleBay.ts'
import type { KeepOut } from '../../core/bay/schema.ts'
import { openBay } from './bayFolder.ts'
import { defaultLimits } from './rawMesh.ts'

let folder: string
beforeEach(async () => {
  folder = join(await mkdtemp(join(tmpdir(), 'bay-')), 'bay')
  await mkdir(join(folder, 'scans'), { recursive: true })
})
afterEach(() => rm(join(folder, '..'), { recursive: true }))

const box = boxMesh([40, 25.5, 10])
const meshKeepOut = (id: string, file: string): KeepOut => ({
  id,
  name: 'Bumper',
  role: 'body',
  shape: { kind: 'mesh', file, unit: 'mm' },
})
/** A bay with meshes of these names in `folder`. */
async function bayWith(...files: string[]): Promise<string> {
  const path = join(folder, 'my.bay.json')
  const keepOuts = [...sampleBay().keepOuts, ...files.map((file, i) => meshKeepOut(`bumper-${i}`, file))]
  await writeFile(path, JSON.stringify({ ...sampleBay(), keepOuts }))
  return path
}
const faultsOf = async (path: string, limits = defaultLimits) => {
  const opened = await openBay(path, limits)
  return opened.ok ? [] : opened.faults
}

describe('a bay with its meshes', () => {
  test('meshes in the folder and below it are read once each, packed or not', async () => {
    await writeFile(join(folder, 'a.stl'), stlBinary(box))
    await writeFile(join(folder, 'scans', 'b.ply.gz'), gzipSync(plyFile(box, 'binary_little_endian')))
    const path = await bayWith('a.stl', 'scans/b.ply.gz', 'a.stl')
    const opened = await openBay(path)
    if (!opened.ok) throw new Error(JSON.stringify(opened.faults))
    const { bay, meshes, loaded, meshSha256, sha256, text } = opened.value
    expect(bay.keepOuts.length).toBe(sampleBay().keepOuts.length + 3)
    expect([...meshes.keys()]).toEqual(['a.stl', 'scans/b.ply.gz'])
    expect(meshes.get('a.stl')).toMatchObject({ closed: true })
    expect(loaded.get('scans/b.ply.gz')).toMatchObject({
      format: 'PLY',
      trianglesInFile: 12,
      report: { vertices: 8, closed: true },
    })
    expect(meshSha256.get('a.stl')).toBe(createHash('sha256').update(stlBinary(box)).digest('hex'))
    expect(sha256).toBe(createHash('sha256').update(text).digest('hex'))
  })

  test('every failing mesh is named by file, keep-out and field', async () => {
    await writeFile(join(folder, 'cut.stl'), stlBinary(box).slice(0, 300))
    const nan = stlBinary(box)
    new DataView(nan.buffer).setFloat32(96, Number.NaN, true)
    await writeFile(join(folder, 'nan.stl'), nan)
    const path = await bayWith('none.stl', 'cut.stl', 'nan.stl')
    expect(await faultsOf(path)).toMatchObject([
      { code: 'mesh-missing', file: 'none.stl', item: 'bumper-0', field: 'keepOuts[7].shape.file' },
      { code: 'mesh-truncated', file: 'cut.stl', item: 'bumper-1', field: 'header' },
      { code: 'mesh-not-finite', file: 'nan.stl', item: 'bumper-2', field: 'triangle 1, corner 1, x' },
    ])
  })

  test('the limits hold for all meshes together', async () => {
    await writeFile(join(folder, 'a.stl'), stlBinary(box))
    await writeFile(join(folder, 'b.stl'), stlBinary(box))
    const path = await bayWith('a.stl', 'b.stl')
    expect(await faultsOf(path, { ...defaultLimits, triangles: 24 })).toEqual([])
    expect(await faultsOf(path, { ...defaultLimits, triangles: 23 })).toMatchObject([
      { code: 'mesh-too-many-triangles', file: 'b.stl' },
    ])
    expect(await faultsOf(path, { ...defaultLimits, bytes: 1000 })).toMatchObject([
      { code: 'mesh-too-big', file: 'b.stl' },
    ])
  })
})

describe('a mesh outside the bay’s folder is never read', () => {
  test.each(['../outside.stl', '/etc/passwd.stl', 'scans/../../outside.stl', 'C:\\outside.stl', './a.stl'])(
    'by name: %s',
    async (file) => {
      await writeFile(join(folder, '..', 'outside.stl'), stlBinary(box))
      expect(await faultsOf(await bayWith(file))).toMatchObject([{ code: 'mesh-outside-folder', item: 'bumper-0' }])
    },
  )

  test('by a symbolic link, to a file or to a folder', async () => {
    await writeFile(join(folder, '..', 'outside.stl'), stlBinary(box))
    await mkdir(join(folder, '..', 'bay-beside'))
    await writeFile(join(folder, '..', 'bay-beside', 'b.stl'), stlBinary(box))
    await symlink(join(folder, '..', 'outside.stl'), join(folder, 'link.stl'))
    await symlink(join(folder, '..', 'bay-beside'), join(folder, 'linked'))
    expect(await faultsOf(await bayWith('link.stl', 'linked/b.stl'))).toMatchObject([
      { code: 'mesh-outside-folder', file: 'link.stl', got: 'a link that leaves it' },
      { code: 'mesh-outside-folder', file: 'linked/b.stl', got: 'a link that leaves it' },
    ])
  })

  test('a link that stays inside is fine, and so is a bay reached by a link', async () => {
    await writeFile(join(folder, 'scans', 'b.stl'), stlBinary(box))
    await symlink(join(folder, 'scans', 'b.stl'), join(folder, 'inside.stl'))
    const path = await bayWith('inside.stl')
    const link = join(folder, '..', 'link.bay.json')
    await symlink(path, link)
    expect(await faultsOf(link)).toEqual([])
  })
})

describe('what is no bay file', () => {
  test('missing, a folder, not text, too big', async () => {
    expect(await faultsOf(join(folder, 'none.bay.json'))).toMatchObject([{ code: 'file-missing' }])
    expect(await faultsOf(folder)).toMatchObject([{ code: 'file-unreadable', got: 'a folder' }])
    const path = join(folder, 'a.bay.json')
    await writeFile(path, new Uint8Array([0x7b, 0xff, 0x7d]))
    expect(await faultsOf(path)).toMatchObject([{ code: 'file-not-text', file: path }])
    await writeFile(path, new Uint8Array(80_000_001))
    expect(await faultsOf(path)).toMatchObject([{ code: 'file-too-big' }])
  })

  test.skipIf(process.platform === 'win32')('a pipe is refused and not waited for', async () => {
    const pipe = join(folder, 'pipe.stl')
    execFileSync('mkfifo', [pipe])
    expect(await faultsOf(pipe)).toMatchObject([{ code: 'file-unreadable', got: 'a device or pipe' }])
    expect(await faultsOf(await bayWith('pipe.stl'))).toMatchObject([
      { code: 'file-unreadable', file: 'pipe.stl', item: 'bumper-0' },
    ])
  })
})
