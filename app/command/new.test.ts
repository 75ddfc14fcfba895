import { mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, beforeEach, expect, test } from 'vitest'
import { cli } from '../../test/kit/cli.ts'
import { readBay } from '../../core/bay/read.ts'
import { keepOutSchema, limitsSchema } from '../../core/bay/schema.ts'
import { readLength } from '../../core/units/length.ts'

let folder: string
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'new-'))
})
afterEach(() => rm(folder, { recursive: true }))

test.each(['mm', 'inch'])('a new bay in %s is valid, clears, and is explained beside it', async (units) => {
  const made = await cli(['new', join(folder, 'front'), '--units', units])
  expect(made).toMatchObject({ status: 0, err: '' })
  expect((await readdir(folder)).sort()).toEqual(['front.README.md', 'front.bay.json'])
  const path = join(folder, 'front.bay.json')
  const bay = readBay(await readFile(path, 'utf8'))
  expect(bay).toMatchObject({ ok: true, value: { name: 'front', units } })
  if (bay.ok) expect(bay.value.keepOuts.length).toBeGreaterThanOrEqual(3)
  const checked = await cli(['check', path, '--json'])
  expect(checked.status).toBe(0)
  expect(JSON.parse(checked.out)).toMatchObject({ verdict: 'clears', leftOut: [], unrouted: [] })
  for (const command of ['largest', 'place']) {
    const searched = await cli([command, path, '--json'])
    expect({ status: searched.status, stopped: JSON.parse(searched.out).stopped }).toEqual({
      status: 0,
      stopped: 'proved',
    })
  }
})

test('what to type next can be copied, also where the name has spaces', async () => {
  const path = join(folder, 'my bay')
  expect((await cli(['new', path])).out).toContain(`Next: npx gapwright check "${path}.bay.json"`)
  expect((await cli(['new', join(folder, 'front')])).out).toContain(
    `Next: npx gapwright check ${folder}/front.bay.json`,
  )
})

test('in inches its lengths are round in inches', async () => {
  await cli(['new', join(folder, 'front'), '--units', 'inch'])
  const bay = readBay(await readFile(join(folder, 'front.bay.json'), 'utf8'))
  if (!bay.ok) throw new Error('not read')
  const { core } = bay.value.candidates[0]
  for (const [text, mm] of [
    ['2 1/2"', core.depth],
    ['20"', core.width],
    ['10"', core.height],
  ] as const)
    expect(readLength(text, 'mm')).toEqual({ ok: true, value: mm })
})

test('the text beside it names every field of a keep-out and every limit', async () => {
  await cli(['new', join(folder, 'front.bay.json')])
  const text = await readFile(join(folder, 'front.README.md'), 'utf8')
  for (const field of Object.keys(keepOutSchema.shape)) expect(text).toContain(`\`${field}`)
  for (const field of Object.keys(limitsSchema.shape)) expect(text).toContain(`\`${field}\``)
  for (const kind of ['box', 'cylinder', 'hull', 'halfSpace', 'sweep', 'tube', 'mesh'])
    expect(text).toContain(`"kind": "${kind}"`)
})

test('a file that is there stays, unless --force; then the former one is kept', async () => {
  const path = join(folder, 'front.bay.json')
  await writeFile(path, 'mine')
  const refused = await cli(['new', path])
  expect(refused).toMatchObject({ status: 2, out: '' })
  expect(refused.err).toMatch(/front\.bay\.json: is there already; --force/)
  expect(await readFile(path, 'utf8')).toBe('mine')
  expect((await cli(['new', path, '--force'])).status).toBe(0)
  expect(await readFile(`${path}.bak`, 'utf8')).toBe('mine')
})

test.each(['front.json', 'front.stl', '.bay.json', 'no/folder/front'])('%s is refused', async (name) => {
  const refused = await cli(['new', join(folder, name)])
  expect(refused).toMatchObject({ status: 2, out: '' })
  expect(await readdir(folder)).toEqual([])
})
