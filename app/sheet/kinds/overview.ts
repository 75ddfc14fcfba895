import { askedBy, defaultsSource } from '../../../core/bay/defaults.ts'
import { mirrorId } from '../../../core/bay/sense.ts'
import { unionBounds } from '../../../core/shape/bounds.ts'
import type { Vec3 } from '../../../core/shape/vec.ts'
import { overviewFigure } from '../../../core/sheet/figure/overview.ts'
import type { ViewsFigure } from '../../../core/sheet/figure/views.ts'
import type { PartFact } from '../../../core/sheet/facts/sheetFacts.ts'
import { formatGap, formatLength } from '../../../core/units/lengthText.ts'
import { partName } from '../../wording/partNames.ts'
import { degreesText, listed, placeText, ways } from '../../wording/plainWords.ts'
import type { SheetContext, SheetKind } from '../context.ts'
import type { Block, Cell, Table } from '../sheet.ts'
import { dimensionText } from './dimensionText.ts'
import { lengthCell, muchCell, textCell, unitText } from './cells.ts'

/** Front, side and plan in the bay, where it stands, what it is made of, and what it is held against. */
export const overviewSheets: SheetKind = (context) => [
  {
    id: 'overview',
    title: 'Overview',
    orientation: 'landscape',
    blocks: [figureBlock(context)],
  },
  {
    id: 'overview',
    of: 'lists',
    title: 'Overview: parts and keep-outs',
    orientation: 'portrait',
    blocks: [
      { kind: 'heading', level: 1, text: 'Where it stands' },
      { kind: 'facts', rows: standing(context) },
      { kind: 'heading', level: 1, text: 'Parts' },
      { kind: 'table', table: partTable(context) },
      ...unknownBlocks(context),
      { kind: 'heading', level: 1, text: 'Keep-outs' },
      { kind: 'table', table: keepOutTable(context) },
      ...assumedBlocks(context),
    ],
  },
]

/** Left free below the drawing for its caption, mm. */
const captionRoom = 12

function figureBlock(context: SheetContext): Block {
  const { facts, things, units, projection, scale, room } = context
  const { width, height } = room('landscape')
  const format = units === 'mm' ? { decimals: 1, bare: true } : { fraction: 32 as const, bare: true }
  const { figure, untold } = overviewFigure({
    things,
    pairs: facts.ledger.pairs,
    numbers: numbersOf(context),
    texts: {
      length: (mm) => dimensionText(mm, units),
      gap: ({ gap, overlap }) => formatGap(overlap && overlap.depth > 0 ? -overlap.depth : gap, units, format),
      place: (place) => placeText(place, units),
    },
    projection,
    scale,
    room: { width, height: height - captionRoom },
  })
  return {
    kind: 'figure',
    figure,
    caption: `Front, from the car’s left, and from above; ${projectionWords[projection]}. Wide: the cooler; narrow, hatched: keep-outs that stay; dashed with two dots: what comes off, moves, or stands before the cooler as it is looked at. Numbers: list of keep-outs. Gaps: the least on each side, below 0 where they overlap. Only what is near the cooler is drawn.${untoldText(untold)}`,
  }
}

/** What a drawing leaves out is said: it would be taken for what is not there. */
function untoldText({ gaps, numbers }: ViewsFigure['untold']): string {
  const what = [
    ...(numbers.length > 0 ? [`the numbers of keep-outs ${listed(numbers)}`] : []),
    ...(gaps.length > 0 ? [`gaps of ${listed(gaps)}`] : []),
  ]
  return what.length > 0 ? ` Without a free place in the drawing: ${listed(what)}; see the lists.` : ''
}

const projectionWords = {
  'first-angle': 'first angle projection (ISO 5456-2): what is seen from one side stands on the other',
  'third-angle': 'third angle projection (ISO 5456-2): what is seen from one side stands on that side',
} as const

/** A keep-out and its mirror image carry one number. */
function numbersOf({ facts: { bay }, things }: SheetContext) {
  return bay.keepOuts.flatMap(({ id, mirror }, i) =>
    [id, ...(mirror ? [mirrorId(id)] : [])]
      .filter((name) => things.some((thing) => thing.name === name))
      .map((name) => ({ name, text: String(i + 1) })),
  )
}

const axisWords = ['X', 'Y', 'Z'] as const

function standing({ facts: { bay, candidate }, things, units }: SheetContext): [string, string][] {
  const turned = candidate.turn.some((angle) => Math.abs(angle) > 1e-9)
  const size = (of: readonly number[]) => of.map((mm) => formatLength(mm, units)).join(' × ')
  const kept = things.filter(
    ({ role, solid }) => role !== 'part' && solid.forms.every(({ form }) => form !== 'halfSpace'),
  )
  const { min, max } = unionBounds(kept.map(({ solid }) => solid.bounds))
  const { origin, note } = bay.frame
  return [
    ['Origin', `${origin}${note ? ` (${note})` : ''}`],
    ['Axes', `right-handed: ${axisWords.map((axis, k) => `${axis} ${ways[k][1]}`).join(', ')}`],
    ['Middle of the core', placeText(candidate.at, units)],
    ...(turned
      ? ([
          ['Turned', `${candidate.turn.map(degreesText).join(', ')} about X, Y, Z through it, one after the other`],
        ] as [string, string][])
      : []),
    ['Core', `${size([candidate.core.depth, candidate.core.width, candidate.core.height])} deep, wide and high`],
    ...(kept.length > 0
      ? ([
          [
            'Measured space',
            `${size(max.map((x, k) => x - min[k]))} along X, Y and Z, over all keep-outs that have an end`,
          ],
        ] as [string, string][])
      : []),
  ]
}

