import { dot, type Vec3 } from '../../shape/vec.ts'
import type { Drawing } from '../drawing/drawing.ts'
import { type Flat, type Frame, type View, type ViewName, views } from '../drawing/view.ts'
import { alignedFrames, type Cells, cellsFor, type Projection } from './arrange.ts'
import type { Figure, FigureDimension, FigureItem, FigureText, Paper } from './figure.ts'
import { dimensionSizes, laneDimensions, type LanePlace, lanesRoom } from './lanes.ts'
import { axesMark, axesReach, type HoleWish, holeItems, projectionSymbol, symbolSize } from './marks.ts'
import { labelItems, type GapWish, type NumberWish } from './labels.ts'
import { type Scale, scaleFor, shareOf } from './scales.ts'
import { type OnPaper, sketch } from './sketch.ts'
import { textWidth } from './textWidth.ts'
import type { Side } from './sideGaps.ts'

/** A dimension that stands beside a view; places true size in the view's own directions, mm. */
export interface DimensionWish {
  /** Of the view that it stands at: below and above it measures across, left and right it measures up. */
  readonly side: Side
  readonly of: string
  readonly value: number
  readonly text: string
  readonly from: Flat
  readonly to: Flat
}

export interface ViewWish {
  readonly drawing: Drawing
  /** What of it is shown. */
  readonly frame: Frame
  /** Names of what is drawn, nearest to the eye first. */
  readonly nearFirst: readonly string[]
  readonly dimensions: readonly DimensionWish[]
  readonly gaps?: readonly GapWish[]
  readonly numbers?: readonly NumberWish[]
  readonly holes?: readonly HoleWish[]
}

export interface ViewsWish {
  readonly id: string
  readonly projection: Projection
  readonly views: Readonly<Record<ViewName, ViewWish>>
  /** Where the frame of the bay has its origin; null draws no axes. */
  readonly origin: Vec3 | null
  /** Coordinates of a place where axes stand that are not at the origin, as people read them. */
  readonly placeText: (place: Vec3) => string
  /** 1 : this; null takes the largest standard scale that fits. */
  readonly scale: number | null
  /** mm of paper */
  readonly room: { readonly width: number; readonly height: number }
}

const names: readonly ViewName[] = ['front', 'side', 'plan']
/** Between one view with its dimensions and the next, mm of paper. */
const between = 5

/** Front, side and plan in line with each other, with their dimensions, at a standard scale, and the symbol of their projection. */
export function viewsFigure(wish: ViewsWish): Figure {
  const { room } = wish
  const fits = (scale: Scale) => {
    const { width, height } = layout(wish, scale)
    return width <= room.width && height <= room.height
  }
  const { scale, instead } = scaleFor(wish.scale, fits)
  const laid = layout(wish, scale)
  const items = names.flatMap((name) => viewItems(wish, laid, name))
  return {
    id: wish.id,
    width: laid.width,
    height: laid.height,
    scale,
    ...(instead && { scaleInstead: instead }),
    items: [...items, ...projectionSymbol(laid.symbol, wish.projection)],
  }
}

interface Margins {
  readonly left: number
  readonly right: number
  readonly above: number
  readonly below: number
}

interface ViewPlace {
  /** Upper left corner of the frame. */
  readonly corner: Paper
  readonly frame: Frame
  /** Of its dimensions, by their number. */
  readonly lanes: readonly LanePlace[]
}

interface Layout {
  readonly share: number
  readonly width: number
  readonly height: number
  readonly places: Readonly<Record<ViewName, ViewPlace>>
  readonly symbol: Paper
}

const sides: readonly Side[] = ['left', 'right', 'above', 'below']
const sizeOf = ({ min, max }: Frame, share: number): Paper => [(max[0] - min[0]) * share, (max[1] - min[1]) * share]

