import { dot, type Vec3 } from '../../shape/vec.ts'
import type { Drawing } from '../drawing/drawing.ts'
import { type Flat, type Frame, type View, type ViewName, views } from '../drawing/view.ts'
import type { Projection } from './arrange.ts'
import type { Figure, FigureDimension, FigureItem, FigureText, Paper } from './figure.ts'
import { type GapWish, type Labelled, labelItems, type NumberWish } from './labels.ts'
import { dimensionSizes, type LanePlace } from './lanes.ts'
import { type DimensionWish, type Layout, layout, names, type ViewPlace } from './layout.ts'
import { axesMark, axesReach, type HoleWish, holeItems, projectionSymbol } from './marks.ts'
import { type Scale, scaleFor } from './scales.ts'
import { type OnPaper, sketch } from './sketch.ts'

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

export interface ViewsFigure {
  readonly figure: Figure
  /** What found no free place: texts of gaps, and numbers that no view shows. */
  readonly untold: { readonly gaps: readonly string[]; readonly numbers: readonly string[] }
}

/** Front, side and plan in line with each other, with their dimensions, at a standard scale, and the symbol of their projection. */
export function viewsFigure(wish: ViewsWish): ViewsFigure {
  const { room } = wish
  const fits = (scale: Scale) => {
    const { width, height } = layout(wish, scale)
    return width <= room.width && height <= room.height
  }
  const { scale, instead } = scaleFor(wish.scale, fits)
  const laid = layout(wish, scale)
  const drawn = names.map((name) => viewItems(wish, laid, name))
  const shown = new Set(drawn.flatMap(({ labels }) => labels.numbers))
  const figure: Figure = {
    id: wish.id,
    width: laid.width,
    height: laid.height,
    scale,
    ...(instead && { scaleInstead: instead }),
    items: [...drawn.flatMap(({ items }) => items), ...projectionSymbol(laid.symbol, wish.projection)],
  }
  return {
    figure,
    untold: {
      gaps: drawn.flatMap(({ labels }) => labels.untoldGaps),
      numbers: [...new Set(drawn.flatMap(({ labels }) => labels.untoldNumbers))].filter((text) => !shown.has(text)),
    },
  }
}

function viewItems(
  wish: ViewsWish,
  { share, places }: Layout,
  name: ViewName,
): { readonly items: readonly FigureItem[]; readonly labels: Labelled } {
  const view = wish.views[name]
  const { corner, frame, lanes, outward } = places[name]
  const place = ([u, v]: Flat): Paper => [
    corner[0] + (u - frame.min[0]) * share,
    corner[1] + (frame.max[1] - v) * share,
  ]
  const paper: OnPaper = { share, place, frame }
  const drawn = sketch(view.drawing, view.nearFirst, paper)
  const dimensions = view.dimensions.map((each, i) => dimensionItem(each, lanes[i], outward, paper))
  const axes = wish.origin ? axesItems(wish, views[name], wish.origin, paper) : { items: [], box: [] }
  const labels = labelItems(drawn, view.gaps ?? [], view.numbers ?? [], paper, axes.box)
  const holes = (view.holes ?? []).flatMap((hole) => holeItems(hole, paper))
  return { items: [...drawn.items, ...holes, ...axes.items, ...dimensions, ...labels.items], labels }
}

function dimensionItem(
  wish: DimensionWish,
  { lane, textAt }: LanePlace,
  outward: ViewPlace['outward'],
  { place, frame }: OnPaper,
): FigureDimension {
  const { first, next, aboveLine, text: textSize } = dimensionSizes
  const [from, to] = [place(wish.from), place(wish.to)]
  const [left, top] = place([frame.min[0], frame.max[1]])
  const [right, bottom] = place([frame.max[0], frame.min[1]])
  const off = first + lane * next
  const at = {
    left: left - off - outward.left,
    right: right + off + outward.right,
    above: top - off,
    below: bottom + off,
  }[wish.side]
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
