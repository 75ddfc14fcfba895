import type { TextItem } from 'pdfjs-dist/types/src/display/api.js'
import { bad, good, type Outcome } from '../../core/fault.ts'
import { guardPdf } from './pdfGuard.ts'

/** What a PDF says and carries. */
export interface ReadPdf {
  /** Lines of text of each page, in the order in which they were written. */
  readonly pages: readonly (readonly string[])[]
  /** By name. */
  readonly attachments: ReadonlyMap<string, Uint8Array>
}

/** More pages than any set has. */
const mostPages = 2000

/**
 * Reads the text and the attachments of a PDF; nothing in it is run, fetched or drawn.
 * @param name as the user knows the file; it stands in the faults
 */
export async function readPdf(name: string, bytes: Uint8Array): Promise<Outcome<ReadPdf>> {
  const guarded = await guardPdf(name, bytes)
  if (!guarded.ok) return guarded
  const pdfjs = await reader()
  // A copy: the reader takes over the bytes that it is given.
  const task = pdfjs.getDocument({
    data: new Uint8Array(bytes),
    isEvalSupported: false,
    enableXfa: false,
    disableFontFace: true,
    useSystemFonts: false,
    stopAtErrors: true,
    verbosity: 0,
  })
  try {
    const document = await task.promise
    if (document.numPages > mostPages)
      return bad({ code: 'pdf-not-ours', file: name, expected: `at most ${mostPages} pages`, got: document.numPages })
    const pages: string[][] = []
    for (let n = 1; n <= document.numPages; n++) {
      const { items } = await (await document.getPage(n)).getTextContent()
      pages.push(linesOf(items.filter((item): item is TextItem => 'str' in item)))
    }
    const found = (await document.getAttachments()) as Record<string, { content: Uint8Array | null }> | null
    const attachments = new Map(
      Object.entries(found ?? {}).flatMap(([key, { content }]) => (content ? [[key, content] as const] : [])),
    )
    return good({ pages, attachments })
  } catch (error) {
    const got = error instanceof Error ? error.message : String(error)
    return bad({ code: 'pdf-not-ours', file: name, expected: 'a PDF that can be read', got })
  } finally {
    await task.destroy()
  }
}

function linesOf(items: readonly TextItem[]): string[] {
  const lines = ['']
  for (const { str, hasEOL } of items) {
    lines[lines.length - 1] += str
    if (hasEOL) lines.push('')
  }
  return lines.filter((line) => line !== '')
}

/** Only when it is wanted: it takes longer to load than most commands take. */
async function reader() {
  // Without its worker at hand the library would look for a file beside itself, which a bundled program has not.
  // @ts-expect-error the library has types for its other half alone
  const worker: unknown = await import('pdfjs-dist/legacy/build/pdf.worker.mjs')
  Object.assign(globalThis, { pdfjsWorker: worker })
  return import('pdfjs-dist/legacy/build/pdf.mjs')
}
