import packageJson from '../../package.json' with { type: 'json' }
import type { Meshes } from '../../core/bay/part.ts'
import type { Bay } from '../../core/bay/schema.ts'
import { good, type Outcome } from '../../core/fault.ts'
import { drawnThings } from '../../core/sheet/drawing/drawing.ts'
import { wholeAnswer } from '../../core/sheet/facts/answer.ts'
import { sheetFacts } from '../../core/sheet/facts/facts.ts'
import { LedgerMemory } from '../../core/verdict/memory.ts'
import type { SheetContext } from './context.ts'
import { coverSheet } from './cover.ts'
import { sheetKinds } from './kinds/all.ts'
import { acrossEveryPage } from './pdf/across.ts'
import { roomOf } from './pdf/page.ts'
import { sheetPdf } from './pdf/sheetPdf.ts'
import { setFiles } from './setFiles.ts'
import type { SheetFonts, SheetOrigin, SheetSet, SheetSettings } from './settings.ts'
import { type Sheet, sheetIds } from './sheet.ts'
import { jsonOf, travelling, travelNames, travelSet, utf8 } from './travel.ts'

/** What a set of sheets is made from. */
export interface SetRequest {
  readonly bay: Bay
  /** Id; undefined: the first of the bay. */
  readonly candidate: string | undefined
  readonly meshes: Meshes
  readonly origin: SheetOrigin
  readonly settings: SheetSettings
  readonly fonts: SheetFonts
}

export interface SetWatch {
  readonly stop: () => 'time' | 'cancelled' | null
  /** Share of the work that is done, 0 to 1. */
  readonly progress: (share: number) => void
}

/** Share of the work that goes into the facts, and that is done when all is drawn, roughly. */
const factsShare = 0.7
const drawnShare = 0.85

/**
 * The whole set of one candidate: pages and files, from nothing but what is given.
 * @returns null where it was stopped before it was whole; faults of the bay as the ledger tells them
 */
export async function makeSet(request: SetRequest, { stop, progress }: SetWatch): Promise<Outcome<SheetSet | null>> {
  const { bay, candidate, meshes } = request
  const memory = new LedgerMemory()
  const options = { stop, progress: (share: number) => progress(share * factsShare) }
  const facts = sheetFacts(bay, candidate, meshes, options, memory)
  if (!facts.ok) return facts
  if (stop() !== null) return good(null)
  const things = drawnThings(bay, facts.value.candidate, meshes, memory.workshop)
  if (!things.ok) return things
  const { paper, units, projection, scale } = request.settings
  const context = { facts: facts.value, things: things.value, units, paper, projection, scale, room: roomOf(paper) }
  const sheets: Sheet[] = []
  const wanted = sheetIds.filter((id) => request.settings.sheets?.includes(id) ?? true)
  for (const [n, id] of wanted.entries()) {
    sheets.push(...sheetKinds[id](context))
    progress(factsShare + ((drawnShare - factsShare) * (n + 1)) / wanted.length)
    if (stop() !== null) return good(null)
  }
  return good(await assembled(request, context, sheets))
}

/** Pages and files from sheets that are all there. */
async function assembled(request: SetRequest, context: SheetContext, sheets: readonly Sheet[]): Promise<SheetSet> {
  const { origin, settings, fonts } = request
  const { bay, candidate, ledger } = context.facts
  const { version } = packageJson
  const answer = jsonOf(wholeAnswer(context.facts, origin.sha256))
  const set = travelSet(origin, settings, candidate.id, version)
  const { revision, date, paper, units, projection } = settings
  const { bytes, pages } = await sheetPdf(
    {
      sheets: [coverSheet(context, origin, settings, version), ...sheets],
      page: {
        bay: bay.name,
        candidate: candidate.name,
        revision,
        sha256: origin.sha256,
        version,
        date,
        units,
        projection,
      },
      paper,
      across: acrossEveryPage(ledger.verdict),
      attachments: travelling(origin, set, answer),
    },
    fonts,
  )
  const files = [...(await setFiles(context, sheets, settings)), { name: travelNames.answer, bytes: utf8(answer) }]
  return { pdf: bytes, pages, verdict: ledger.verdict, files }
}
