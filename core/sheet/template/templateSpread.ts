import type { Paper } from '../figure/figure.ts'
import type { Flat } from '../drawing/view.ts'
import {
  onPaper,
  patternText,
  readable,
  type Spread,
  type SpreadLine,
  type SpreadText,
  textHalves,
  textLength,
} from '../flat/spread.ts'
import type { PlaneRun, RunBend, RunStraight } from './planeRun.ts'

/** What stands on a template; nothing of it is computed here. */
export interface RunWords {
  readonly bend: (bend: RunBend) => readonly string[]
  /** A straight between tangent points, mm. */
  readonly straight: (mm: number) => string
  /** At the beginning and end of the tube itself. */
  readonly begin: string
  readonly end: string
  /** Where the tube goes on to a bend in another plane, or comes from one. */
  readonly from: (bend: number) => string
  readonly onTo: (bend: number) => string
}

/** Free rim round a template, mm. */
const rim = 7

/**
 * A run of bends as a template to lay the tube on: both sides to cut along, the middle line, marks across the tube where
 * bends begin and end, what each bend is, lengths of straights, and arrows the way that the tube goes.
 * @param turn degrees by which it lies turned on the sheet, counter-clockwise
 */
export function templateSpread(run: PlaneRun, turn: number, words: RunWords): Spread {
  const [s, c] = [Math.sin((turn * Math.PI) / 180), Math.cos((turn * Math.PI) / 180)]
  const turned = ([x, y]: Flat): Flat => [c * x - s * y, s * x + c * y]
  const laid = mapped(run, turned)
  const texts = textsOf(laid, words)
  const reach = texts.flatMap((text): Flat[] => {
    const [w, h] = textHalves(text)
    const [x, y] = text.at
    return [
      [x - w, y - h],
      [x + w, y + h],
    ]
  })
  const { width, height, place } = onPaper([...laid.left, ...laid.right, ...reach], rim)
  const line = (stroke: SpreadLine['stroke'], points: readonly Flat[], closed = false): SpreadLine => ({
    stroke,
    points: points.map(place),
    closed,
  })
  return {
    width,
    height,
    lines: [
      line('cut', [...laid.left, ...laid.right.toReversed()], true),
      line('centre', laid.middle),
      ...laid.bends.flatMap(({ tangents }) => tangents.map((each) => line('thin', across(each, halfOf(laid) + 4)))),
    ],
    marks: laid.straights.flatMap((straight) => arrows(straight).map((loop): Paper[] => loop.map(place))),
    texts: texts.map((text) => ({ ...text, at: place(text.at) })),
    labels: [],
  }
}

/** Half the tube, mm. */
const halfOf = ({ left, right }: PlaneRun): number => Math.hypot(left[0][0] - right[0][0], left[0][1] - right[0][1]) / 2

function mapped(run: PlaneRun, to: (point: Flat) => Flat): PlaneRun {
  const bend = (each: RunBend): RunBend => ({
    ...each,
    centre: to(each.centre),
    at: to(each.at),
    tangents: [
      { at: to(each.tangents[0].at), way: to(each.tangents[0].way) },
      { at: to(each.tangents[1].at), way: to(each.tangents[1].way) },
    ],
  })
  return {
    ...run,
    bends: run.bends.map(bend),
    straights: run.straights.map(({ from, to: end }) => ({ from: to(from), to: to(end) })),
    middle: run.middle.map(to),
    left: run.left.map(to),
    right: run.right.map(to),
  }
}

const across = ({ at: [x, y], way: [dx, dy] }: { readonly at: Flat; readonly way: Flat }, by: number): Flat[] => [
  [x - by * dy, y + by * dx],
  [x + by * dy, y - by * dx],
]

