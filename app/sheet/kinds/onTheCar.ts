import { defaultsSource } from '../../../core/bay/defaults.ts'
import type { CarCheck, DatumCheck, Gauge } from '../../../core/sheet/facts/sheetFacts.ts'
import { formatGap, formatUncertainty, type LengthFormat, type PeopleUnits } from '../../../core/units/lengthText.ts'
import { keepOutName } from '../../wording/partNames.ts'
import { listed, ways } from '../../wording/plainWords.ts'
import type { SheetContext, SheetKind } from '../context.ts'
import type { Block, Cell, Table } from '../sheet.ts'
import { emptyCell, lengthCell, littleCell, muchCell, textCell, unitText } from './cells.ts'
import { pairText } from './pairText.ts'

/** Check on the car: first whether the frame of the bay is that of the car, then the gaps with the part in place. */
export const onTheCarSheets: SheetKind = (context) => [
  {
    id: 'on-the-car',
    title: 'Check on the car',
    orientation: 'portrait',
    blocks: [
      ...datumBlocks(context),
      { kind: 'break' },
      ...gapBlocks(context),
      { kind: 'sign', lines: ['Name', 'Date', 'Signature'] },
    ],
  },
]

function datumBlocks({ facts: { bay, datum }, units }: SheetContext): Block[] {
  const { origin, note } = bay.frame
  const assumed = datum.some((check) => check.assumed)
  return [
    { kind: 'heading', level: 1, text: 'First: is the frame of the bay that of the car?' },
    {
      kind: 'text',
      text: `Before the part goes in. Measured along the axes from the origin: ${origin}.${note ? ` ${note}.` : ''} Tape of class II; ports with the engine at rest. Where one reading lies outside what agrees, find out why before going on: every gap below hangs on it.`,
    },
    ...(datum.length > 0
      ? [{ kind: 'table', table: datumTable(datum, units) } satisfies Block]
      : [{ kind: 'text', text: 'The bay has no flat face, fixing or port to measure to.' } satisfies Block]),
    ...(assumed
      ? [
          {
            kind: 'text',
            tone: 'small',
            text: `* How surely it was measured is not given in the bay; ${defaultsSource}.`,
          } satisfies Block,
        ]
      : []),
  ]
}

const axisOf = { x: 0, y: 1, z: 2 } as const
const whatWords = { 'keep-out': 'face of', fixing: 'fixing', port: 'port' } as const

function datumTable(datum: readonly DatumCheck[], units: PeopleUnits): Table {
  const unit = unitText(units)
  const tape = readable('tape', units)
  return {
    id: 'datum',
    columns: [
      { id: 'place', head: 'Place', quantity: 'text', wide: 2.4 },
      { id: 'way', head: 'From the origin', quantity: 'text', wide: 0.8 },
      { id: 'predicted', head: `Predicted, ${unit}`, quantity: 'length', align: 'right', wide: 0 },
      { id: 'agrees-from', head: 'Agrees from', quantity: 'length', align: 'right', wide: 0 },
      { id: 'agrees-to', head: 'to', quantity: 'length', align: 'right', wide: 0 },
      { id: 'measured', head: 'Measured', quantity: 'text', wide: 1 },
    ],
    rowHeight: 6.5,
    rows: datum.map((check): Cell[] => {
      const { of, name, id, axis, predicted, low, high, assumed } = check
      const sign = predicted < 0 ? -1 : 1
      const [from, to] = sign < 0 ? [-high, -low] : [low, high]
      const image = of === 'keep-out' && id.endsWith('-mirror') ? ' (mirrored)' : ''
      return [
        textCell(`${whatWords[of]} ${name}${image}${assumed ? ' *' : ''}`),
        textCell(ways[axisOf[axis]][sign < 0 ? 0 : 1]),
        { ...lengthCell(Math.abs(predicted), units, tape), value: predicted },
        { ...muchCell(from, units, tape), value: sign < 0 ? high : low },
        { ...littleCell(to, units, tape), value: sign < 0 ? low : high },
        emptyCell,
      ]
    }),
  }
}

function gapBlocks(context: SheetContext): Block[] {
  const { facts } = context
  const head: Block = { kind: 'heading', level: 1, text: 'Then: gaps with the part in place' }
  if (facts.onCar.length === 0)
    return [head, { kind: 'text', text: 'No part has a gap to anything that could be measured.' }]
  return [
    head,
    { kind: 'text', text: `${centreText(context)} ${meaningText}` },
    { kind: 'table', table: gapTable(context) },
    ...noteBlocks(context),
  ]
}

const meaningText =
  'A reading outside of what agrees says that the part, the bay or the measuring is wrong: find out which. A reading below ' +
  '“at least” does not prove the clearance that is asked for, whatever was predicted. Engine at rest.'

