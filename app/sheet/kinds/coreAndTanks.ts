import { coolerFigure, tankFigure, tankSides } from '../../../core/sheet/figure/cooler.ts'
import type { Side as TankSide } from '../../../core/bay/tankPort.ts'
import type { Figure } from '../../../core/sheet/figure/figure.ts'
import { formatLength, formatUncertainty } from '../../../core/units/lengthText.ts'
import { amountText } from '../../wording/amounts.ts'
import { fineWithUnit } from '../../wording/plainWords.ts'
import type { SheetContext, SheetKind } from '../context.ts'
import type { Block, Sheet } from '../sheet.ts'
import { holeTable, portTable, sizeTable, tolerancesText } from './bodyTables.ts'
import { dimensionText } from './dimensionText.ts'
import { scaleText } from '../pdf/head.ts'
import { tankFlatBlocks } from './tankFlatBlocks.ts'

/** Core and tanks with their sizes, tolerances, ports and holes; then the tanks laid out flat. */
export const coreAndTanksSheets: SheetKind = (context) => {
  const { facts, room } = context
  const sides = tankSides(facts.candidate)
  const scene = sceneOf(context)
  const tanks = sides.flatMap((side) => tankFigure(scene, side) ?? [])
  const flat = tankFlatBlocks(context)
  const sheets: Sheet[] = [
    {
      id: 'core-and-tanks',
      title: 'Core and tanks',
      orientation: 'landscape',
      blocks: [
        figureBlock(coolerFigure(scene), `Core, tanks, stubs and mounts, square to the core. ${plain}`),
        { kind: 'facts', rows: coreFacts(context) },
        ...tankBlocks(tanks, sides, room('landscape').width),
      ],
    },
    {
      id: 'core-and-tanks',
      of: 'sizes',
      title: 'Core and tanks: sizes and places',
      orientation: 'portrait',
      blocks: [
        { kind: 'heading', level: 1, text: 'Sizes' },
        { kind: 'table', table: sizeTable(context) },
        ...tolerancesText(context).map((text): Block => ({ kind: 'text', tone: 'small', text })),
        ...tablesOf(context),
      ],
    },
  ]
  if (flat.blocks.length === 0) return sheets
  const flats: Sheet = {
    id: 'core-and-tanks',
    of: 'flat',
    title: 'End tanks laid out flat',
    orientation: 'portrait',
    blocks: flat.blocks,
    flats: flat.flats,
  }
  return [...sheets, flats]
}

/** Beside each other where both fit at their scale. */
function tankBlocks(tanks: readonly Figure[], sides: readonly TankSide[], width: number): Block[] {
  const caption = (n: number) => `${tankNames[sides[n]]} with its stubs and mounts.`
  const half = width / 2 - figureRim
  if (tanks.length < 2 || tanks.some((figure) => figure.width > half))
    return tanks.map((figure, n) => figureBlock(figure, caption(n)))
  const items = tanks.map((figure, n) => ({
    figure,
    caption: `${caption(n)}${figure.scale ? ` Scale ${scaleText(figure.scale)}.` : ''}`,
  }))
  return [{ kind: 'figures', across: 2, items }]
}

/** What a frame around pictures beside each other takes, mm. */
const figureRim = 4
const plain = 'Outside sizes; what is hidden is dashed.'
const tankNames = { left: 'Left tank', right: 'Right tank' } as const
/** Left free below a drawing for its caption, mm. */
const captionRoom = 10

function sceneOf({ facts: { candidate }, things, units, projection, scale, room }: SheetContext) {
  const { width, height } = room('landscape')
  return {
    candidate,
    things,
    length: (mm: number) => dimensionText(mm, units),
    projection,
    scale,
    room: { width, height: height - captionRoom },
  }
}

const figureBlock = (figure: Figure, caption: string): Block => ({ kind: 'figure', figure, caption })

function coreFacts(context: SheetContext): [string, string][] {
  const { core } = context.facts.candidate
  const { depth, width, height, tolerance } = core
  const { units } = context
  const held = tolerance
    ? `no face may stand out more than ${formatUncertainty(tolerance, units, fineWithUnit(units))} beyond its nominal place: the gaps count on it`
    : 'the bay gives none: the gaps count on no face standing out beyond its nominal place'
  return [
    ['Stock', stockText(context)],
    ['Rows', rowsText(context)],
    ['Volume', amountText(depth * width * height, 'volume', units, 'down')],
    ['Face', amountText(width * height, 'face', units, 'down')],
    ['Tolerance of the core', held],
  ]
}

function stockText({ facts: { candidate }, units }: SheetContext): string {
  const stock = candidate.limits?.depth?.stock
  const depth = formatLength(candidate.core.depth, units, fineWithUnit(units))
  if (!stock) return `${depth} deep; stock is not given in the bay`
  const listed = stock.map((mm) => formatLength(mm, units, fineWithUnit(units))).join(', ')
  const isStock = stock.some((mm) => Math.abs(mm - candidate.core.depth) < 1e-6)
  return isStock ? `${depth} deep, of ${listed}` : `${depth} deep is none of the stock: ${listed}`
}

/** Rows are those of `limits.height`: pitch · n + offset. */
function rowsText({ facts: { candidate }, units }: SheetContext): string {
  const { pitch, offset = 0 } = candidate.limits?.height ?? {}
  if (pitch === undefined) return 'pitch is not given in the bay'
  const count = (candidate.core.height - offset) / pitch
  const length = (mm: number) => formatLength(mm, units, fineWithUnit(units))
  const pattern = `${length(pitch)} apart, and ${length(offset)} over them`
  const whole = Math.round(count)
  return Math.abs(count - whole) < 1e-6
    ? `${whole}, ${pattern}`
    : `the height holds no whole number of rows (${pattern}): ${count.toFixed(2)}`
}

function tablesOf(context: SheetContext): Block[] {
  const ports = portTable(context)
  const holes = holeTable(context)
  return [
    ...(ports.rows.length > 0
      ? ([
          { kind: 'heading', level: 1, text: 'Stubs' },
          { kind: 'table', table: ports },
          { kind: 'text', tone: 'small', text: `Where its middle meets the tank. ${measuredText}` },
        ] as const)
      : []),
    ...(holes.rows.length > 0
      ? ([
          { kind: 'heading', level: 1, text: 'Mounts and their holes' },
          { kind: 'table', table: holes },
          {
            kind: 'text',
            tone: 'small',
            text: `Middles of holes, half-way through; of pins, where they leave the face. ${measuredText}`,
          },
        ] as const)
      : []),
  ]
}

const measuredText =
  'X from the front face of the core rearward, Y from the middle of the core to the right, Z from the lower face of the core up.'
