import { defaultsSource } from '../../../core/bay/defaults.ts'
import { mirrorId } from '../../../core/bay/sense.ts'
import type { LedgerPair, Verdict } from '../../../core/verdict/answer.ts'
import { called } from '../../wording/called.ts'
import { keepOutName, partName } from '../../wording/partNames.ts'
import { counted, listed } from '../../wording/plainWords.ts'
import type { SheetContext, SheetKind } from '../context.ts'
import type { Block, Cell, Table } from '../sheet.ts'
import { littleCell, muchCell, textCell, unitText, verdictCell } from './cells.ts'
import { holdBlocks } from './holdBlocks.ts'
import { otherName, pairText, provingText, wantingText } from './pairText.ts'

/** The gap report: every pair, what is not proved and what would prove it, what stays as it is, what holds the size. */
export const gapSheets: SheetKind = (context) => [
  {
    id: 'gaps',
    title: 'Gap report',
    orientation: 'portrait',
    blocks: [
      { kind: 'heading', level: 1, text: 'Gaps' },
      { kind: 'text', text: countsText(context) },
      { kind: 'text', tone: 'small', text: ruleText },
      ...wantingBlocks(context),
      ...safetyBlocks(context),
      ...holdBlocks(context),
      { kind: 'heading', level: 1, text: 'Every pair' },
      {
        kind: 'text',
        tone: 'small',
        text: `Smallest margin first; ${unitText(context.units)}, each figure rounded to its own safe side. Tol.: tolerance. Unc.: uncertainty. Req.: required.`,
      },
      { kind: 'table', table: pairTable(context) },
      ...besideBlocks(context),
    ],
  },
]

const ruleText =
  'Margin = gap − error − tolerance − uncertainty − required. Error: of the computing. Tolerance: what manufacture may add to ' +
  'the part, misfit of joints, and movement of ports. Uncertainty: of measuring the keep-out, 95 %, k = 2. A pair clears ' +
  'where all of it, held against the part, still leaves what is required; it is short where all of it in the part’s favour ' +
  'does not; between the two nothing is proved.'

const order: readonly Verdict[] = ['fouls', 'short', 'unproved', 'clears']
const heads: Record<Verdict, string> = { fouls: 'fouls', short: 'short', unproved: 'not proved', clears: 'clear' }

function countsText({ facts: { ledger } }: SheetContext): string {
  const { pairs } = ledger
  if (pairs.length === 0) return 'There is nothing that a part could be held against: nothing is proved.'
  const counts = order.flatMap((verdict) => {
    const n = pairs.filter((pair) => pair.verdict === verdict).length
    return n > 0 ? [`${n} ${heads[verdict]}`] : []
  })
  return `${counted(pairs.length, 'pair')} of part and keep-out, or of two parts: ${listed(counts)}.`
}

function wantingBlocks(context: SheetContext): Block[] {
  const { facts, units } = context
  const speaking = { bay: facts.bay, candidate: facts.candidate, units }
  const wanting = facts.ledger.pairs.filter(({ verdict }) => verdict !== 'clears')
  const sentence = (pair: LedgerPair) =>
    `${heads[pair.verdict][0].toUpperCase()}${heads[pair.verdict].slice(1)}: ${pairText(speaking, pair)}: ${wantingText(speaking, pair)}. ${provingText(speaking, pair)}`
  if (wanting.length === 0) return []
  const items = order.flatMap((verdict) => wanting.filter((pair) => pair.verdict === verdict).map(sentence))
  return [
    { kind: 'heading', level: 2, text: 'What does not clear, and what would prove it' },
    { kind: 'list', items },
  ]
}

