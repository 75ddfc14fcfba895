import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { cli } from './kit/cli.ts'
import { repacked, reworded } from './kit/pdfs.ts'
import { corvane, day, slow, tarnbeck } from './kit/sheetSets.ts'

/* Sets of sheets taken apart again, and found out when they were changed. */
let place: string
beforeAll(async () => {
  place = await mkdtemp(join(tmpdir(), 'sheets-again-'))
})
afterAll(() => rm(place, { recursive: true }))
const at = (name: string) => join(place, name)

describe('gapwright again', () => {
  let count = 0
  async function again(bytes: Uint8Array, ...options: string[]) {
    const file = at(`again-${count++}.pdf`)
    await writeFile(file, bytes)
    const told = await cli(['again', file, '--json', ...options])
    return { ...told, json: told.status < 2 ? JSON.parse(told.out) : null }
  }
  /** A short set, to be forged: each of them is made again. */
  let short: Buffer
  beforeAll(async () => {
    const out = at('short')
    await cli(['sheets', corvane, '--only', 'on-the-car', '--out', out, ...day])
    short = await readFile(join(out, 'sheets.pdf'))
  })

  test('says that every number of a whole set holds, and how many there are', { timeout: slow }, async () => {
    const out = at('whole')
    await cli(['sheets', tarnbeck, '--candidate', 'wide', '--out', out, ...day])
    const { status, json } = await again(await readFile(join(out, 'sheets.pdf')))
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
