import type { Bay, Candidate } from '../../core/bay/schema.ts'
import type { DepthRow, Hold, LargestAnswer, NothingFits } from '../../core/largest/largest.ts'
import { formatGap, formatLength, type LengthFormat, type PeopleUnits } from '../../core/units/lengthText.ts'
import { unroutedOf } from './adopt.ts'
import { adoptedText } from './adoptText.ts'
import { type Aim, amountText, shareText } from '../wording/amounts.ts'
import { cautions } from '../wording/cautions.ts'
import { type Colour, coloured, verdictColour, verdictMark } from './colour.ts'
import { type Fact, factsText } from './facts.ts'
import type { Io } from './io.ts'
import { holderText, holdBuysText } from '../wording/holdWords.ts'
import { limitText } from '../wording/limitText.ts'
import { type Column, tableText, wrapped } from './table.ts'
import { fine, fineWithUnit, bracketedName, listed, placeText, tiltText } from '../wording/plainWords.ts'

export interface LargestTelling {
  readonly bay: Bay
  /** The candidate as it stands in the bay. */
  readonly before: Candidate
  readonly aim: Aim
  readonly leftOut: readonly string[]
  /** File that the answer was adopted into. */
  readonly written: string | null
  readonly units: PeopleUnits
}

/** The largest core for people: its size, what is proved of it, what holds it, the cautions. */
export function largestText(telling: LargestTelling, answer: LargestAnswer | NothingFits, io: Io): string {
  if (answer.answer !== 'found') return assembled(telling, io, [nothingHead(telling, answer, io)])
  return assembled(telling, io, [
    foundHead(telling, answer, io),
    factsText(factsOf(telling, answer), io.columns),
    holdsText(telling, answer.holds, io),
    ...pipeNotes(telling, answer.candidate).map((note) => wrapped(note, io.columns)),
  ])
}

/** The table over stock depths. */
export function depthsText(telling: LargestTelling, rows: readonly DepthRow[], io: Io): string {
  const { units } = telling
  const found = rows.filter(({ answer }) => answer.answer === 'found').length
  const head =
    found === rows.length
      ? `The largest face that goes in for each depth, and what holds it:`
      : `The largest face that goes in for each depth, and what holds it (${rows.length - found} of ${rows.length} depths have none):`
  const table = tableText(
    depthColumns,
    rows.map((row) => depthCells(telling, row).map((text) => ({ text }))),
    { width: io.columns, colour: io.colour },
  )
  return assembled(telling, io, [
    wrapped(head, io.columns),
    table,
    wrapped(`Sizes in ${units === 'mm' ? 'mm' : 'inches'}, rounded down; bounds rounded up.`, io.columns),
  ])
}

export function assembled({ bay, before, units, leftOut }: LargestTelling, io: Io, middle: readonly string[]): string {
  const head = `${bay.name} · candidate ${before.id} (${before.name}) · ${units === 'mm' ? 'mm' : 'inches'}`
  const left = leftOut.length > 0 ? [`Left out for a look, and not held against it: ${listed(leftOut)}.`] : []
  const texts = [wrapped(head, io.columns), ...middle, ...[...left, cautions].map((text) => wrapped(text, io.columns))]
  return `${texts.filter((text) => text !== '').join('\n\n')}\n`
}

/** The first word in its colour, the rest broken to the width. */
export function headed(word: string, colour: Colour, rest: string, io: Io): string {
  const text = wrapped(`${word}${rest}`, io.columns)
  return coloured(word, colour, io.colour) + text.slice(word.length)
}

function foundHead({ leftOut }: LargestTelling, answer: LargestAnswer, io: Io): string {
  if (leftOut.length > 0)
    return headed(
      `${verdictMark.unproved} unproved`,
      verdictColour.unproved,
      `. The largest core found, but something was left out, so nothing better can be said.`,
      io,
    )
  return headed(`${verdictMark.clears} clears`, verdictColour.clears, `. ${provedText(answer)}`, io)
}

function provedText({ value, upperBound, stopped }: LargestAnswer): string {
  const share = upperBound / value - 1
  const near =
    share <= 0.2
      ? `within ${shareText(share)} of the best possible`
      : `to clear, and the best possible to have at most ${shareText(share)} more`
  switch (stopped) {
    case 'proved':
      return `The largest core, proved ${near}.`
    case 'work':
      return `The largest core found; the search reached the end of its budget. It is proved ${near}.`
    default:
      return `The largest core found, stopped ${stopped === 'time' ? 'by the clock' : 'by you'}. It is proved ${near}.`
  }
}

export function nothingHead({ bay, aim, units }: LargestTelling, answer: NothingFits, io: Io): string {
  const { conflict, stopped, upperBound } = answer
  const names = conflict.map((name) => conflictText(bay, name))
  if (answer.answer === 'nothing fits')
    return headed(
      `${verdictMark.fouls} nothing fits`,
      verdictColour.fouls,
      `. Proved: no core within the limits clears.${names.length > 0 ? ` What leaves no room between them: ${listed(names)}.` : ''}`,
      io,
    )
  const why = { time: 'by the clock', cancelled: 'by you', work: 'at the end of its budget', proved: '' }[stopped]
  const bound = Number.isFinite(upperBound)
    ? ` Nothing larger than ${amountText(upperBound, aim, units, 'up')} fits; that much is proved.`
    : ''
  return headed(
    `${verdictMark.unproved} none found`,
    verdictColour.unproved,
    `. The search was stopped ${why} before it had a core, and that there is none is not proved.${bound}`,
    io,
  )
}

