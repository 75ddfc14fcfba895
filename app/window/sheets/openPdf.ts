import {
  AnnotationMode,
  getDocument,
  type PDFDocumentLoadingTask,
  type PDFDocumentProxy,
  type PDFPageProxy,
  PDFWorker,
} from 'pdfjs-dist/legacy/build/pdf.mjs'
import type { Contents } from './zoom.ts'

/** A set of sheets whose pages can be drawn. */
export interface OpenPdf {
  readonly contents: Contents
  /** @param index from 0 */
  page(index: number): Promise<PDFPageProxy>
  /** Lines of what a page says, in its order, for those who do not see it. */
  lines(index: number): Promise<readonly string[]>
  close(): void
}

let port: Worker | null = null

/** Opens a PDF that this window has made. @param bytes stay the caller's */
export async function openPdf(bytes: Uint8Array): Promise<OpenPdf> {
  port ??= new Worker(new URL('./pdfWorker.ts', import.meta.url), { type: 'module' })
  const task = getDocument({
    data: bytes.slice(),
    worker: PDFWorker.create({ port }),
    // Nothing is ever compiled from what a file says, and nothing fetched for it.
    isEvalSupported: false,
    enableXfa: false,
    useWorkerFetch: false,
    useWasm: false,
    stopAtErrors: false,
  })
  const pdf = await task.promise
  return { contents: await contentsOf(pdf), page: (i) => pdf.getPage(i + 1), lines: linesOf(pdf), close: closing(task) }
}

const closing = (task: PDFDocumentLoadingTask) => () => void task.destroy().catch(() => {})

async function contentsOf(pdf: PDFDocumentProxy): Promise<Contents> {
  const proxies = await Promise.all(Array.from({ length: pdf.numPages }, (_, i) => pdf.getPage(i + 1)))
  const pages = proxies.map((page) => {
    const { width, height } = page.getViewport({ scale: 1 })
    return { width, height }
  })
  const outline = (await pdf.getOutline()) ?? []
  const marks = await Promise.all(
    outline.map(async ({ title, dest }) => {
      const target = typeof dest === 'string' ? await pdf.getDestination(dest) : dest
      return { title, page: target ? await pdf.getPageIndex(target[0]) : 0 }
    }),
  )
  return { pages, marks }
}

const linesOf = (pdf: PDFDocumentProxy) => async (index: number) => {
  const { items } = await (await pdf.getPage(index + 1)).getTextContent()
  const lines: string[] = []
  let line = ''
  for (const item of items) {
    if (!('str' in item)) continue
    line += item.str
    if (!item.hasEOL) continue
    lines.push(line)
    line = ''
  }
  return [...lines, line].map((text) => text.replace(/\s+/g, ' ').trim()).filter((text) => text !== '')
}

/** A running picture of a page that can be given up. */
export interface DrawnPage {
  readonly canvas: HTMLCanvasElement
  readonly done: Promise<void>
  cancel(): void
}

/** Above this a browser may refuse the canvas, pixels. */
const mostPixels = 2 ** 24

/** @param scale pixels of the page to a point */
export function drawnPage(page: PDFPageProxy, scale: number): DrawnPage {
  const size = page.getViewport({ scale })
  const finer = Math.min(devicePixelRatio, Math.sqrt(mostPixels / (size.width * size.height)))
  const canvas = document.createElement('canvas')
  canvas.width = Math.floor(size.width * finer)
  canvas.height = Math.floor(size.height * finer)
  const task = page.render({
    canvas,
    viewport: page.getViewport({ scale: scale * finer }),
    annotationMode: AnnotationMode.DISABLE,
  })
  return { canvas, done: task.promise, cancel: () => task.cancel() }
}
