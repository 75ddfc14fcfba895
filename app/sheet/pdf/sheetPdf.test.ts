import { mkdtemp, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { hasPoppler, poppler } from '../../../test/kit/pdfs.ts'
import type { Figure } from '../../../core/sheet/figure/figure.ts'
import { sheetFonts } from '../../command/fonts.ts'
import { readPdf } from '../../files/readPdf.ts'
import type { PaperName } from '../context.ts'
import type { SheetFonts } from '../settings.ts'
import { acrossEveryPage } from './across.ts'
import { linesDrawn } from '../../../test/kit/linesDrawn.ts'
import { roomOf } from './page.ts'
import { type PdfSheet, type PdfWish, sheetPdf } from './sheetPdf.ts'

let fonts: SheetFonts
let folder: string
beforeAll(async () => {
  fonts = await sheetFonts()
  folder = await mkdtemp(join(tmpdir(), 'pdf-'))
})
afterAll(() => rm(folder, { recursive: true }))

/** A bar of 100 mm, and nothing else. */
const bar = (width: number, height: number): Figure => ({
  id: 'bar',
  width,
  height,
  scale: { paper: 1, real: 1 },
  items: [
    {
      kind: 'line',
      stroke: 'outline',
      points: [
        [20, 15],
        [120, 15],
      ],
    },
  ],
})

const signs = 'Signs: ⌀ 57, ± 0.5, 90°, 3 × 4, 4 ½, −1, ≥ 3, 26 3/8″'
const rows = 90

function sheets(paper: PaperName): PdfSheet[] {
  const room = roomOf(paper)
  return [
    {
      title: 'Flowing',
      orientation: 'portrait',
      blocks: [
        { kind: 'text', text: signs },
        { kind: 'figure', figure: bar(140, 30) },
        {
          kind: 'table',
          table: {
            id: 'gaps',
            columns: [
              { id: 'name', head: 'Keep-out', quantity: 'text' },
              { id: 'gap', head: 'Gap in mm', quantity: 'length', wide: 0 },
              { id: 'verdict', head: 'Verdict', quantity: 'text', wide: 0 },
            ],
            rows: Array.from({ length: rows }, (_, n) => [
              { text: `Keep-out-${n}.` },
              { text: String(n), value: n },
              { text: 'clears', verdict: 'clears' },
            ]),
          },
        },
        { kind: 'sign', lines: ['Name', 'Date'] },
      ],
    },
    {
      title: 'Whole pages',
      orientation: 'landscape',
      blocks: (['landscape', 'portrait'] as const).map((orientation) => ({
        kind: 'page',
        orientation,
        title: `In ${orientation}`,
        figure: bar(room(orientation).width, room(orientation).height),
      })),
    },
  ]
}

const wish = (change: Partial<PdfWish> = {}): PdfWish => ({
  sheets: sheets(change.paper ?? 'A4'),
  paper: 'A4',
  page: {
    bay: 'Tarnbeck 300',
    candidate: 'Wide',
    revision: 'B2',
    sha256: '0123456789abcdef'.repeat(4),
    version: '9.8.7',
    date: '2026-02-03',
    units: 'mm',
    projection: 'first-angle',
  },
  across: null,
  attachments: [],
  ...change,
})

async function read(bytes: Uint8Array) {
  const pdf = await readPdf('test.pdf', bytes)
  if (!pdf.ok) throw new Error(JSON.stringify(pdf.faults))
  return pdf.value
}

describe('sheetPdf', () => {
  it.each(['A4', 'A3', 'Letter'] as const)('draws 100 mm as 100 mm on %s, wherever a figure stands', async (paper) => {
    const { bytes, pages } = await sheetPdf(wish({ paper }), fonts)
    const lines = await linesDrawn(bytes)
    // ISO 32000-1, 8.3.2.3 (from memory): a unit of user space is 1/72 inch; an inch is 25.4 mm.
    const bars = lines.filter(({ length }) => Math.abs(length - (100 * 72) / 25.4) < 1e-3)
    expect(bars.map(({ page }) => page)).toEqual([1, pages - 1, pages])
  })

  it('claims no scale for what has to be drawn smaller than it says', async () => {
    const blocks = [{ kind: 'figure', figure: bar(140, 30) }] as const
    const wide = [{ kind: 'figure', figure: bar(400, 30) }] as const
    const of = (own: PdfSheet['blocks']) => wish({ sheets: [{ title: 'One', orientation: 'portrait', blocks: own }] })
    const said = async (own: PdfSheet['blocks']) =>
      (await read((await sheetPdf(of(own), fonts)).bytes)).pages[0].join(' ')
    const [true100, shrunk] = [await said(blocks), await said(wide)]
    expect(true100).toContain('Scale 1 : 1.')
    expect(true100).not.toContain('not to be measured')
    expect(shrunk).not.toContain('1 : 1')
    expect(shrunk).toContain('not to be measured')
  })

  it('says on each page whose it is, what it was made from, and what it may not be taken for', async () => {
    const { bytes, pages } = await sheetPdf(wish(), fonts)
    const told = await read(bytes)
    expect(told.pages.length).toBe(pages)
    expect(pages).toBeGreaterThan(3)
    told.pages.forEach((lines, n) => {
      const text = lines.join('\n')
      for (const part of [
        'Tarnbeck 300',
        'Wide',
        'B2',
        '0123456789ab',
        'Gapwright 9.8.7',
        '2026-02-03',
        'mm, degrees',
        'first angle',
        '1 : 1',
        `${n + 1} of ${pages}`,
        'Gapwright is a drawing aid.',
        'Nothing here is a reason to cut or',
      ])
        expect(text, `page ${n + 1}`).toContain(part)
    })
  })

  it('loses no row of a table and repeats its head on every page that it takes', async () => {
    const { pages } = await read((await sheetPdf(wish(), fonts)).bytes)
    const all = pages.flat().join('\n')
    for (let n = 0; n < rows; n++) expect(all.split(`Keep-out-${n}.`).length, `row ${n}`).toBe(2)
    const withRows = pages.filter((lines) => lines.some((line) => line.includes('Keep-out-')))
    expect(withRows.length).toBeGreaterThan(1)
    for (const lines of withRows) expect(lines.join('\n')).toContain('Gap')
  })

  it('lists the sheets with the pages where they begin, and has a bookmark for each', async () => {
    const { bytes, pages } = await sheetPdf(wish(), fonts)
    const all = (await read(bytes)).pages.flat().join(' ')
    expect(all).toMatch(new RegExp(`In this set Whole pages *page *${pages - 1} `))
    const { getDocument } = await import('pdfjs-dist/legacy/build/pdf.mjs')
    const document = await getDocument({ data: bytes.slice(), isEvalSupported: false, verbosity: 0 }).promise
    expect((await document.getOutline()).map(({ title }) => title)).toEqual(['Flowing', 'Whole pages'])
    expect((await document.getMetadata()).info).toMatchObject({ Language: 'en', Creator: 'Gapwright 9.8.7' })
    await document.destroy()
  })

  it.each([
    ['unproved', 'NOT PROVED TO CLEAR'],
    ['short', 'DOES NOT CLEAR: SHORT'],
    ['fouls', 'DOES NOT CLEAR: FOULS'],
  ] as const)('stands across every page of a candidate that is %s', async (verdict, words) => {
    const { pages } = await read((await sheetPdf(wish({ across: acrossEveryPage(verdict) }), fonts)).bytes)
    for (const lines of pages) expect(lines.join('\n')).toContain(words)
  })

  it('has nothing across the pages of a candidate that clears', async () => {
    const { pages } = await read((await sheetPdf(wish({ across: acrossEveryPage('clears') }), fonts)).bytes)
    expect(pages.flat().join('\n')).not.toMatch(/DOES NOT|NOT PROVED/)
  })

  it('gives the same bytes each time, and others for another day', async () => {
    const [first, second] = [await sheetPdf(wish(), fonts), await sheetPdf(wish(), fonts)]
    expect(Buffer.compare(first.bytes, second.bytes)).toBe(0)
    const other = await sheetPdf(wish({ page: { ...wish().page, date: '2026-02-04' } }), fonts)
    expect(Buffer.compare(first.bytes, other.bytes)).not.toBe(0)
  })

  it('gives back byte for byte what travels inside', async () => {
    const every = Uint8Array.from({ length: 70_000 }, (_, n) => (n * 7 + (n >> 8)) & 255)
    const attachments = [
      { name: 'set.json', bytes: new TextEncoder().encode('{"ä": "″"}'), type: 'application/json', about: 'Set' },
      { name: 'meshes/a b.stl', bytes: every, type: 'application/octet-stream', about: 'Mesh' },
    ]
    const { attachments: found } = await read((await sheetPdf(wish({ attachments }), fonts)).bytes)
    for (const { name, bytes } of attachments)
      expect(Buffer.compare(found.get(name) ?? Buffer.of(), bytes), name).toBe(0)
  })

  it.runIf(hasPoppler)('reads the same to a reader of other origin', async () => {
    const file = join(folder, 'set.pdf')
    const { bytes, pages } = await sheetPdf(wish({ across: acrossEveryPage('short') }), fonts)
    await writeFile(file, bytes)
    const info = poppler('pdfinfo', file) ?? ''
    expect(info).toMatch(new RegExp(`Pages: +${pages}\n`))
    expect(info).toMatch(/Title: +Tarnbeck 300: Wide, revision B2\n/)
    expect(info).toMatch(/CreationDate: +Tue Feb +3 00:00:00 2026/)
    expect(info).toMatch(/Page size: +595\.27\d* x 841\.8\d* pts \(A4\)/)
    expect(poppler('pdftotext', file, '-')).toContain(signs)
    // Columns of pdffonts: name, type, encoding, emb, sub, uni. The face is embedded, and its text can be copied.
    const faces = (poppler('pdffonts', file) ?? '').split('\n').slice(2).filter(Boolean)
    expect(faces.length).toBe(2)
    for (const face of faces) expect(face).toMatch(/DejaVuSansCondensed.* yes +yes +yes/)
  })
})