/** Conflicts name keep-outs and limits in one list. */
const conflictText = (bay: Bay, name: string): string =>
  bracketedName(bay, name) === '' ? limitText(name) : `${name}${bracketedName(bay, name)}`
const shortName = (bay: Bay, name: string): string => (bracketedName(bay, name) === '' ? limitText(name) : name)

/** Size, stock, value and bound, what it is now, and where it stands. */
export function factsOf({ bay, before, aim, units }: LargestTelling, answer: LargestAnswer): Fact[] {
  const { core, candidate, at, turn, value, upperBound } = answer
  const bound = Number.isFinite(upperBound)
    ? `; no core within the limits has more than ${amountText(upperBound, aim, units, 'up')}`
    : ''
  const known = amountText(value, aim, units, 'down') + bound
  const volume = core.depth * core.width * core.height
  return [
    ['core', `${sizeText(core, units)} (depth × width × height)`],
    ...madeFrom(candidate, units),
    [aim, known],
    ...(aim === 'face' ? [['volume', amountText(volume, 'volume', units, 'down')] as const] : []),
    ['now', nowText(before, aim, units, value)],
    ['centre', placeText(at, units, fineWithUnit(units))],
    ...(turn[1] !== 0 || before.turn[1] !== 0 ? [['tilt', tiltText(turn[1])] as const] : []),
    ...(bay.keepOuts.length === 0 ? [['keep-outs', 'none'] as const] : []),
  ]
}

export function sizeText({ depth, width, height }: LargestAnswer['core'], units: PeopleUnits): string {
  const format = { ...fine(units), bare: units === 'mm' }
  return [depth, width, height].map((x) => formatGap(x, units, format)).join(' × ') + (units === 'mm' ? ' mm' : '')
}

/** Stock and rows, where the limits name them. */
function madeFrom({ core, limits }: Candidate, units: PeopleUnits): Fact[] {
  const shown = (x: number) => formatLength(x, units, fineWithUnit(units))
  const stocked = (['depth', 'width', 'height'] as const).filter((name) => limits?.[name]?.stock)
  const facts: Fact[] = []
  if (stocked.length > 0)
    facts.push(['stock', stocked.map((name) => `${shown(core[name])} ${adjective[name]}`).join(', ')])
  const { pitch, offset = 0 } = limits?.height ?? {}
  if (pitch !== undefined && !limits?.height?.stock) {
    const rows = Math.round((core.height - offset) / pitch)
    facts.push(['rows', `${rows} of ${shown(pitch)}${offset > 0 ? `, and ${shown(offset)} beside them` : ''}`])
  }
  return facts
}
const adjective = { depth: 'deep', width: 'wide', height: 'high' } as const

function nowText({ core }: Candidate, aim: Aim, units: PeopleUnits, largest: number): string {
  const present = (aim === 'volume' ? core.depth : 1) * core.width * core.height
  const share = Math.floor((100 * present) / largest)
  const size = `${sizeText(core, units)}, ${amountText(present, aim, units, 'down')}`
  return present > largest ? `${size}: more than fits` : `${size}: ${share} % of that`
}

const holdColumns: readonly Column[] = [
  { head: 'held by', align: 'left', least: 8 },
  { head: 'at', align: 'left', drop: 1 },
  { head: 'what it would buy', align: 'left', least: 20 },
]

function holdsText({ bay, aim, units }: LargestTelling, holds: readonly Hold[], io: Io): string {
  if (holds.length === 0) return ''
  const rows = holds.map((hold) => [...holderText(bay, hold), holdBuysText(bay, hold, aim, units)])
  return tableText(
    holdColumns,
    rows.map((row) => row.map((text) => ({ text }))),
    { width: io.columns, colour: io.colour },
  )
}

const depthColumns: readonly Column[] = [
  { head: 'depth', align: 'right' },
  { head: 'width', align: 'right', drop: 2 },
  { head: 'height', align: 'right', drop: 2 },
  { head: 'face', align: 'right' },
  { head: 'at most', align: 'right', drop: 1 },
  { head: 'volume', align: 'right' },
  { head: 'held by', align: 'left', least: 12 },
]

function depthCells({ bay, units }: LargestTelling, { depth, volume, answer }: DepthRow): string[] {
  const short: LengthFormat = units === 'mm' ? { decimals: 1, bare: true } : { fraction: 64, bare: true }
  const first = formatLength(depth, units, short)
  if (answer.answer !== 'found')
    return [
      first,
      '–',
      '–',
      '–',
      '–',
      '–',
      `${answer.answer}${answer.conflict.length > 0 ? `: ${answer.conflict.map((name) => shortName(bay, name)).join(', ')}` : ''}`,
    ]
  const { core, value, upperBound, holds } = answer
  return [
    first,
    formatGap(core.width, units, short),
    formatGap(core.height, units, short),
    amountText(value, 'face', units, 'down'),
    amountText(upperBound, 'face', units, 'up'),
    amountText(volume, 'volume', units, 'down'),
    holds.map((hold) => ('limit' in hold ? limitText(hold.limit) : hold.keepOut)).join(', '),
  ]
}

export function pipeNotes({ bay, written }: LargestTelling, candidate: Candidate): string[] {
  const unrouted = unroutedOf(bay, candidate)
  if (written !== null) return [adoptedText(written, candidate, unrouted)]
  return unrouted.length > 0
    ? [`Not part of the search: ${listed(unrouted.map((id) => `pipe ${id}`))}. A route has to be found anew.`]
    : []
}
