import { tankFrame, type Side } from '../../../core/bay/tankPort.ts'
import type { Candidate } from '../../../core/bay/schema.ts'
import { type FaceName, flatBodies } from '../../../core/sheet/flat/flatBodies.ts'
import { mockUp, type MockUpPart } from '../../../core/sheet/flat/mockUp.ts'
import { spreadFigure } from '../../../core/sheet/flat/spreadFigure.ts'
import { tileCount, tiles } from '../../../core/sheet/flat/tiles.ts'
import { sizeText } from '../../wording/bendFigures.ts'
import { counted, listed } from '../../wording/plainWords.ts'
import type { SheetContext, SheetKind } from '../context.ts'
import type { Block } from '../sheet.ts'
import { barWords } from './fullSize.ts'

/** Core and tanks in card, full size: how they are put together, then the pages. */
export const mockUpSheets: SheetKind = (context) => {
  const { candidate } = context.facts
  const parts = mockUp(flatBodies(candidate, context.things), (part) => overhangOf(candidate, part), {
    face: (part, face) => [partNames[part] ?? part, faceNames[face]],
    hole: (port, diameter) => `port ${port}, ⌀ ${sizeText(diameter, context.units)}`,
    toCore: 'to the core',
  })
  const paged = parts.map((part) => pagesOf(context, part))
  return [
    {
      id: 'mock-up',
      title: 'Cardboard mock-up',
      orientation: 'portrait',
      blocks: [
        { kind: 'text', text: introText },
        { kind: 'list', items: paged.map(({ part, pages }) => countText(context, part, pages.length)) },
        { kind: 'heading', level: 2, text: 'How it is put together' },
        { kind: 'list', numbered: true, items: stepsOf(parts) },
        { kind: 'text', tone: 'small', text: limitsText },
        ...paged.flatMap(({ pages }) => pages),
      ],
      flats: parts.map(({ part, spread }) => spreadFigure(`mock-up-${part}`, spread)),
    },
  ]
}

const partNames: Readonly<Record<string, string>> = {
  core: 'Core',
  'tank-left': 'Left tank',
  'tank-right': 'Right tank',
}
const faceNames: Readonly<Record<FaceName, string>> = {
  front: 'front',
  rear: 'rear',
  left: 'left, where its tank sits',
  right: 'right, where its tank sits',
  below: 'below',
  above: 'above',
  end: 'end',
  foot: 'foot, glued to the core',
}

const introText =
  'Core and end tanks in full size, to be cut from these pages, folded in card and held into the bay before any metal is cut. ' +
  'The printed side is the outside surface.'

const limitsText =
  'The card’s own thickness adds to every place where layers are glued over each other: allow for it. Pipes, stubs, mounts and couplers are not in the mock-up: their places are drawn where they leave a tank. A mock-up ' +
  'that goes in proves nothing by itself: the gap report does.'

/** How far the foot reaches beyond the core's face at most, mm. */
function overhangOf({ core, tanks }: Candidate, part: string): number {
  const side = part.replace('tank-', '') as Side
  const tank = tanks?.[side]
  if (!tank) return 0
  const { centre, halfDepth, halfHeight } = tankFrame(core, tank, side)
  return Math.max(
    Math.abs(centre[0]) + halfDepth[0] - core.depth / 2,
    Math.abs(centre[2]) + halfHeight[0] - core.height / 2,
  )
}

interface Paged {
  readonly part: MockUpPart
  readonly pages: readonly Block[]
}

/** Either way up, whichever takes fewer pages. */
function pagesOf({ room }: SheetContext, part: MockUpPart): Paged {
  const ways = (['portrait', 'landscape'] as const).map((orientation) => ({
    orientation,
    count: tileCount(part.spread, room(orientation)),
  }))
  const { orientation } = ways[1].count < ways[0].count ? ways[1] : ways[0]
  const words = { page: (row: number, column: number) => `row ${row}, column ${column}`, bar: barWords }
  return {
    part,
    pages: tiles(`mock-up-${part.part}`, part.spread, room(orientation), words).map(
      ({ row, column, figure }): Block => ({
        kind: 'page',
        figure,
        orientation,
        title: `Mock-up, ${partNames[part.part].toLowerCase()}: row ${row}, column ${column}`,
      }),
    ),
  }
}

function countText({ paper }: SheetContext, { part, pieces }: MockUpPart, pages: number): string {
  const seams = pieces.flatMap(({ tabs }) => tabs.map(({ number }) => number))
  const cut = pieces.length > 1 ? `, in ${pieces.length} pieces` : ''
  return `${partNames[part]}: ${counted(pages, 'page')} of ${paper}, ${counted(seams.length, 'tab')}${cut}.`
}

function stepsOf(parts: readonly MockUpPart[]): string[] {
  const tanks = parts.filter(({ part }) => part !== 'core').map(({ part }) => partNames[part].toLowerCase())
  return [
    'Print at 100 %. Measure the bar on every page: it must be 100 mm long.',
    'Lay the pages of each part out by row and column. On the strip that two pages share, cut one of them along the thin line and lay it on the other, so that the crosses of the same letter meet; tape.',
    'Glue the sheet to card, if the paper is too thin to stand.',
    'Cut along the thick line. Score the fold lines (dashed) on the printed side, and fold all of them away from it.',
    'Glue each tab behind the edge that has its number, in the order of the numbers.',
    ...(tanks.length > 0
      ? [
          `Glue the ${listed(tanks)} to the core: tabs marked “to the core” go inwards, flat onto its side; edges in line as the drawing shows.`,
        ]
      : []),
    'Cut out a port where a tube is to be held into it.',
  ]
}
