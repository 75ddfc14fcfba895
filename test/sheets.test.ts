import { chmod, mkdir, mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { readPdf } from '../app/files/readPdf.ts'
import { cli } from './kit/cli.ts'
import { unlikeGolden } from './kit/goldenPicture.ts'
import { hasPoppler, pageAsPng, poppler } from './kit/pdfs.ts'
import { ended, interrupted, start } from './kit/program.ts'
import { corvane, day, slow, tarnbeck } from './kit/sheetSets.ts'

/* Sets of sheets as people make them: written, and read by other readers. */
let place: string
beforeAll(async () => {
  place = await mkdtemp(join(tmpdir(), 'sheets-'))
})
afterAll(() => rm(place, { recursive: true }))
const at = (name: string) => join(place, name)

interface SetJson {
  readonly verdict: string
  readonly pages: number
  readonly files: readonly { readonly name: string; readonly bytes: number }[]
}

/** Made once for all tests that only look: a candidate of inches that clears, and one of mm with a mesh. */
const made = new Map<string, Promise<{ out: string; status: number; json: SetJson }>>()
function setOf(bay: string, candidate: string) {
  const key = `${bay.split('/')[1]}-${candidate}`
  const known = made.get(key)
  if (known) return known
  const out = at(key)
  const making = cli(['sheets', bay, '--candidate', candidate, '--out', out, '--json', ...day]).then((told) => ({
    out,
    status: told.status,
    json: JSON.parse(told.out) as SetJson,
  }))
  made.set(key, making)
  return making
}

async function filesIn(folder: string): Promise<string[]> {
  const found = await readdir(folder, { recursive: true, withFileTypes: true })
  return found
    .filter((entry) => entry.isFile())
    .map((entry) => join(entry.parentPath, entry.name).slice(folder.length + 1))
    .sort()
}

describe('gapwright sheets', () => {
  test.each([
    [tarnbeck, 'wide', 0, 'clears'],
    [tarnbeck, 'tall', 1, 'fouls'],
    [corvane, 'narrow', 0, 'clears'],
    [corvane, 'deep', 1, 'unproved'],
  ])('%s, %s: writes what it says, and ends with %i', { timeout: slow }, async (bay, candidate, ends, verdict) => {
    const { out, status, json } = await setOf(bay, candidate)
    expect({ status, verdict: json.verdict }).toEqual({ status: ends, verdict })
    expect(await filesIn(out)).toEqual(json.files.map(({ name }) => name).sort())
    for (const { name, bytes } of json.files) expect((await readFile(join(out, name))).length, name).toBe(bytes)
    expect(new Set(json.files.map(({ name }) => name.split('.').at(-1)))).toEqual(
      new Set(['pdf', 'json', 'csv', 'svg', 'dxf', 'stl', 'glb']),
    )
  })

  test.each([
    [tarnbeck, 'wide', null],
    [tarnbeck, 'deep', 'DOES NOT CLEAR: SHORT'],
    [tarnbeck, 'tall', 'DOES NOT CLEAR: FOULS'],
    [corvane, 'deep', 'NOT PROVED TO CLEAR'],
  ])('%s, %s: all pages have their foot; across them stands %s', { timeout: slow }, async (bay, candidate, across) => {
    const { out, json } = await setOf(bay, candidate)
    const pdf = await readPdf('sheets.pdf', await readFile(join(out, 'sheets.pdf')))
    if (!pdf.ok) throw new Error(JSON.stringify(pdf.faults))
    expect(pdf.value.pages.length).toBe(json.pages)
    pdf.value.pages.forEach((lines, n) => {
      const text = lines.join('\n')
      expect(text).toContain(`${n + 1} of ${json.pages}`)
      expect(text).toContain('2026-03-04')
      expect(text).toContain('Gapwright is a drawing aid.')
      expect(/DOES NOT CLEAR: [A-Z]+|NOT PROVED TO CLEAR/.exec(text)?.[0] ?? null).toBe(across)
    })
  })

  test('the first page names every pair that does not clear, as the ledger has them', async () => {
    const { out } = await setOf(tarnbeck, 'deep')
    const pdf = await readPdf('sheets.pdf', await readFile(join(out, 'sheets.pdf')))
    const ledger = JSON.parse((await cli(['check', tarnbeck, '--candidate', 'deep', '--json'])).out)
    const wanting = ledger.pairs.filter((pair: { verdict: string }) => pair.verdict !== 'clears')
    expect(wanting.length).toBeGreaterThan(1)
    const bay = JSON.parse(await readFile(tarnbeck, 'utf8'))
    const nameOf = (id: string) =>
      bay.keepOuts.find((one: { id: string }) => one.id === id.replace(/-mirror$/, ''))?.name ?? id
    if (!pdf.ok) throw new Error('unreadable')
    const first = pdf.value.pages[0].join(' ')
    for (const { keepOut } of wanting) expect(first).toContain(nameOf(keepOut))
  })

  test('the bay and its mesh travel inside, byte for byte', async () => {
    const { out } = await setOf(tarnbeck, 'wide')
    const pdf = await readPdf('sheets.pdf', await readFile(join(out, 'sheets.pdf')))
    if (!pdf.ok) throw new Error(JSON.stringify(pdf.faults))
    const { attachments } = pdf.value
    expect([...attachments.keys()].sort()).toEqual(['answer.json', 'bay.bay.json', 'meshes/bumper.ply.gz', 'set.json'])
    const same = async (name: string, file: string) =>
      Buffer.compare(attachments.get(name) ?? Buffer.of(), await readFile(file))
    expect(await same('bay.bay.json', tarnbeck)).toBe(0)
    expect(await same('meshes/bumper.ply.gz', 'assets/tarnbeck/bumper.ply.gz')).toBe(0)
    expect(await same('answer.json', join(out, 'answer.json'))).toBe(0)
  })

  test.runIf(hasPoppler)('a reader of other origin finds the same pages and attachments', async () => {
    const { out, json } = await setOf(corvane, 'narrow')
    const file = join(out, 'sheets.pdf')
    expect(poppler('pdfinfo', file)).toMatch(new RegExp(`Pages: +${json.pages}\n`))
    expect(poppler('pdfdetach', '-list', file)).toMatch(/^3 embedded files/)
    const text = poppler('pdftotext', file, '-') ?? ''
    expect(text.split('Gapwright is a drawing aid.').length - 1).toBeGreaterThanOrEqual(json.pages)
    expect(text).not.toContain('\ufffd')
  })

  test.runIf(hasPoppler).each([
    ['first page of what is short', tarnbeck, 'deep', /^Set of sheets/],
    ['overview', corvane, 'narrow', /^Overview/],
    ['pipe', corvane, 'narrow', /^Pipe Feed\b(?!, check)/],
    ['check on the car', corvane, 'narrow', /^Check on the car/],
  ])('the %s looks as it did when it was looked at', { timeout: slow }, async (name, bay, candidate, title) => {
    const { out } = await setOf(bay, candidate)
    const file = join(out, 'sheets.pdf')
    const pages = (poppler('pdftotext', '-layout', file, '-') ?? '').split('\f')
    const page = pages.findIndex((text) => title.test(text.trim())) + 1
    expect(page).toBeGreaterThan(0)
    const png = pageAsPng(file, page, 120)
    expect(png).not.toBeNull()
    expect(png && unlikeGolden(`sheet-${name.replaceAll(' ', '-')}`, png)).toBeNull()
  })

  test('two processes write the same bytes, file by file', async () => {
    const [one, two] = [at('one'), at('two')]
    for (const out of [one, two]) expect((await ended(start('sheets', corvane, '--out', out, ...day))).status).toBe(0)
    const files = await filesIn(one)
    expect(await filesIn(two)).toEqual(files)
    for (const file of files)
      expect(Buffer.compare(await readFile(join(one, file)), await readFile(join(two, file))), file).toBe(0)
  })

  test('Ctrl-C ends it with 130, and nothing lies there', async () => {
    const out = at('broken-off')
    const told = await interrupted(/of the work done/, 'sheets', tarnbeck, '--out', out)
    // A machine that is done before it has said anything was not interrupted.
    if (Number.isNaN(told.milliseconds)) return
    expect(told.status).toBe(130)
    expect((await readdir(place)).filter((name) => name.includes('broken-off'))).toEqual([])
  })

  test('--only, --paper, --revision, --units and --separator are heard', async () => {
    const out = at('asked')
    const asked = ['--only', 'gaps', '--paper', 'A3', '--revision', 'C7', '--units', 'mm', '--separator', 'semicolon']
    const { status } = await cli(['sheets', corvane, '--out', out, '--decimals', 'comma', ...asked, ...day])
    expect(status).toBe(0)
    const pdf = await readPdf('sheets.pdf', await readFile(join(out, 'sheets.pdf')))
    if (!pdf.ok) throw new Error(JSON.stringify(pdf.faults))
    for (const lines of pdf.value.pages) expect(lines.join('\n')).toMatch(/C7(.|\n)*mm, degrees/)
    const [head, first] = (await readFile(join(out, 'tables', 'gaps.csv'), 'utf8')).split('\r\n')
    expect(head.split(';').length).toBeGreaterThan(5)
    expect(first).toMatch(/;-?\d+,\d+;/)
    if (hasPoppler) expect(poppler('pdfinfo', join(out, 'sheets.pdf'))).toMatch(/Page size: .*\(A3\)/)
  })

  test.each([
    ['an unknown paper', ['--paper', 'A5'], /--paper.*A4, A3, Letter/s],
    ['an unknown scale', ['--scale', '1:7'], /standard scale: 1:1, 1:2, 1:5/],
    ['a day that there is not', ['--date', '2026-02-30'], /YYYY-MM-DD/],
    ['a long revision', ['--revision', 'x'.repeat(21)], /at most 20/],
    ['an unknown sheet', ['--only', 'gaps,weather'], /one or more of overview/],
    ['an unknown candidate', ['--candidate', 'none'], /none/],
    ['an unknown separator', ['--separator', 'dash'], /comma, semicolon, tab/],
  ])('refuses %s with 2 and writes nothing', async (_, options, says) => {
    const out = at('refused')
    const { status, err } = await cli(['sheets', corvane, '--out', out, ...options])
    expect(status).toBe(2)
    expect(err).toMatch(says)
    expect(await readdir(place)).not.toContain('refused')
  })

  test('a file of that name, a folder that holds something, and no folder to lie in are refused, and stay', async () => {
    await writeFile(at('taken'), 'mine')
    await mkdir(at('full'))
    await writeFile(join(at('full'), 'notes.txt'), 'mine')
    const tries: [string, RegExp][] = [
      [at('taken'), /a file of that name/],
      [at('full'), /notes\.txt.*|--force/],
      [join(at('gone'), 'out'), /its folder is not there/],
    ]
    for (const [out, says] of tries) {
      const { status, err } = await cli(['sheets', corvane, '--out', out])
      expect(status, out).toBe(2)
      expect(err).toMatch(says)
    }
    expect(await readFile(at('taken'), 'utf8')).toBe('mine')
    expect(await readdir(at('full'))).toEqual(['notes.txt'])
    const forced = await cli(['sheets', corvane, '--only', 'gaps', '--out', at('full'), '--force'])
    expect(forced.status).toBe(0)
    expect(await readdir(at('full'))).toEqual(expect.arrayContaining(['notes.txt', 'sheets.pdf']))
    expect(await readFile(join(at('full'), 'notes.txt'), 'utf8')).toBe('mine')
  })

  test.runIf(process.getuid?.() !== 0)(
    'a folder without permission is refused before anything is left in it',
    async () => {
      await mkdir(at('closed'))
      await chmod(at('closed'), 0o500)
      const { status, err } = await cli(['sheets', corvane, '--out', join(at('closed'), 'out')])
      await chmod(at('closed'), 0o700)
      expect({ status, told: /no permission/.test(err) }).toEqual({ status: 2, told: true })
    },
  )
})