function partTable({ facts: { parts, candidate }, units }: SheetContext): Table {
  const unit = unitText(units)
  return {
    id: 'parts',
    columns: [
      { id: 'item', head: 'Part', quantity: 'text', wide: 1.4 },
      { id: 'count', head: 'Count', quantity: 'count', align: 'right', wide: 0 },
      { id: 'size-x', head: `Along X, ${unit}`, quantity: 'length', align: 'right', wide: 0 },
      { id: 'size-y', head: `Along Y, ${unit}`, quantity: 'length', align: 'right', wide: 0 },
      { id: 'size-z', head: `Along Z, ${unit}`, quantity: 'length', align: 'right', wide: 0 },
      { id: 'material', head: 'Material', quantity: 'text', wide: 1.2 },
      { id: 'mass-least', head: 'Mass, kg, at least', quantity: 'mass', align: 'right', wide: 0 },
      { id: 'mass-most', head: 'at most', quantity: 'mass', align: 'right', wide: 0 },
    ],
    rows: parts.map((part) => [
      textCell(partText(part, candidate)),
      { text: String(part.count), value: part.count },
      ...([0, 1, 2] as const).map((k) => sizeCell(part.size, k, units)),
      textCell(part.material ?? ''),
      massCell(part.mass?.atLeast ?? null, Math.floor),
      massCell(part.mass?.atMost ?? null, Math.ceil),
    ]),
  }
}

const kinds: Partial<Record<PartFact['kind'], string>> = {
  coupler: 'coupler',
  clamp: 'clamp',
  elbow: 'elbow',
}

function partText({ part, kind, name, diameter }: PartFact, candidate: SheetContext['facts']['candidate']): string {
  if (kind === 'bolt' || kind === 'nut') return `${kind} for ${diameter} mm`
  const stocked = kinds[kind]
  if (stocked) return `${stocked}: ${name ?? part}`
  return partName(candidate, part)
}

const sizeCell = (size: Vec3 | null, axis: 0 | 1 | 2, units: SheetContext['units']): Cell =>
  size ? lengthCell(size[axis], units) : { text: '', value: null }

const massCell = (kg: number | null, round: (x: number) => number): Cell =>
  kg === null
    ? { text: '', value: null }
    : { text: (round(kg * 1000 - (round === Math.floor ? -1e-9 : 1e-9)) / 1000).toFixed(3), value: kg }

function unknownBlocks({ facts: { parts } }: SheetContext): Block[] {
  const known = parts.filter(({ mass }) => mass !== null)
  const unknown = parts.length - known.length
  const least = known.reduce((sum, { mass, count }) => sum + count * (mass?.atLeast ?? 0), 0)
  const most = known.reduce((sum, { mass, count }) => sum + count * (mass?.atMost ?? 0), 0)
  const sources = [...new Set(known.flatMap(({ density }) => (density ? [density.source] : [])))]
  const sum = known.length > 0 ? `Together ${least.toFixed(3)} to ${most.toFixed(3)} kg of what is known. ` : ''
  const none = unknown > 0 ? 'A dash: the bay gives no wall, material or weight, and none is guessed. ' : ''
  const from = sources.length > 0 ? `Densities: ${sources.join('; ')}.` : ''
  const text = `${sum}${none}Sizes are overall, along the cooler’s own axes; masses are of one. ${from}`.trim()
  return [{ kind: 'text', tone: 'small', text }]
}

const fittings = { stays: 'stays', 'comes-off': 'comes off' } as const

function keepOutTable({ facts: { bay, ledger }, units }: SheetContext): Table {
  const unit = unitText(units)
  return {
    id: 'keep-outs',
    columns: [
      { id: 'number', head: 'No.', quantity: 'count', align: 'right', wide: 0 },
      { id: 'name', head: 'Keep-out', quantity: 'text', wide: 2 },
      { id: 'role', head: 'Role', quantity: 'text', wide: 0.7 },
      { id: 'clearance', head: `Clearance, ${unit}`, quantity: 'length', align: 'right', wide: 0 },
      { id: 'uncertainty', head: `Uncertainty, ${unit}`, quantity: 'length', align: 'right', wide: 0 },
      { id: 'fitting', head: 'While it is offered up', quantity: 'text', wide: 1 },
      { id: 'note', head: 'Note', quantity: 'text', wide: 2 },
    ],
    rows: bay.keepOuts.map((keepOut, i) => {
      const { id, name, role, mirror, fitting } = keepOut
      const { required, uncertainty, assumed } = askedBy(keepOut)
      const left = ledger.leftOut.includes(id)
      const notes = [mirror ? 'and its mirror image' : '', left ? 'left out: not held against anything' : ''].filter(
        Boolean,
      )
      return [
        { text: String(i + 1), value: i + 1 },
        textCell(name),
        textCell(role),
        marked(muchCell(required, units), assumed.includes('clearance')),
        marked(muchCell(uncertainty, units), assumed.includes('uncertainty')),
        textCell(role === 'moving' ? 'moves' : fittings[fitting ?? 'stays']),
        textCell(notes.join('; ')),
      ]
    }),
  }
}

const marked = (cell: Cell, assumed: boolean): Cell => (assumed ? { ...cell, text: `${cell.text} *` } : cell)

function assumedBlocks({ facts: { bay } }: SheetContext): Block[] {
  const some = bay.keepOuts.some((keepOut) => askedBy(keepOut).assumed.length > 0)
  return some ? [{ kind: 'text', tone: 'small', text: `*: not given in the bay; ${defaultsSource}.` }] : []
}
