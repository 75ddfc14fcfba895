import type { Flat, Frame, ViewName } from '../drawing/view.ts'
import { alignedFrames, type Cells, cellsFor, type Projection } from './arrange.ts'
import type { Paper } from './figure.ts'
import { dimensionSizes, laneDimensions, type LanePlace, lanesRoom } from './lanes.ts'
import { symbolSize } from './marks.ts'
import { type Scale, shareOf } from './scales.ts'
import type { Side } from './sideGaps.ts'
import { textWidth } from './textWidth.ts'

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

export interface LayoutWish {
  readonly projection: Projection
  readonly views: Readonly<Record<ViewName, { readonly frame: Frame; readonly dimensions: readonly DimensionWish[] }>>
}

export const names: readonly ViewName[] = ['front', 'side', 'plan']
/** Between one view with its dimensions and the next, mm of paper. */
const between = 5

interface Margins {
  readonly left: number
  readonly right: number
  readonly above: number
  readonly below: number
}

export interface ViewPlace {
  /** Upper left corner of the frame. */
  readonly corner: Paper
  readonly frame: Frame
  /** Of its dimensions, by their number. */
  readonly lanes: readonly LanePlace[]
  /** So much farther out the dimensions to the left and right begin, past texts that stand out below and above, mm of paper. */
  readonly outward: Outward
}

export interface Layout {
  readonly share: number
  readonly width: number
  readonly height: number
  readonly places: Readonly<Record<ViewName, ViewPlace>>
  readonly symbol: Paper
}

const sides: readonly Side[] = ['left', 'right', 'above', 'below']
const sizeOf = ({ min, max }: Frame, share: number): Paper => [(max[0] - min[0]) * share, (max[1] - min[1]) * share]

/** Where everything stands at a scale; the places of dimensions depend on it, since texts keep their size. */
export function layout({ projection, views: wished }: LayoutWish, scale: Scale): Layout {
  const share = shareOf(scale)
  const frames = alignedFrames({ front: wished.front.frame, side: wished.side.frame, plan: wished.plan.frame })
  const lanes = record((name) => lanesOf(wished[name].dimensions, frames[name], share))
  const margins = record((name) => marginsOf(wished[name].dimensions, lanes[name], frames[name], share))
  const cells = cellsFor(projection)
  // The symbol stands in the column of the side view and the row of the plan, which are the narrow ones.
  const least = { front: [0, 0], side: [symbolSize.width, 0], plan: [0, symbolSize.height + 2] } as const
  const columns = tracks(cells, 0, (name) => [
    margins[name].left,
    Math.max(least[name][0], sizeOf(frames[name], share)[0]),
    margins[name].right,
  ])
  const rows = tracks(cells, 1, (name) => [
    margins[name].above,
    Math.max(least[name][1], sizeOf(frames[name], share)[1]),
    margins[name].below,
  ])
  const places = record(
    (name): ViewPlace => ({
      corner: [columns.starts[cells[name][0]], rows.starts[cells[name][1]]],
      frame: frames[name],
      lanes: lanes[name],
      outward: outwardOf(wished[name].dimensions, lanes[name], frames[name], share),
    }),
  )
  const free = [cells.side[0], cells.plan[1]] as const
  return {
    share,
    width: columns.total,
    height: rows.total,
    places,
    symbol: [
      columns.starts[free[0]] + (columns.sizes[free[0]] - symbolSize.width) / 2,
      rows.starts[free[1]] + rows.sizes[free[1]] - symbolSize.height - 2,
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

interface Beyond {
  readonly low: number
  readonly high: number
}

/** How far texts beside their dimensions stand out past the view, mm. */
function beyond(
  wishes: readonly DimensionWish[],
  lanes: readonly LanePlace[],
  own: readonly Side[],
  size: number,
): Beyond {
  const ends = wishes.flatMap(({ side, text }, i) => {
    if (!own.includes(side)) return []
    const half = textWidth(text, dimensionSizes.text) / 2 + 1
    return [[lanes[i].textAt - half, lanes[i].textAt + half]]
  })
  return { low: Math.max(0, ...ends.map(([low]) => -low)), high: Math.max(0, ...ends.map(([, high]) => high - size)) }
}

type Outward = Readonly<Record<'left' | 'right', number>>

/** Where texts stand out past a corner both ways, those to the left and right give way. */
function outwardOf(
  wishes: readonly DimensionWish[],
  lanes: readonly LanePlace[],
  frame: Frame,
  share: number,
): Outward {
  const [wide, high] = sizeOf(frame, share)
  const across = beyond(wishes, lanes, ['above', 'below'], wide)
  const give = (side: 'left' | 'right', by: number) => {
    const up = beyond(wishes, lanes, [side], high)
    return up.low > 0 || up.high > 0 ? by : 0
  }
  return { left: give('left', across.low), right: give('right', across.high) }
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
  const across = beyond(wishes, lanes, ['above', 'below'], wide)
  const up = beyond(wishes, lanes, ['left', 'right'], high)
  const outward = outwardOf(wishes, lanes, frame, share)
  const least = 2
  return {
    left: Math.max(least, room('left') + outward.left, across.low),
    right: Math.max(least, room('right') + outward.right, across.high),
    above: Math.max(least, room('above'), up.low),
    below: Math.max(least, room('below'), up.high),
  }
}
