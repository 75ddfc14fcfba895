import { chmod, mkdir, mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { readPdf } from '../app/files/readPdf.ts'
import { cli } from './kit/cli.ts'
import { unlikeGolden } from './kit/goldenPicture.ts'
import { hasPoppler, pageAsPng, poppler, repacked, reworded } from './kit/pdfs.ts'
import { ended, interrupted, start } from './kit/program.ts'

/* Sets of sheets as people make them: written, read by other readers, taken apart again and found out when changed. */
const tarnbeck = 'assets/tarnbeck/tarnbeck.bay.json'
const corvane = 'assets/corvane/corvane.bay.json'
const day = ['--date', '2026-03-04']
/** Sets of the Tarnbeck bay on a machine that has other things to do, ms. */
const slow = 300_000

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

describe('gapwright again', () => {
  let count = 0
  async function again(bytes: Uint8Array, ...options: string[]) {
    const file = at(`again-${count++}.pdf`)
    await writeFile(file, bytes)
    const told = await cli(['again', file, '--json', ...options])
    return { ...told, json: told.status < 2 ? JSON.parse(told.out) : null }
  }
  const pdfOf = async (bay: string, candidate: string) =>
    readFile(join((await setOf(bay, candidate)).out, 'sheets.pdf'))
  /** A short set, to be forged: each of them is made again. */
  let short: Buffer
  beforeAll(async () => {
    const out = at('short')
    await cli(['sheets', corvane, '--only', 'on-the-car', '--out', out, ...day])
    short = await readFile(join(out, 'sheets.pdf'))
  })

  test('says that every number of a whole set holds, and how many there are', { timeout: slow }, async () => {
    const { status, json } = await again(await pdfOf(tarnbeck, 'wide'))
    expect(json).toMatchObject({ command: 'again', answer: 'holds', changed: [], lines: [], candidate: 'wide' })
    expect(status).toBe(0)
    expect(json.figures).toBeGreaterThan(1000)
  })

  test('says so in words', async () => {
    const { out } = await cli(['again', join(at('short'), 'sheets.pdf')])
    expect(out).toMatch(/sheets of Corvane HC, right sidepod, candidate narrow, of 2026-03-04\./)
    expect(out).toMatch(/Every number still holds: \d+ figures and the text of \d+ pages are the same\./)
  })

  test('catches a number that was changed in the answer', async () => {
    const { bytes, changed } = repacked(short, (stream) =>
      stream.includes('"format": "gapwright-answer"') ? stream.replace(/("margin": )(\d)/, '$19$2') : null,
    )
    expect(changed).toBe(1)
    const { status, json } = await again(bytes)
    expect(status).toBe(1)
    expect(json.answer).toBe('differs')
    expect(json.changed.length).toBe(1)
    expect(json.changed[0].path).toMatch(/^ledger\.pairs\[.*\]\.margin$/)
    expect(json.lines).toEqual([])
  })

  test('catches a bay that was changed: gaps, pages and the sha256 on them are others', async () => {
    const { bytes, changed } = repacked(short, (stream) =>
      stream.includes('"format": "gapwright-bay"') ? stream.replace(/("depth": ?\d*)\d/, '$11') : null,
    )
    expect(changed).toBe(1)
    const { status, json } = await again(bytes)
    expect(status).toBe(1)
    expect(json.changed.map(({ path }: { path: string }) => path)).toContain('bay.sha256')
    expect(json.lines.length).toBeGreaterThan(json.pages.after)
  })

  test('catches a letter that was changed on a page', async () => {
    let left = 1
    // A shown string is hexadecimal numbers of glyphs (ISO 32000-1, 9.4.3); the pages' content has no other long ones.
    const { bytes, changed } = repacked(short, (stream) => {
      const shown = /<([0-9a-f]{4})([0-9a-f]{4})([0-9a-f]*)> /.exec(stream)
      if (left === 0 || !stream.includes(' TJ') || !shown) return null
      left--
      const [whole, first, second, rest] = shown
      return first === second ? null : stream.replace(whole, `<${second}${first}${rest}> `)
    })
    expect(changed).toBe(1)
    const { status, json } = await again(bytes)
    expect(status).toBe(1)
    expect(json.changed).toEqual([])
    expect(json.lines.length).toBe(1)
  })

  test('another version of the program is said, and is no fault', async () => {
    const version = JSON.parse(await readFile('package.json', 'utf8')).version as string
    const { bytes, changed } = repacked(short, (stream) =>
      stream.includes('"gapwright-sheets"') ? JSON.stringify({ ...JSON.parse(stream), program: '0.0.1' }) : null,
    )
    expect(changed).toBe(1)
    const { status, json } = await again(bytes)
    expect(json.program).toEqual({ before: '0.0.1', after: version })
    expect(status).toBe(0)
  })

  test.each(['bay.bay.json', 'set.json', 'answer.json'])('says that %s is not inside', async (name) => {
    const bytes = reworded(short, `(${name})`, `(${name.replace('j', 'x')})`)
    const { status, err } = await again(bytes)
    expect(status).toBe(2)
    expect(err).toMatch(new RegExp(`${name}: not inside the PDF`))
  })

  test('meshes that do not travel inside are taken from the folder that is named, and missed without it', async () => {
    const out = at('with-mesh')
    await cli(['sheets', tarnbeck, '--candidate', 'standard', '--only', 'on-the-car', '--out', out, ...day])
    const whole = await readFile(join(out, 'sheets.pdf'))
    const gone = reworded(whole, '(meshes/bumper.ply.gz)', '(meshes/bumper.ply.xx)')
    const without = await again(gone)
    expect(without.status).toBe(2)
    expect(without.err).toMatch(/bumper\.ply\.gz.*not inside the PDF; expected the folder that it lies in, by --beside/)
    const beside = await again(gone, '--beside', 'assets/tarnbeck')
    expect(beside.json).toMatchObject({ answer: 'holds' })
  })

  test.each([
    ['nothing at all', Buffer.of(), /expected a PDF file/],
    ['a text', Buffer.from('Gaps: 3 mm'), /expected a PDF file/],
    ['a PDF without its end', null, /expected a PDF that can be read|not inside the PDF/],
  ])('refuses %s with 2', async (_, bytes, says) => {
    const { status, err } = await again(bytes ?? short.subarray(0, 20_000))
    expect(status).toBe(2)
    expect(err).toMatch(says)
  })

  test('there is no such file, and a folder is none', async () => {
    for (const file of [at('nowhere.pdf'), place]) expect((await cli(['again', file])).status).toBe(2)
  })
})
