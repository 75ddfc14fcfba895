import { textWidth } from './textWidth.ts'

/** Sizes of dimensions on paper, mm. Source: ISO 129-1, from memory; distances of lines are common practice, no source. */
export const dimensionSizes = { text: 2.5, arrow: 2.5, first: 9, next: 7.5, aboveLine: 0.9 } as const

/** A dimension beside a view, seen along the side that it stands at, mm of paper. */
export interface LaneWish {
  readonly from: number
  readonly to: number
  readonly text: string
}

/** Where it comes to stand: 0 is the lane nearest to the view. */
export interface LanePlace {
  readonly lane: number
  /** Middle of the text. */
  readonly textAt: number
}

interface Span {
  readonly low: number
  readonly high: number
}

/** Free on both sides of a text, and between dimensions of a lane, mm. */
const beside = 1.2

/**
 * Dimensions beside each other and one outside the other, the shortest nearest to the view, so that neither lines nor texts
 * meet; texts also keep clear of extension lines that run past them to lanes farther out.
 * A text that is wider than what it measures stands beside it.
 */
export function laneDimensions(wishes: readonly LaneWish[]): LanePlace[] {
  const order = wishes.map((_, i) => i).sort((a, b) => lengthOf(wishes[a]) - lengthOf(wishes[b]) || a - b)
  const lanes: Span[][] = []
  const places: LanePlace[] = []
  for (const i of order) {
    const others = wishes.flatMap(({ from, to }, k) => (k === i ? [] : [from, to]))
    const { textAt, span } = textPlace(wishes[i], others)
    const lane = laneFor(lanes, span)
    lanes[lane] ??= []
    lanes[lane].push(span)
    places[i] = { lane, textAt }
  }
  return places
}

const lengthOf = ({ from, to }: LaneWish): number => Math.abs(to - from)

function laneFor(lanes: readonly Span[][], span: Span): number {
  const meets = (other: Span) => span.low < other.high + beside && other.low < span.high + beside
  let lane = lanes.length
  // Outside everything that it meets: its extension lines would run through that otherwise.
  while (lane > 0 && !lanes[lane - 1].some(meets)) lane--
  return lane
}

/** How far beside the end of a dimension line whose arrows stand outside the line runs on. */
export const outsideRun = 2 * dimensionSizes.arrow

/** Arrows stand outside where there is no room between the ends. */
export const arrowsOutside = (length: number): boolean => length < 2 * dimensionSizes.arrow + 1

function textPlace({ from, to, text }: LaneWish, others: readonly number[]): { textAt: number; span: Span } {
  const [low, high] = [Math.min(from, to), Math.max(from, to)]
  const half = textWidth(text, dimensionSizes.text) / 2 + 0.4
  const run = arrowsOutside(high - low) ? outsideRun : 0
  const span = (textAt: number): Span => ({
    low: Math.min(low - run, textAt - half),
    high: Math.max(high + run, textAt + half),
  })
  const crossed = (textAt: number) => others.some((x) => Math.abs(x - textAt) < half + 0.3)
  const tries = placesToTry(low, high, half, run)
  const textAt = tries.find((at) => !crossed(at)) ?? tries[0]
  return { textAt, span: span(textAt) }
}

function placesToTry(low: number, high: number, half: number, run: number): number[] {
  const middle = (low + high) / 2
  const slack = (high - low) / 2 - half
  const steps = slack < 0 ? -1 : Math.floor(slack / 0.5)
  const within = Array.from(
    { length: Math.max(0, 2 * steps + 1) },
    (_, k) => middle + 0.5 * (k % 2 ? (k + 1) / 2 : -k / 2),
  )
  const past = Math.max(run, dimensionSizes.arrow) + half + 0.3
  return [...within, ...Array.from({ length: 40 }, (_, k) => [high + past + k, low - past - k]).flat()]
}

/** Room beside the view that so many lanes take, mm. */
export const lanesRoom = (count: number): number =>
  count === 0 ? 0 : dimensionSizes.first + (count - 1) * dimensionSizes.next + dimensionSizes.text + 3
