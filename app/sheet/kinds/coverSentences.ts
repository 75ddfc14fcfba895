import type { Verdict } from '../../../core/verdict/answer.ts'
import { called } from '../../wording/called.ts'
import { keepOutName } from '../../wording/partNames.ts'
import type { SheetContext } from '../context.ts'
import { pairText, wantingText } from './pairText.ts'
import { wayVerdict } from './wayText.ts'

const heads: Record<Exclude<Verdict, 'clears'>, string> = { fouls: 'Fouls', short: 'Short', unproved: 'Not proved' }

/**
 * Everything that stands in the way of building by these sheets, one sentence each, worst first: pairs that foul, are short
 * or are not proved, what was left out, pipes without a route or that cannot be made, mounts that do not go on, and the way in.
 */
export function coverSentences({ facts, units }: SheetContext): string[] {
  const { bay, candidate, ledger, bends, mounts } = facts
  const speaking = { bay, candidate, units }
  const pairs = (['fouls', 'short', 'unproved'] as const).flatMap((verdict) =>
    ledger.pairs
      .filter((pair) => pair.verdict === verdict)
      .map((pair) => `${heads[verdict]}: ${pairText(speaking, pair)}: ${wantingText(speaking, pair)}.`),
  )
  const pipeName = (id: string) => called('pipe', candidate.pipes?.find((pipe) => pipe.id === id)?.name ?? id)
  const way = wayVerdict(facts, units)
  return [
    ...pairs,
    ...ledger.leftOut.map(
      (id) => `Left out for a look: ${keepOutName(bay, id)}. Nothing is proved of the car without it.`,
    ),
    ...ledger.unrouted.map((id) => `Not routed: ${pipeName(id)}. It is not held against anything.`),
    ...bends.pipes
      .filter(({ makeable }) => !makeable)
      .map(({ id }) => `Cannot be made or joined as it stands: ${pipeName(id)}; see its sheet.`),
    ...mounts.mounts
      .filter(({ verdict }) => verdict !== 'goes on')
      .map(({ name, verdict }) => `${called('mount', name)}: ${verdict}${verdict === 'does not go on' ? '' : ' only'}.`)
      .map((text) => text[0].toUpperCase() + text.slice(1)),
    ...(mounts.reached ? [] : ['Not every fastener is reached with its tool; see Offering up.']),
    ...(way.proved ? [] : [`Offering up: ${way.text}`]),
  ]
}