/** A part with play in its holes stands wherever it was let go. */
function centreText({ facts: { mounts }, units }: SheetContext): string {
  const plays = mounts.mounts.flatMap(({ joints }) =>
    joints.map(({ clearance }) => 2 * (clearance.mount + clearance.fixing)),
  )
  const most = Math.max(0, ...plays)
  if (mounts.mounts.length === 0)
    return 'How the part is held is not given in the bay: hold it where the drawings have it.'
  if (most === 0) return 'Fasteners hand-tight.'
  const text = formatUncertainty(most, units, units === 'mm' ? {} : { fraction: 64 })
  return `The mounts have play, up to ${text} across: push the part to the middle of it, fasteners hand-tight.`
}

function gapTable(context: SheetContext): Table {
  const { facts, units } = context
  const unit = unitText(units)
  const speaking = { bay: facts.bay, candidate: facts.candidate, units }
  return {
    id: 'on-the-car',
    columns: [
      { id: 'number', head: 'No.', quantity: 'count', align: 'right', wide: 0 },
      { id: 'gap-between', head: 'Gap between', quantity: 'text', wide: 2.4 },
      { id: 'from', head: 'Reached from', quantity: 'text', wide: 1.2 },
      { id: 'gauge', head: 'Gauge', quantity: 'text', wide: 0.8 },
      { id: 'predicted', head: `Predicted, ${unit}`, quantity: 'length', align: 'right', wide: 0 },
      { id: 'agrees-from', head: 'Agrees from', quantity: 'length', align: 'right', wide: 0 },
      { id: 'agrees-to', head: 'to', quantity: 'length', align: 'right', wide: 0 },
      { id: 'at-least', head: 'At least', quantity: 'length', align: 'right', wide: 0 },
      { id: 'measured', head: 'Measured', quantity: 'text', wide: 0.8 },
    ],
    rowHeight: 7.5,
    rows: facts.onCar.map((check, n): Cell[] => {
      const { pair, predicted, low, high, least, gauge } = check
      const format = readable(gauge, units)
      return [
        { text: String(n + 1), value: n + 1 },
        textCell(pairText(speaking, pair)),
        textCell(reachedText(context, check)),
        textCell(gauge),
        lengthCell(predicted, units, format),
        muchCell(low, units, format),
        littleCell(high, units, format),
        muchCell(least, units, format),
        emptyCell,
      ]
    }),
  }
}

/** What the instrument can be read to: inches of a tape in fractions, of all else in thousandths. */
const readable = (gauge: Gauge, units: PeopleUnits): LengthFormat => {
  if (units === 'inch') return gauge === 'tape' ? { fraction: 64 } : { decimals: 3 }
  return { decimals: gauge === 'feeler gauge' ? 2 : 1 }
}

/** Less than this is no way in that is worth telling, mm. */
const atTheEdge = 5

function reachedText({ facts: { bay }, units }: SheetContext, { from, reach, with: how, pair }: CarCheck): string {
  if (how === 'refitted') return `with ${keepOutName(bay, pair.keepOut)} back on`
  if (how === 'moved') return `${keepOutName(bay, pair.keepOut)} moved through by hand`
  if (from === null || reach === null) return 'no straight way in'
  const deep = formatGap(reach, units, units === 'mm' ? { decimals: 0 } : { fraction: 8 })
  return reach < atTheEdge ? from : `${from}, ${deep} in`
}

const gaugeNotes: Record<Gauge, string> = {
  'feeler gauge': 'feeler gauge: leaves, until one drags',
  'gap gauge': 'gap gauge: taper gauge, drill shank or rod of known size, felt to go just through',
  calliper: 'calliper: inside jaws, square to the gap',
  tape: 'tape: class II',
  clay: 'clay: modelling clay or putty put in, pressed by fitting or moving slowly, taken off and measured',
}

function noteBlocks({ facts: { onCar, ledger }, units }: SheetContext): Block[] {
  const used = [...new Map(onCar.map((check) => [check.gauge, check.gaugeError]))]
  const errors = (gauge: Gauge) => {
    const own = [...new Set(onCar.flatMap((check) => (check.gauge === gauge ? check.gaugeError : [])))].sort(
      (a, b) => a - b,
    )
    return listed(
      own.map((mm) => `±${formatUncertainty(mm, units, units === 'mm' ? { decimals: 2 } : { decimals: 3 })}`),
    )
  }
  const meeting = ledger.pairs.filter(({ gap, overlap }) => gap === 0 || overlap).length
  return [
    {
      kind: 'text',
      tone: 'small',
      text: `Taken for the gauges: ${used.map(([gauge]) => `${gaugeNotes[gauge]} (${errors(gauge)})`).join('; ')}. Agrees: predicted ± what part, bay and gauge may be off together, 95 % (k = 2). At least: required, movement of ports, and the gauge’s own error, one-sided 95 %. Which gauge for which gap: ${defaultsSource}.`,
    },
    ...(meeting > 0
      ? [
          {
            kind: 'text',
            tone: 'caution',
            text: `${meeting === 1 ? 'One pair touches or overlaps' : `${meeting} pairs touch or overlap`} in the bay: there is no gap to measure, and the part does not go in as drawn.`,
          } satisfies Block,
        ]
      : []),
  ]
}