const lengthOf = ({ from, to }: RunStraight): number => Math.hypot(to[0] - from[0], to[1] - from[1])
const alongOf = ({ from, to }: RunStraight, share: number): Flat => [
  from[0] + share * (to[0] - from[0]),
  from[1] + share * (to[1] - from[1]),
]
const wayOf = (straight: RunStraight): Flat => {
  const long = lengthOf(straight)
  return [(straight.to[0] - straight.from[0]) / long, (straight.to[1] - straight.from[1]) / long]
}

/** One on each straight that has room for it, 6 mm long. */
function arrows(straight: RunStraight): Flat[][] {
  const long = lengthOf(straight)
  if (long < 14) return []
  const [dx, dy] = wayOf(straight)
  const [x, y] = alongOf(straight, 0.5)
  const tip = 3
  return [
    [
      [x + tip * dx, y + tip * dy],
      [x - tip * dx - 1.2 * dy, y - tip * dy + 1.2 * dx],
      [x - tip * dx + 1.2 * dy, y - tip * dy - 1.2 * dx],
    ],
  ]
}

function textsOf(run: PlaneRun, words: RunWords): SpreadText[] {
  const half = halfOf(run)
  const [first, last] = [run.bends[0], run.bends[run.bends.length - 1]]
  return [
    ...run.bends.flatMap((bend) => bendTexts(bend, half, words.bend(bend))),
    ...run.straights.flatMap((straight) => straightText(straight, half, words.straight(lengthOf(straight)))),
    ...endText(run, half, 'begin', run.begins ? words.begin : words.from(first.number - 1)),
    ...endText(run, half, 'end', run.ends ? words.end : words.onTo(last.number + 1)),
  ]
}

/** Between middle line and outer side where there is room for it, outside of the bend where not: no line runs through it. */
function bendTexts({ at, centre }: RunBend, half: number, lines: readonly string[]): SpreadText[] {
  const step = 1.6 * patternText
  const high = lines.length * step
  const wide = Math.max(...lines.map((text) => textLength(text, patternText)))
  const long = Math.hypot(at[0] - centre[0], at[1] - centre[1])
  const [ux, uy] = [(at[0] - centre[0]) / long, (at[1] - centre[1]) / long]
  const reach = (Math.abs(ux) * wide + Math.abs(uy) * high) / 2 + 1
  const out = reach <= half / 2 ? half / 2 : half + reach + 2
  const [x, y] = [at[0] + out * ux, at[1] + out * uy]
  return lines.map((text, k) => ({
    at: [x, y + ((lines.length - 1) / 2 - k) * step],
    text,
    size: patternText,
    turn: 0,
  }))
}

function straightText(straight: RunStraight, half: number, text: string): SpreadText[] {
  if (lengthOf(straight) < textLength(text, patternText) + 14) return []
  const [dx, dy] = wayOf(straight)
  const off = Math.min(half / 2, 6)
  const [x, y] = alongOf(straight, 0.5)
  return [
    { at: [x - off * dy, y + off * dx], text, size: patternText, turn: readable((Math.atan2(dy, dx) * 180) / Math.PI) },
  ]
}

/** Across the tube, just inside its end. */
function endText(
  { straights, bends, middle }: PlaneRun,
  half: number,
  end: 'begin' | 'end',
  text: string,
): SpreadText[] {
  const size = 2.5
  const at = end === 'begin' ? middle[0] : middle[middle.length - 1]
  const straight = end === 'begin' ? straights[0] : straights.at(-1)
  const meets = straight && (end === 'begin' ? straight.from : straight.to)
  const onStraight = meets && Math.hypot(meets[0] - at[0], meets[1] - at[1]) < 1e-6
  const way = onStraight
    ? wayOf(straight)
    : end === 'begin'
      ? bends[0].tangents[0].way
      : bends[bends.length - 1].tangents[1].way
  if (textLength(text, size) > 2 * half - 2) return []
  const inward = end === 'begin' ? 3.5 : -3.5
  return [
    {
      at: [at[0] + inward * way[0], at[1] + inward * way[1]],
      text,
      size,
      turn: readable((Math.atan2(way[0], -way[1]) * 180) / Math.PI),
    },
  ]
}
