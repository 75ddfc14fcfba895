import type { Content, TDocumentDefinitions } from 'pdfmake/interfaces'
// The build for browsers in every home: Node's own zlib packs otherwise, and the same set must give the same bytes.
import pdfmake from 'pdfmake/build/pdfmake.js'
import type { Figure } from '../../../core/sheet/figure/figure.ts'
import type { Verdict } from '../../../core/verdict/answer.ts'
import type { PaperName } from '../context.ts'
import type { SheetFonts } from '../settings.ts'
import type { Block, Sheet } from '../sheet.ts'
import { base64 } from './base64.ts'
import { drawn, type FlowBlock, flowContent, scalesIn } from './blocks.ts'
import { type PageFacts, pageFoot, pageHead, scalesText } from './head.ts'
import { verdictInk } from './marks.ts'
import { margins, type Orientation, pageSize, pointsPerMm, roomOf } from './page.ts'

/** A file that travels inside the PDF. */
export interface Attachment {
  readonly name: string
  readonly bytes: Uint8Array
  /** Media type. */
  readonly type: string
  readonly about: string
}

/** What goes onto paper, and what goes along with it. */
export interface PdfWish {
  /** The cover comes first. */
  readonly sheets: readonly PdfSheet[]
  readonly page: PageFacts
  readonly paper: PaperName
  /** What stands across every page; null where the candidate clears. */
  readonly across: { readonly text: string; readonly verdict: Verdict } | null
  readonly attachments: readonly Attachment[]
}

export interface PdfSheet extends Pick<Sheet, 'title' | 'orientation' | 'blocks'> {}

/** Name of the family that figures ask for, too. */
const family = 'DejaVu Sans Condensed'
const files = { regular: 'DejaVuSansCondensed.ttf', bold: 'DejaVuSansCondensed-Bold.ttf' }

/**
 * Lays sheets out on paper: text that can be selected, bookmarks, the face embedded, figures at their true scale.
 * @returns bytes that depend on nothing but what is given, and how many pages they are
 */
export async function sheetPdf(wish: PdfWish, fonts: SheetFonts): Promise<{ bytes: Uint8Array; pages: number }> {
  // Nothing is ever fetched, whatever a name in a bay looks like.
  pdfmake.setUrlAccessPolicy(() => false)
  pdfmake.addVirtualFileSystem({ [files.regular]: base64(fonts.regular), [files.bold]: base64(fonts.bold) })
  pdfmake.setFonts({ [family]: { normal: files.regular, bold: files.bold } })
  let pages = 0
  const counted = (_: number, count: number) => {
    pages = count
  }
  const bytes = await pdfmake.createPdf(document(wish, counted)).getBuffer()
  return { bytes: new Uint8Array(bytes), pages }
}

function document(wish: PdfWish, counted: (page: number, count: number) => void): TDocumentDefinitions {
  const { page, attachments } = wish
  const date = new Date(`${page.date}T00:00:00Z`)
  return {
    version: '1.7',
    language: 'en',
    displayTitle: true,
    info: {
      title: `${page.bay}: ${page.candidate}${page.revision ? `, revision ${page.revision}` : ''}`,
      subject: 'Sheets to make a charge-air cooler from and to check it on the car',
      keywords: `bay-sha256:${page.sha256}`,
      creator: `Gapwright ${page.version}`,
      producer: 'Gapwright, by pdfmake',
      creationDate: date,
      modDate: date,
    },
    defaultStyle: { font: family, fontSize: 8.5, lineHeight: 1.08 },
    files: Object.fromEntries(attachments.map((one) => [one.name, attached(one, date)])),
    content: wish.sheets.flatMap((sheet, n) => sections(sheet, n, wish, counted)),
  }
}

const attached = ({ name, bytes, type, about }: Attachment, date: Date) => ({
  src: `data:${type};base64,${base64(bytes)}`,
  name,
  description: about,
  relationship: 'Source' as const,
  creationDate: date,
  modifiedDate: date,
})

