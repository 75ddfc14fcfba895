import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, beforeEach, expect, it } from 'vitest'
import { sampleBay } from '../../test/kit/sampleBay.ts'
import { meshFileTrouble } from '../../core/bay/meshFile.ts'
import { bad, good } from '../../core/fault.ts'
import { addBeside, carryMeshes, numbered, storableName } from './besideBay.ts'

let folder: string
let bay: string
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'gapwright-beside-'))
  bay = join(folder, 'a.bay.json')
  writeFileSync(bay, '{}')
})
afterEach(() => rmSync(folder, { recursive: true, force: true }))
const bytes = (...values: number[]) => new Uint8Array(values)

it('puts a file beside the bay, takes an equal one as it is, and never overwrites', async () => {
  expect(await addBeside(bay, 'shell.stl', bytes(1))).toEqual(good('shell.stl'))
  expect(await addBeside(bay, 'shell.stl', bytes(1))).toEqual(good('shell.stl'))
  expect(await addBeside(bay, 'shell.stl', bytes(2))).toEqual(good('shell-2.stl'))
  expect(await addBeside(bay, 'Shell.STL', bytes(3))).toEqual(good('Shell-3.STL'))
  expect([...readFileSync(join(folder, 'shell.stl'))]).toEqual([1])
  expect(await addBeside(join(folder, 'none', 'b.bay.json'), 'shell.stl', bytes(1))).toMatchObject({
    ok: false,
    faults: [{ code: 'file-unwritable', file: 'shell.stl', got: 'its folder is not there' }],
  })
})

it.each([
  ['../../up.stl', 'up.stl'],
  ['C:\\parts\\shell.stl', 'shell.stl'],
  ['a:b*c.stl', 'a-b-c.stl'],
  ['.hidden', 'hidden'],
  ['nul.stl', 'mesh-nul.stl'],
  ['', 'mesh-file'],
  ['ends. ', 'ends'],
  [`${'x'.repeat(300)}.ply.gz`, `${'x'.repeat(100)}.ply.gz`],
])('%j is stored as %j, which a bay may hold', (name, stored) => {
  expect(storableName(name)).toBe(stored)
  expect(meshFileTrouble(storableName(name))).toBe(null)
})

it('numbers stand before the whole extension', () => {
  expect(numbered('bumper.ply.gz', 2)).toBe('bumper-2.ply.gz')
  expect(numbered('plain', 3)).toBe('plain-3')
})

const withMesh = (file: string) =>
  JSON.stringify({
    ...sampleBay(),
    ports: [],
    candidates: [],
    keepOuts: [{ id: 'shell', name: 'Shell', role: 'body', shape: { kind: 'mesh', file, unit: 'mm' } }],
  })

it('takes meshes along to another folder, and refuses to mix them with others', async () => {
  const to = join(folder, 'copy', 'a.bay.json')
  mkdirSync(join(folder, 'copy'))
  const text = withMesh('parts/shell.stl')
  const from = async () => good(bytes(1, 2))
  expect(await carryMeshes(text, to, from)).toEqual(good(null))
  expect([...readFileSync(join(folder, 'copy', 'parts', 'shell.stl'))]).toEqual([1, 2])
  expect(await carryMeshes(text, to, from), 'there already').toEqual(good(null))
  expect(await carryMeshes(text, to, async () => good(bytes(9)))).toMatchObject({
    ok: false,
    faults: [{ code: 'mesh-differs', file: 'parts/shell.stl' }],
  })
  expect(await carryMeshes(text, to, async () => bad({ code: 'mesh-missing' })), 'missing here too').toEqual(good(null))
  expect(await carryMeshes('no bay', to, from)).toEqual(good(null))
  expect(readdirSync(join(folder, 'copy'))).toEqual(['parts'])
})
