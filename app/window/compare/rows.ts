import type { Bay, Candidate } from '../../../core/bay/schema.ts'
import type { Verdict } from '../../../core/verdict/answer.ts'
import type { PeopleUnits } from '../../../core/units/lengthText.ts'
import type { Compared } from '../../worker/searchProtocol.ts'
import { litresText } from '../editors/litres.ts'
import { sizeGlance } from '../largest/figures.ts'
import { faceText, faceUnit } from '../largest/figures.ts'
import { gapGlance } from '../ledger/figures.ts'
import { pairNames } from '../ledger/names.ts'
import { bandOf } from '../pipes/figures.ts'
import { words } from '../words.ts'
import { shareOfLargest } from './share.ts'

const { compare: text } = words

/** One candidate, and what is known of it; `undefined` while it is computed, null where no answer came. */
export interface Column {
  readonly candidate: Candidate
  readonly compared: Compared | null | undefined
}

export interface CellText {
  readonly text: string
  /** What is compared to find the best; null where there is nothing to compare. */
  readonly value: number | null
  readonly verdict?: Verdict
}

export interface CompareRow {
  readonly id: string
  readonly group: keyof typeof text.groups
  readonly label: string
  readonly cells: readonly CellText[]
  /** All are known, and not all are the same. */
  readonly differs: boolean
  /** Which cells are the best of a row that differs. */
  readonly best: readonly boolean[]
}

interface Kind {
  readonly id: string
  readonly group: CompareRow['group']
  readonly label: string
  readonly better?: 'most' | 'least'
  readonly cell: (column: Column) => CellText | null | undefined
}

/** Every row of the comparison, in the order of the stages. */
export function compareRows(bay: Bay, columns: readonly Column[], units: PeopleUnits): CompareRow[] {
  return [...sizeRows(units), ...gapRows(bay, units), ...pipeRows(units), ...seatRows(units)].map((kind) =>
    rowOf(kind, columns),
  )
}

function rowOf({ id, group, label, better, cell }: Kind, columns: readonly Column[]): CompareRow {
  const told = columns.map(cell)
  const cells = told.map(
    (each): CellText => each ?? { text: each === undefined ? text.pending : text.none, value: null },
  )
  const differs = told.every((each) => each !== undefined) && new Set(cells.map((each) => each.text)).size > 1
  const values = cells.flatMap(({ value }) => (value === null ? [] : [value]))
  const top = better === 'most' ? Math.max(...values) : Math.min(...values)
  const best = cells.map(({ value }) => differs && better !== undefined && values.length > 1 && value === top)
  // Where all that have a figure have the same, none of them is the best.
  return {
    id,
    group,
    label,
    cells,
    differs,
    best: best.every((is, i) => is || cells[i].value === null) ? best.map(() => false) : best,
  }
}

const plain = (said: string, value: number | null = null): CellText => ({ text: said, value })

/** What is computed first: `undefined` while it is not there, a word where it failed. */
const from =
  (tell: (compared: Compared, candidate: Candidate) => CellText | null): Kind['cell'] =>
  ({ candidate, compared }) => {
    if (compared === undefined) return undefined
    return compared === null ? plain(text.failed) : tell(compared, candidate)
  }

function sizeRows(units: PeopleUnits): Kind[] {
  const unit = units === 'mm' ? words.field.mm : words.field.inch
  const length = (mm: number) => `${sizeGlance(mm, units)} ${unit}`
  const row = (id: string, label: string, cell: Kind['cell'], better?: Kind['better']): Kind => ({
    id,
    group: 'size',
    label,
    cell,
    better,
  })
  const { rows } = text
  return [
    row('depth', rows.depth, ({ candidate: { core } }) => plain(length(core.depth))),
    row('width', rows.width, ({ candidate: { core } }) => plain(length(core.width))),
    row('height', rows.height, ({ candidate: { core } }) => plain(length(core.height))),
    row(
      'overall',
      rows.overall,
      from(({ overall }) => {
        if (!overall) return null
        const [x, y, z] = overall.map((mm) => sizeGlance(mm, units))
        return plain(`${text.size(x, y, z)} ${unit}`)
      }),
    ),
    row(
      'volume',
      rows.volume,
      ({ candidate: { core } }) => plain(text.litres(litresText(core)), core.depth * core.width * core.height),
      'most',
    ),
    row(
      'face',
      rows.face,
      ({ candidate: { core } }) =>
        plain(`${faceText(core.width * core.height, units)} ${faceUnit(units)}`, core.width * core.height),
      'most',
    ),
    row(
      'share',
      rows.share,
      from(({ largest }, { core }) => (largest.ok ? shareOfLargest(core, largest.value) : null)),
      'most',
    ),
  ]
}

