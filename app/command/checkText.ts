import { defaultsSource } from '../../core/bay/defaults.ts'
import type { Bay } from '../../core/bay/schema.ts'
import { formatGap, formatUncertainty, type LengthFormat, type PeopleUnits } from '../../core/units/lengthText.ts'
import type { Ledger, LedgerPair, Verdict } from '../../core/verdict/answer.ts'
import { cautions } from '../wording/cautions.ts'
import { coloured, verdictColour, verdictText } from './colour.ts'
import type { Io } from './io.ts'
import { type Cell, type Column, tableText, wrapped } from './table.ts'
import { troubleText } from './troubleText.ts'
import type { WayOut } from './wayOut.ts'
import { counted, fine, fineWithUnit, listed } from '../wording/plainWords.ts'

/** A pair that does not clear, and the movement that is proved to clear it. */
export interface Wanting {
  readonly pair: LedgerPair
  readonly way: WayOut | null
}

export interface Telling {
  /** The worst of the pairs that do not clear, to be told in full. */
  readonly wanting: readonly Wanting[]
  /** What was put right while the meshes were read. */
  readonly meshNotes: readonly string[]
  /** Every row, and not only those near enough to matter. */
  readonly all: boolean
  readonly units: PeopleUnits
}

/** The ledger for people: a table of all pairs, what it comes to, where it is tight, what was assumed, the cautions. */
export function checkText(bay: Bay, ledger: Ledger, { wanting, meshNotes, all, units }: Telling, io: Io): string {
  const candidate = bay.candidates.find(({ id }) => id === ledger.candidate)
  const shown = all ? ledger.pairs.length : nearRows(ledger.pairs)
  const paragraphs = [
    wrapped(
      `${bay.name} · candidate ${ledger.candidate} (${candidate?.name}) · ${units === 'mm' ? 'mm' : 'inches'}`,
      io.columns,
    ),
    ledger.pairs.length === 0 ? '' : tableOf(ledger.pairs.slice(0, shown), units, io),
    wrapped(restText(ledger.pairs, shown, units), io.columns),
    summaryText(ledger, units, io),
    ...detailTexts(bay, ledger, wanting, units, io),
    ...[...noteTexts(ledger, units), ...meshNotes].map((note) => wrapped(note, io.columns)),
    wrapped(cautions, io.columns),
  ]
  return `${paragraphs.filter((text) => text !== '').join('\n\n')}\n`
}

/** Rows beyond this many are far off: with couplers and clamps a bay soon has hundreds. */
const nearest = 60

/** How many rows are worth a line: the nearest, and all that do not clear. */
function nearRows(pairs: readonly LedgerPair[]): number {
  const wanting = pairs.findLastIndex(({ verdict }) => verdict !== 'clears') + 1
  const shown = Math.max(nearest, wanting)
  return pairs.length - shown <= 5 ? pairs.length : shown
}

function restText(pairs: readonly LedgerPair[], shown: number, units: PeopleUnits): string {
  if (shown === pairs.length) return ''
  const spare = formatGap(pairs[shown].margin, units, { ...fineWithUnit(units), passDust: true })
  return `${counted(pairs.length - shown, 'more pair')} clear, with ${spare} or more to spare; --all lists them.`
}

const tableOf = (pairs: Ledger['pairs'], units: PeopleUnits, { columns: width, colour }: Io): string =>
  tableText(
    columns,
    pairs.map((pair) => rowOf(pair, units)),
    { width, colour },
  )

const columns: readonly Column[] = [
  { head: 'part', align: 'left', least: 8 },
  { head: 'keep-out', align: 'left', least: 8 },
  { head: 'gap', align: 'right' },
  { head: 'error', align: 'right', drop: 2 },
  { head: 'allowances', align: 'right', drop: 1 },
  { head: 'required', align: 'right' },
  { head: 'margin', align: 'right' },
  { head: 'verdict', align: 'left' },
]

const figure = (units: PeopleUnits): LengthFormat => ({ ...fine(units), passDust: true })