function safetyBlocks({ facts, units }: SheetContext): Block[] {
  const { safety, candidate, bay } = facts
  if (safety.length === 0) return []
  const rows = safety.map(({ keepOut, role, leftOut, tightest }): Cell[] => [
    textCell(keepOutName(bay, keepOut)),
    textCell(role === 'safety' ? 'safety structure' : 'lamp'),
    textCell(tightest ? partName(candidate, tightest.part) : leftOut ? 'left out for a look' : 'no part near it'),
    tightest ? littleCell(tightest.gap, units) : { text: '–', value: null },
    tightest ? verdictCell(tightest.verdict) : textCell('–'),
    textCell(''),
  ])
  return [
    { kind: 'heading', level: 2, text: 'Safety structures and lamps: retained' },
    {
      kind: 'text',
      tone: 'caution',
      text: 'Each of these stays as it is and where it is: not cut, drilled, moved, bent or removed. Seen to on the car by:',
    },
    {
      kind: 'table',
      table: {
        id: 'safety',
        columns: [
          { id: 'structure', head: 'Structure', quantity: 'text', wide: 2 },
          { id: 'role', head: 'What it is', quantity: 'text', wide: 1.3 },
          { id: 'nearest-part', head: 'Nearest part', quantity: 'text', wide: 2 },
          { id: 'gap', head: `Gap, ${unitText(units)}`, quantity: 'length', align: 'right', wide: 0 },
          { id: 'verdict', head: 'Verdict', quantity: 'text', wide: 0 },
          { id: 'retained', head: 'Retained', quantity: 'text', wide: 0.8 },
        ],
        rows,
        rowHeight: 7,
      },
    },
    { kind: 'sign', lines: ['Name', 'Date', 'Signature'] },
  ]
}

function pairTable({ facts, units }: SheetContext): Table {
  const { ledger, bay, candidate } = facts
  const fineError = units === 'mm' ? { decimals: 3 } : { decimals: 4 }
  const number = (id: string, head: string) => ({ id, head, quantity: 'length', align: 'right', wide: 0 }) as const
  return {
    id: 'gaps',
    columns: [
      { id: 'part', head: 'Part', quantity: 'text', wide: 1.2 },
      { id: 'keep-out', head: 'Keep-out or part', quantity: 'text', wide: 1.2 },
      number('gap', 'Gap'),
      number('error', 'Error'),
      number('tolerance', 'Tol.'),
      number('uncertainty', 'Unc.'),
      number('required', 'Req.'),
      number('margin', 'Margin'),
      { id: 'verdict', head: 'Verdict', quantity: 'text', wide: 0 },
    ],
    rows: ledger.pairs.map((pair): Cell[] => [
      textCell(partName(candidate, pair.part)),
      textCell(`${otherName({ bay, candidate }, pair)}${pair.assumed ? ' *' : ''}${pair.open ? ' †' : ''}`),
      littleCell(pair.gap, units),
      muchCell(pair.error, units, fineError),
      muchCell(pair.tolerance, units),
      muchCell(pair.uncertainty, units),
      muchCell(pair.required, units),
      littleCell(pair.margin, units),
      verdictCell(pair.verdict),
    ]),
  }
}

/** What the table does not say of itself. */
function besideBlocks({ facts: { ledger, bay, candidate } }: SheetContext): Block[] {
  const { pairs, leftOut, unrouted, exempt } = ledger
  const other = (name: string) => (isKeepOut(bay.keepOuts, name) ? keepOutName(bay, name) : partName(candidate, name))
  const items = [
    ...(pairs.some(({ assumed }) => assumed)
      ? [`* Clearance or uncertainty is not in the bay; the default of its role is used (${defaultsSource}).`]
      : []),
    ...(pairs.some(({ open }) => open) ? ['† An open shell: a surface without an inside.'] : []),
    ...(leftOut.length > 0 ? [`Left out for a look: ${listed(leftOut.map((id) => keepOutName(bay, id)))}.`] : []),
    ...unrouted.map((id) => `Not routed: ${called('pipe', candidate.pipes?.find((p) => p.id === id)?.name ?? id)}.`),
  ]
  const notHeld = notHeldText(exempt, (part) => partName(candidate, part), other)
  return [
    ...(items.length > 0 ? [{ kind: 'list', items } satisfies Block] : []),
    ...(notHeld === '' ? [] : [{ kind: 'text', tone: 'small', text: notHeld } satisfies Block]),
  ]
}

/** What a part is fixed to is not held against it, nor what it is joined to near the joint. */
function notHeldText(
  exempt: SheetContext['facts']['ledger']['exempt'],
  part: (name: string) => string,
  other: (name: string) => string,
): string {
  const by = new Map<string, Set<string>>()
  for (const { part: name, from } of exempt) by.set(name, (by.get(name) ?? new Set()).add(other(from)))
  if (by.size === 0) return ''
  const each = [...by].map(([name, others]) => `${part(name)} against ${listed([...others])}`)
  return `Not held where they are fixed or joined: ${each.join('; ')}.`
}

const isKeepOut = (keepOuts: SheetContext['facts']['bay']['keepOuts'], name: string): boolean =>
  keepOuts.some(({ id, mirror }) => id === name || (mirror && mirrorId(id) === name))