const verdicts: readonly Verdict[] = ['fouls', 'short', 'unproved', 'clears']
const tightest = 5

function gapRows(bay: Bay, units: PeopleUnits): Kind[] {
  const unit = units === 'mm' ? words.field.mm : words.field.inch
  const ofLedger = (
    tell: (ledger: Extract<Compared['ledger'], { ok: true }>['value'], candidate: Candidate) => CellText | null,
  ) => from(({ ledger }, candidate) => (ledger.ok ? tell(ledger.value, candidate) : plain(text.failed)))
  return [
    {
      id: 'verdict',
      group: 'gaps',
      label: text.rows.verdict,
      cell: ofLedger(({ verdict }) => ({ ...plain(words.verdict[verdict].one), verdict })),
    },
    ...verdicts.map(
      (verdict): Kind => ({
        id: verdict,
        group: 'gaps',
        label: text.rows.counts[verdict],
        better: verdict === 'clears' ? undefined : 'least',
        cell: ofLedger(({ pairs }) => {
          const n = pairs.filter((pair) => pair.verdict === verdict).length
          return plain(String(n), n)
        }),
      }),
    ),
    ...Array.from(
      { length: tightest },
      (_, i): Kind => ({
        id: `tight-${i}`,
        group: 'gaps',
        label: text.rows.tight(i + 1),
        better: 'most',
        cell: ofLedger(({ pairs }, candidate) => {
          const pair = pairs[i]
          if (!pair) return null
          const { other, part } = pairNames(bay, candidate, pair)
          return {
            ...plain(text.tight(`${gapGlance(pair.margin, units)} ${unit}`, other, part), pair.margin),
            verdict: pair.verdict,
          }
        }),
      }),
    ),
  ]
}

function pipeRows(units: PeopleUnits): Kind[] {
  const row = (
    id: string,
    label: string,
    tell: (bends: Extract<NonNullable<Compared['bends']>, { ok: true }>['value']) => CellText | null,
    better?: Kind['better'],
  ): Kind => ({
    id,
    group: 'pipes',
    label,
    better,
    cell: from(({ bends }) => (bends === null ? null : bends.ok ? tell(bends.value) : plain(text.failed))),
  })
  const { rows } = text
  return [
    row(
      'bends',
      rows.bends,
      ({ pipes }) => {
        const n = pipes.reduce((sum, { corners }) => sum + corners.length, 0)
        return plain(String(n), n)
      },
      'least',
    ),
    row(
      'makeable',
      rows.makeable,
      ({ pipes, unrouted }) => {
        const all = pipes.length + unrouted.filter((id) => !pipes.some((pipe) => pipe.id === id)).length
        const n = pipes.filter(({ id, makeable }) => makeable && !unrouted.includes(id)).length
        return plain(n === all ? text.allMakeable : text.makeable(n, all), n / Math.max(all, 1))
      },
      'most',
    ),
    row('loss', rows.loss, ({ chainLoss }) => chainLoss && plain(bandOf(chainLoss, units), chainLoss.atMost), 'least'),
  ]
}

function seatRows(units: PeopleUnits): Kind[] {
  const unit = units === 'mm' ? words.field.mm : words.field.inch
  const { seat, rows } = text
  return [
    {
      id: 'seat',
      group: 'seat',
      label: rows.seat,
      cell: from(({ way }) => {
        if (way === null) return plain(seat.noWay)
        if (!way.ok) return plain(text.failed)
        const { answer, path } = way.value
        return plain(answer === 'proved' ? seat.proved(path?.moves.length ?? 0) : seat[answer])
      }),
    },
    {
      id: 'seat-least',
      group: 'seat',
      label: rows.seatLeast,
      better: 'most',
      cell: from(({ way }) => {
        const least = way?.ok ? way.value.path?.least : null
        return least ? plain(`${gapGlance(least.atLeast, units)} ${unit}`, least.atLeast) : null
      }),
    },
  ]
}

/** The table as lines for a spreadsheet: name, tab, one figure for each candidate. */
export function compareText(columns: readonly Column[], rows: readonly CompareRow[]): string {
  const head = [text.figure, ...columns.map(({ candidate }) => candidate.name)]
  return [head, ...rows.map(({ label, cells }) => [label, ...cells.map((cell) => cell.text)])]
    .map((line) => line.map((cell) => cell.replace(/[\t\r\n]+/g, ' ')).join('\t'))
    .join('\n')
}