function rowOf(pair: LedgerPair, units: PeopleUnits): Cell[] {
  const assumed = (what: 'clearance' | 'uncertainty') => (pair.assumed?.includes(what) ? '*' : '')
  return [
    { text: pair.part },
    { text: pair.keepOut + (pair.open ? ' (open)' : '') },
    { text: gapText(pair, units) },
    { text: errorText(pair.error, units) },
    { text: formatUncertainty(pair.tolerance + pair.uncertainty, units, figure(units)) + assumed('uncertainty') },
    { text: formatUncertainty(pair.required, units, figure(units)) + assumed('clearance') },
    { text: formatGap(pair.margin, units, figure(units)) },
    { text: verdictText(pair.verdict), colour: verdictColour[pair.verdict] },
  ]
}

/** An overlap stands as a negative gap of the depth that is proved, which is rounded down like a gap. */
function gapText({ gap, overlap }: LedgerPair, units: PeopleUnits): string {
  if (!overlap || overlap.depth === 0) return formatGap(gap, units, figure(units))
  return `${overlap.kind === 'atLeast' ? '≤ ' : ''}−${formatGap(overlap.depth, units, figure(units))}`
}

function errorText(error: number, units: PeopleUnits): string {
  const format = { decimals: units === 'mm' ? 3 : 5, bare: true }
  return error <= 0.001 ? `≤${formatUncertainty(0.001, units, format)}` : formatUncertainty(error, units, format)
}

function summaryText({ pairs, verdict, leftOut, unrouted }: Ledger, units: PeopleUnits, io: Io): string {
  const counts = (['fouls', 'short', 'unproved', 'clears'] as const)
    .map((v) => [pairs.filter((pair) => pair.verdict === v).length, v] as const)
    .filter(([n]) => n > 0)
    .map(([n, v]) => `${n} ${summaryWord[v]}`)
  const held =
    leftOut.length > 0 || unrouted.length > 0 ? ' (something was left out, so nothing better can be said)' : ''
  const tightest = pairs[0]
  const least = tightest
    ? ` Least margin ${formatGap(tightest.margin, units, { ...fineWithUnit(units), passDust: true })}: ${tightest.part} to ${tightest.keepOut}.`
    : ''
  const pairText = pairs.length === 0 ? 'No pair to check' : `${counted(pairs.length, 'pair')}: ${listed(counts)}`
  const said = verdictText(verdict)
  const text = wrapped(`${said}${held}. ${pairText}.${least}`, io.columns)
  return coloured(said, verdictColour[verdict], io.colour) + text.slice(said.length)
}
const summaryWord: Record<Verdict, string> = { fouls: 'foul', short: 'short', unproved: 'unproved', clears: 'clear' }

function detailTexts(bay: Bay, { pairs }: Ledger, wanting: readonly Wanting[], units: PeopleUnits, io: Io): string[] {
  if (wanting.length === 0) return []
  const told = wanting.map(({ pair, way }) => {
    const mark = coloured(verdictText(pair.verdict), verdictColour[pair.verdict], io.colour)
    return `${mark}  ${pair.part} to ${pair.keepOut}\n${wrapped(troubleText(bay, pair, way, units), io.columns, '    ')}`
  })
  const untold = pairs.filter(({ verdict }) => verdict !== 'clears').length - wanting.length
  const more = untold > 0 ? [`and ${counted(untold, 'more pair')} as in the table`] : []
  return [['Where, and what is wanting (places as seen from the origin):', ...told, ...more].join('\n')]
}

const exemptText = ({ part, from, length, whole }: Ledger['exempt'][number], units: PeopleUnits): string =>
  `${part} from ${from}${whole ? '' : ` over ${formatUncertainty(length, units)}`}`

function noteTexts({ pairs, leftOut, unrouted, exempt }: Ledger, units: PeopleUnits): string[] {
  const notes: string[] = []
  if (leftOut.length > 0) notes.push(`Left out for a look, and not checked: ${listed(leftOut)}.`)
  if (unrouted.length > 0) notes.push(`Not routed, and not checked: ${listed(unrouted.map((id) => `pipe ${id}`))}.`)
  if (exempt.length > 0)
    notes.push(`Not held against what they are joined to: ${listed(exempt.map((each) => exemptText(each, units)))}.`)
  if (pairs.some(({ open }) => open))
    notes.push('(open): a surface without an inside. Passing through it is contact; being behind it is not noticed.')
  if (pairs.some(({ assumed }) => assumed))
    notes.push(`*: the bay names none, so the default is taken (${defaultsSource}).`)
  return notes
}