function layout({ projection, views: wished }: ViewsWish, scale: Scale): Layout {
  const share = shareOf(scale)
  const frames = alignedFrames({ front: wished.front.frame, side: wished.side.frame, plan: wished.plan.frame })
  const lanes = record((name) => lanesOf(wished[name].dimensions, frames[name], share))
  const margins = record((name) => marginsOf(wished[name].dimensions, lanes[name], frames[name], share))
  const cells = cellsFor(projection)
  const columns = tracks(cells, 0, (name) => [margins[name].left, sizeOf(frames[name], share)[0], margins[name].right])
  const rows = tracks(cells, 1, (name) => [margins[name].above, sizeOf(frames[name], share)[1], margins[name].below])
  const places = record(
    (name): ViewPlace => ({
      corner: [columns.starts[cells[name][0]], rows.starts[cells[name][1]]],
      frame: frames[name],
      lanes: lanes[name],
    }),
  )
  const free = [cells.side[0], cells.plan[1]] as const
  return {
    share,
    width: Math.max(columns.total, symbolSize.width),
    height: rows.total,
    places,
    symbol: [
      Math.max(0, columns.starts[free[0]] + (columns.sizes[free[0]] - symbolSize.width) / 2),
      rows.starts[free[1]] + Math.max(0, rows.sizes[free[1]] - symbolSize.height - 2),
    ],
  }
}

const record = <T>(of: (name: ViewName) => T): Record<ViewName, T> => ({
  front: of('front'),
  side: of('side'),
  plan: of('plan'),
})

interface Tracks {
  /** Where the frames of each column or row begin. */
  readonly starts: readonly number[]
  readonly sizes: readonly number[]
  readonly total: number
}

function tracks(
  cells: Cells,
  axis: 0 | 1,
  of: (name: ViewName) => readonly [before: number, size: number, after: number],
): Tracks {
  const all = [0, 1].map((n) => {
    const own = names.filter((name) => cells[name][axis] === n).map(of)
    return [0, 1, 2].map((k) => Math.max(0, ...own.map((each) => each[k])))
  })
  const first = all[0][0]
  const second = first + all[0][1] + all[0][2] + between + all[1][0]
  return { starts: [first, second], sizes: all.map(([, size]) => size), total: second + all[1][1] + all[1][2] }
}

/** From and to along the side that a dimension stands at, mm of paper from the frame's upper left corner. */
function alongSide({ side, from, to }: DimensionWish, { min, max }: Frame, share: number): [number, number] {
  const along =
    side === 'above' || side === 'below' ? ([u]: Flat) => (u - min[0]) * share : ([, v]: Flat) => (max[1] - v) * share
  return [along(from), along(to)]
}

function lanesOf(wishes: readonly DimensionWish[], frame: Frame, share: number): LanePlace[] {
  const places: LanePlace[] = []
  for (const side of sides) {
    const own = wishes.flatMap((wish, i) => (wish.side === side ? [{ wish, i }] : []))
    const laid = laneDimensions(
      own.map(({ wish }) => {
        const [from, to] = alongSide(wish, frame, share)
        return { from, to, text: wish.text }
      }),
    )
    own.forEach(({ i }, k) => {
      places[i] = laid[k]
    })
  }
  return places
}

function marginsOf(
  wishes: readonly DimensionWish[],
  lanes: readonly LanePlace[],
  frame: Frame,
  share: number,
): Margins {
  const [wide, high] = sizeOf(frame, share)
  const room = (side: Side) =>
    lanesRoom(Math.max(0, ...wishes.map((wish, i) => (wish.side === side ? lanes[i].lane + 1 : 0))))
  // Texts beside their dimensions may stand out past the view.
  const past = (across: boolean) => {
    const own = wishes.flatMap((wish, i) => {
      if ((wish.side === 'above' || wish.side === 'below') !== across) return []
      const half = textWidth(wish.text, dimensionSizes.text) / 2 + 1
      return [[lanes[i].textAt - half, lanes[i].textAt + half]]
    })
    return [
      Math.max(0, ...own.map(([low]) => -low)),
      Math.max(0, ...own.map(([, end]) => end - (across ? wide : high))),
    ]
  }
  const [pastLeft, pastRight] = past(true)
  const [pastAbove, pastBelow] = past(false)
  const least = 2
  return {
    left: Math.max(least, room('left'), pastLeft),
    right: Math.max(least, room('right'), pastRight),
    above: Math.max(least, room('above'), pastAbove),
    below: Math.max(least, room('below'), pastBelow),
  }
}

