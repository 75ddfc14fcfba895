import type { Fault } from '../../../core/fault.ts'
import type { Hold, LargestAnswer, NothingFits } from '../../../core/largest/largest.ts'
import { formatGap } from '../../../core/units/lengthText.ts'
import { faultTexts } from '../../wording.ts'
import { amountText, shareText } from '../../wording/amounts.ts'
import { holdBuysText, sideWords } from '../../wording/holdWords.ts'
import { limitText } from '../../wording/limitText.ts'
import { keepOutName, partName } from '../../wording/partNames.ts'
import { fine, listed } from '../../wording/plainWords.ts'
import type { SheetContext } from '../context.ts'
import type { Block, Cell } from '../sheet.ts'
import { textCell } from './cells.ts'

/** What holds the size: the largest core within the candidate's limits, what it stands against, and what would give room. */
export function holdBlocks(context: SheetContext): Block[] {
  const { answer, faults } = context.facts.largest
  const head: Block = { kind: 'heading', level: 2, text: 'What holds the size' }
  if (!answer) return [head, { kind: 'text', text: `Not worked out. ${whyNot(faults)}` }]
  if (answer.answer !== 'found') return [head, { kind: 'text', text: nothingText(context, answer) }]
  return [head, { kind: 'text', text: foundText(context, answer) }, ...holdTable(context, answer.holds)]
}

/** One sentence for all directions that nothing bounds. */
const whyNot = (faults: readonly Fault[]): string =>
  faults.every(({ code }) => code === 'unlimited-direction')
    ? 'Neither the candidate’s limits nor half-spaces of the bay bound the core to every side.'
    : faultTexts(faults).join(' ')

function foundText({ facts, units }: SheetContext, answer: LargestAnswer): string {
  const { core, value, upperBound, stopped } = answer
  const size = [core.depth, core.width, core.height].map((mm) => formatGap(mm, units, fine(units))).join(' × ')
  const ended = stopped === 'proved' ? '' : ' The search was ended before the bound was as near as it is wont to be.'
  const bound = Number.isFinite(upperBound)
    ? ` No core within the limits has more than ${amountText(upperBound, 'volume', units, 'up')} (${shareText(upperBound / value - 1)} more): that is proved.`
    : ''
  const left =
    facts.ledger.leftOut.length > 0 ? ' Something is left out for a look, so it says nothing of the car.' : ''
  return (
    `The largest core that was found to go in within the candidate’s limits, pipes left out: ${size} ${units === 'mm' ? 'mm' : 'inch'} ` +
    `(depth × width × height), ${amountText(value, 'volume', units, 'down')}.${bound}${ended} ${shareOf(facts.largest.now, value)}${left}`
  )
}

const shareOf = (now: number, value: number): string =>
  now > value * (1 + 1e-9)
    ? 'This candidate’s core is larger than that.'
    : `This candidate’s core has ${Math.floor(100 * (now / value) + 1e-9)} % of it.`

function nothingText({ facts: { bay } }: SheetContext, { answer, conflict }: NothingFits): string {
  if (answer === 'none found') return 'The search was ended before it had found a core that goes in.'
  const names = conflict.map((name) => holderName(bay, name))
  const between = names.length > 0 ? ` What leaves no room between them: ${listed(names)}.` : ''
  return `No core within the candidate’s limits clears: that is proved.${between}`
}

/** Keep-outs and limits are named in one list. */
function holderName(bay: SheetContext['facts']['bay'], name: string): string {
  const called = keepOutName(bay, name)
  return called === name ? limitText(name) : called
}

function holdTable({ facts: { bay, candidate }, units }: SheetContext, holds: readonly Hold[]): Block[] {
  if (holds.length === 0) return [{ kind: 'text', text: 'Stock sizes and rows hold it, and nothing else.' }]
  const rows = holds.map((hold): Cell[] => [
    textCell('limit' in hold ? limitText(hold.limit) : keepOutName(bay, hold.keepOut)),
    textCell('limit' in hold ? 'limit of the candidate' : `${sideWords[hold.side]} ${partName(candidate, hold.part)}`),
    { text: holdBuysText(bay, hold, 'volume', units), value: hold.gainPerMm },
  ])
  return [
    {
      kind: 'table',
      table: {
        id: 'holds',
        columns: [
          { id: 'held-by', head: 'Held by', quantity: 'text' },
          { id: 'where', head: 'Where', quantity: 'text' },
          { id: 'gain-per-mm', head: 'What it would buy', quantity: 'volume', align: 'left', wide: 1.5 },
        ],
        rows,
      },
    },
  ]
}