/** One section of pages for what flows, one for each figure that fills a page. */
function sections(
  sheet: PdfSheet,
  number: number,
  wish: PdfWish,
  counted: (page: number, count: number) => void,
): Content[] {
  const runs = runsOf(sheet.blocks)
  return runs.map((run, n) => {
    const whole = run.kind === 'page' ? run : null
    const orientation = whole?.orientation ?? sheet.orientation
    const title = whole ? whole.title : sheet.title
    const blocks = run.kind === 'flow' ? run.blocks : []
    const room = inPoints(roomOf(wish.paper)(orientation))
    const scales = (whole ? [whole] : blocks).flatMap((block) => scalesIn(block, room))
    const body = whole ? [drawn(whole.figure, room)] : flowContent(blocks, room)
    const first = n === 0 ? [bookmark(sheet.title, number)] : []
    const last = number === 0 && n === runs.length - 1 ? contentsOf(wish.sheets) : []
    return section(wish, { title, orientation, scales, body: [...first, ...body, ...last] }, counted)
  })
}

interface Section {
  readonly title: string
  readonly orientation: Orientation
  readonly scales: readonly Figure['scale'][]
  readonly body: readonly Content[]
}

function section(
  { page, paper, across }: PdfWish,
  { title, orientation, scales, body }: Section,
  counted: (page: number, count: number) => void,
): Content {
  const { width, height } = inPoints(pageSize(paper, orientation))
  const within = inPoints(roomOf(paper)(orientation)).width
  const scale = scalesText(scales)
  return {
    section: [...body],
    pageSize: { width, height },
    pageOrientation: orientation,
    pageMargins: [margins.left, margins.top, margins.right, margins.bottom].map((mm) => mm * pointsPerMm) as [
      number,
      number,
      number,
      number,
    ],
    header: () => pageHead(title, page, within),
    footer: (current: number, count: number) => {
      counted(current, count)
      return pageFoot(page, scale, `${current} of ${count}`, within)
    },
    ...(across && {
      watermark: { text: across.text, color: verdictInk[across.verdict], opacity: 0.13, bold: true },
    }),
  }
}

/** Name of a sheet's first page, by its place in the set. */
const nameOf = (number: number): string => `sheet-${number}`

/** The library hangs bookmarks on texts; this one is not seen, so that it costs a page of one figure no room. */
const bookmark = (text: string, number: number): Content => ({
  text: ' ',
  id: nameOf(number),
  outline: true,
  outlineText: text,
  fontSize: 1,
  absolutePosition: { x: margins.left * pointsPerMm, y: 7 * pointsPerMm },
})

/** On the first sheet: all others and where they begin. */
const contentsOf = (sheets: readonly PdfSheet[]): Content[] =>
  sheets.length < 2
    ? []
    : [
        { text: 'In this set', bold: true, fontSize: 9.5, margin: [0, 4, 0, 3] },
        {
          table: {
            widths: ['auto', 'auto'],
            body: sheets
              .map(({ title }, number): Content[] => [
                { text: title, linkToDestination: nameOf(number) },
                { text: [{ text: 'page ' }, { pageReference: nameOf(number) }] },
              ])
              .slice(1),
          },
          layout: 'noBorders',
        },
      ]

type Run = { readonly kind: 'flow'; readonly blocks: readonly FlowBlock[] } | Extract<Block, { kind: 'page' }>

function runsOf(blocks: readonly Block[]): Run[] {
  const runs: Run[] = []
  let flow: FlowBlock[] = []
  const close = () => {
    if (flow.length > 0) runs.push({ kind: 'flow', blocks: flow })
    flow = []
  }
  for (const block of blocks) {
    if (block.kind === 'page') {
      close()
      runs.push(block)
    } else flow.push(block)
  }
  close()
  return runs
}

const inPoints = ({ width, height }: { width: number; height: number }) => ({
  width: width * pointsPerMm,
  height: height * pointsPerMm,
})
