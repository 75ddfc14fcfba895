import type { Verdict } from '../../core/verdict/answer.ts'
import { cautions } from '../wording/cautions.ts'
import type { SheetContext } from './context.ts'
import { coverSentences } from './kinds/coverSentences.ts'
import type { SheetOrigin, SheetSettings } from './settings.ts'
import type { Block, Sheet } from './sheet.ts'

const verdictWords: Record<Verdict, string> = {
  clears: 'Every gap is proved to clear.',
  unproved: 'NOT PROVED TO CLEAR. Nothing is to be made from these sheets before that is settled.',
  short: 'DOES NOT CLEAR: it is short of what is required. Nothing is to be made from these sheets as they are.',
  fouls: 'DOES NOT CLEAR: it fouls. Nothing is to be made from these sheets as they are.',
}

/** The first page: whose sheets these are and from what, what they may not be taken for, and all that does not clear. */
export function coverSheet(
  context: SheetContext,
  origin: SheetOrigin,
  settings: SheetSettings,
  version: string,
): Pick<Sheet, 'title' | 'orientation' | 'blocks'> {
  const { bay, candidate, ledger } = context.facts
  const { verdict } = ledger
  const wanting = coverSentences(context)
  return {
    title: 'Set of sheets',
    orientation: 'portrait',
    blocks: [
      { kind: 'heading', level: 1, text: `${bay.name}: ${candidate.name}` },
      { kind: 'text', tone: verdict === 'clears' ? 'strong' : 'caution', text: verdictWords[verdict] },
      ...(wanting.length > 0 ? [{ kind: 'list', items: wanting } satisfies Block] : []),
      { kind: 'text', tone: 'caution', text: cautions },
      { kind: 'heading', level: 2, text: 'What these sheets were made from' },
      { kind: 'facts', rows: madeFrom(context, origin, settings, version) },
    ],
  }
}

function madeFrom(
  { facts: { bay, candidate } }: SheetContext,
  { sha256, meshFiles }: SheetOrigin,
  { revision, date }: SheetSettings,
  version: string,
): (readonly [string, string])[] {
  return [
    ['Bay', bay.name],
    ['Candidate', `${candidate.name} (${candidate.id})`],
    ['Revision', revision === '' ? 'none given' : revision],
    ['Date', date],
    ['Made by', `Gapwright ${version}`],
    ['Bay file', `sha256 ${sha256}`],
    ...[...meshFiles].map(
      ([file, { sha256, bytes }]) =>
        [file, `sha256 ${sha256}${bytes === null ? '; too big to travel in this file' : ''}`] as const,
    ),
    ['Made again', 'gapwright again, with this PDF file: the bay travels inside it.'],
    ['Datum', bay.frame.origin],
    ...(bay.frame.note ? [['Axes', bay.frame.note] as const] : []),
  ]
}