function viewItems(wish: ViewsWish, { share, places }: Layout, name: ViewName): FigureItem[] {
  const view = wish.views[name]
  const { corner, frame, lanes } = places[name]
  const place = ([u, v]: Flat): Paper => [
    corner[0] + (u - frame.min[0]) * share,
    corner[1] + (frame.max[1] - v) * share,
  ]
  const paper: OnPaper = { share, place, frame }
  const drawn = sketch(view.drawing, view.nearFirst, paper)
  const dimensions = view.dimensions.map((each, i) => dimensionItem(each, lanes[i], paper))
  const axes = wish.origin ? axesItems(wish, views[name], wish.origin, paper) : { items: [], box: [] }
  return [
    ...drawn.items,
    ...(view.holes ?? []).flatMap((hole) => holeItems(hole, paper)),
    ...axes.items,
    ...dimensions,
    ...labelItems(drawn, view.gaps ?? [], view.numbers ?? [], paper, axes.box),
  ]
}

function dimensionItem(wish: DimensionWish, { lane, textAt }: LanePlace, { place, frame }: OnPaper): FigureDimension {
  const { first, next, aboveLine, text: textSize } = dimensionSizes
  const [from, to] = [place(wish.from), place(wish.to)]
  const [left, top] = place([frame.min[0], frame.max[1]])
  const [right, bottom] = place([frame.max[0], frame.min[1]])
  const off = first + lane * next
  const at = { left: left - off, right: right + off, above: top - off, below: bottom + off }[wish.side]
  const across = wish.side === 'above' || wish.side === 'below'
  return {
    kind: 'dimension',
    of: wish.of,
    value: wish.value,
    quantity: 'mm',
    from,
    to,
    line: across
      ? [
          [from[0], at],
          [to[0], at],
        ]
      : [
          [at, from[1]],
          [at, to[1]],
        ],
    text: wish.text,
    // Above the line as it is read: from below, or from the right.
    textAt: across ? [left + textAt, at - aboveLine] : [at - aboveLine, top + textAt],
    textSize,
    turn: across ? 0 : 90,
  }
}

/** The axes at the origin where the view shows it, else in a corner with the coordinates of where they stand. */
function axesItems(wish: ViewsWish, view: View, origin: Vec3, { share, place, frame }: OnPaper) {
  const flat: Flat = [dot(origin, view.right), dot(origin, view.up)]
  const shown = [0, 1].every((k) => flat[k] >= frame.min[k] && flat[k] <= frame.max[k])
  const inset = (axesReach + 1) / share
  const corner: Flat = [frame.min[0] + inset, frame.min[1] + inset]
  const at = place(shown ? flat : corner)
  const text: FigureText[] = shown
    ? []
    : [
        {
          kind: 'text',
          at: [at[0] + 2, at[1] + 4.5],
          text: wish.placeText(spaceOf(view, corner)),
          size: 1.8,
          anchor: 'start',
        },
      ]
  const reach = axesReach + 1
  return {
    items: [...axesMark(at, view), ...text],
    box: [{ left: at[0] - reach, right: at[0] + reach, top: at[1] - reach, bottom: at[1] + (shown ? 4 : 6) }],
  }
}

/** A point of space that a place of the picture stands for; what lies along the line of sight is 0. */
const spaceOf = ({ right, up }: View, [u, v]: Flat): Vec3 =>
  [0, 1, 2].map((k) => u * right[k] + v * up[k]) as unknown as Vec3
