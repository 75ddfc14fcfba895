import type { Flat } from '../drawing/view.ts'
import type { FigureDimension, FigureItem, Paper } from './figure.ts'
import { circle } from './marks.ts'
import { type Box, placeBoxes } from './placeBoxes.ts'
import type { OnPaper, Sketch } from './sketch.ts'
import { textWidth } from './textWidth.ts'

/** A gap that is told beside it; places true size in the view's own directions, mm. */
export interface GapWish {
  readonly of: string
  readonly value: number
  readonly text: string
  readonly from: Flat
  readonly to: Flat
}

/** Number of an item of the list (ISO 6433), in a ring on it or led to it. */
export interface NumberWish {
  /** Of what is drawn. */
  readonly name: string
  readonly text: string
}

const spacing = { apart: 0.8, distances: [5, 8, 11.5, 15, 20, 26, 33] }
const onItSpacing = { ...spacing, distances: [0, ...spacing.distances] }
const ring = 2.3
/** A thing and its mirror image that stand behind each other get one number. */
const twins = 6
/** Capitals of gaps and numbers, mm. */
const size = 1.8

export interface Labelled {
  readonly items: readonly FigureItem[]
  /** Texts of gaps for which there was no free place. */
  readonly untoldGaps: readonly string[]
  /** Numbers that are shown, and those that would be but for want of a free place. */
  readonly numbers: readonly string[]
  readonly untoldNumbers: readonly string[]
}

/** Gaps with their figures, then numbers, none over another nor over what is taken. */
export function labelItems(
  sketched: Sketch,
  gaps: readonly GapWish[],
  numbers: readonly NumberWish[],
  paper: OnPaper,
  taken: readonly Box[],
): Labelled {
  const { place, frame } = paper
  const [left, top] = place([frame.min[0], frame.max[1]])
  const [right, bottom] = place([frame.max[0], frame.min[1]])
  const room: Box = { left: left - 1, top: top - 1, right: right + 1, bottom: bottom + 1 }
  const own = gaps.map((gap) => gapBox(gap, paper))
  const gapPlaces = placeBoxes(own, taken, room, spacing)
  const gapBoxes = own.flatMap(({ width, height }, i) => boxAt(gapPlaces[i], width, height))
  const rings = numbers.flatMap(({ name, text }) => {
    const anchor = anchorOf(sketched, name)
    return anchor ? [{ ...anchor, text, width: 2 * ring, height: 2 * ring, towards: [0, -1] as const }] : []
  })
  const told = rings.filter(
    ({ at, text }, i) => !rings.slice(0, i).some((each) => each.text === text && longOf([each.at, at]) < twins),
  )
  const roomy = told.filter(({ free }) => free >= 4 * ring)
  const tight = told.filter(({ free }) => free < 4 * ring)
  const roomyPlaces = placeBoxes(roomy, [...taken, ...gapBoxes], room, onItSpacing)
  const roomyBoxes = roomy.flatMap(({ width, height }, i) => boxAt(roomyPlaces[i], width, height))
  const tightPlaces = placeBoxes(tight, [...taken, ...gapBoxes, ...roomyBoxes], room, spacing)
  const all = [...roomy, ...tight]
  const places = [...roomyPlaces, ...tightPlaces]
  return {
    items: [
      ...gaps.flatMap((gap, i) => gapItems(gap, gapPlaces[i], own[i], paper)),
      ...all.flatMap((each, i) => numberItems(each, places[i])),
    ],
    untoldGaps: gaps.filter((_, i) => !gapPlaces[i]).map(({ text }) => text),
    numbers: all.filter((_, i) => places[i]).map(({ text }) => text),
    untoldNumbers: all.filter((_, i) => !places[i]).map(({ text }) => text),
  }
}

const boxAt = (at: Paper | null, width: number, height: number): Box[] =>
  at ? [{ left: at[0], top: at[1], right: at[0] + width, bottom: at[1] + height }] : []

const middleOf = (a: Paper, b: Paper): Paper => [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2]

function gapBox({ from, to, text }: GapWish, { place }: OnPaper) {
  const [a, b] = [place(from), place(to)]
  const long = Math.hypot(b[0] - a[0], b[1] - a[1])
  const towards: Paper = long > 1e-6 ? [(b[0] - a[0]) / long, (b[1] - a[1]) / long] : [1, 0]
  return { at: middleOf(a, b), width: textWidth(text, size, true) + 1.2, height: size + 1.6, towards }
}

function gapItems(
  { of, value, text, from, to }: GapWish,
  at: Paper | null,
  { width, height }: { width: number; height: number },
  { place }: OnPaper,
): FigureItem[] {
  const [a, b] = [place(from), place(to)]
  if (!at) return []
  const middle = middleOf(a, b)
  const foot: Paper = [
    Math.min(at[0] + width, Math.max(at[0], middle[0])),
    Math.min(at[1] + height, Math.max(at[1], middle[1])),
  ]
  const dimension: FigureDimension = {
    ...{ kind: 'dimension', of, value, quantity: 'mm', from: a, to: b, line: [a, b], text, textSize: size, turn: 0 },
    textAt: [at[0] + width / 2, at[1] + height - 0.8],
    leader: [middle, foot],
  }
  return [cleared(at, width, height), dimension]
}

/** Lines break off where a text stands. */
const cleared = ([x, y]: Paper, width: number, height: number): FigureItem => ({
  kind: 'area',
  fill: 'paper',
  loops: [
    [
      [x, y],
      [x + width, y],
      [x + width, y + height],
      [x, y + height],
    ],
  ],
})

interface Ringed {
  readonly at: Paper
  readonly text: string
}

function numberItems({ at, text }: Ringed, corner: Paper | null): FigureItem[] {
  if (!corner) return []
  const centre: Paper = [corner[0] + ring, corner[1] + ring]
  const long = Math.hypot(centre[0] - at[0], centre[1] - at[1])
  const r = ring - 0.3
  const foot: Paper = [centre[0] + ((at[0] - centre[0]) * r) / long, centre[1] + ((at[1] - centre[1]) * r) / long]
  const leader: FigureItem[] = long > ring ? [{ kind: 'line', stroke: 'thin', points: [at, foot] }, dot(at)] : []
  const disc = circle(centre, r)
  return [
    ...leader,
    { kind: 'area', fill: 'paper', loops: disc.kind === 'line' ? [disc.points] : [] },
    disc,
    { kind: 'text', at: [centre[0], centre[1] + size / 2], text, size, anchor: 'middle', bold: true },
  ]
}

/** A leader that ends within the outline of what it points at ends in a dot. Source: ISO 128-2, from memory. */
const dot = ([x, y]: Paper): FigureItem => ({
  kind: 'area',
  fill: 'ink',
  loops: [
    Array.from(
      { length: 8 },
      (_, i): Paper => [x + 0.45 * Math.cos((i * Math.PI) / 4), y + 0.45 * Math.sin((i * Math.PI) / 4)],
    ),
  ],
})

/** Things of which less is to be seen get no number there, mm of paper. */
const leastSeen = 1.2

interface Anchor {
  readonly at: Paper
  /** Room across it, mm of paper. */
  readonly free: number
}

/** A place well within what is seen of a thing; on the rim of one that is drawn through. */
function anchorOf({ seen, rims }: Sketch, name: string): Anchor | null {
  const loops = seen.get(name)
  if (loops) return widestIn(loops)
  const longest = (rims.get(name) ?? []).reduce<readonly Paper[] | null>(
    (most, piece) => (most && longOf(most) >= longOf(piece) ? most : piece),
    null,
  )
  return longest && longOf(longest) > leastSeen ? { at: middleOf(longest[0], longest[1]), free: 0 } : null
}

const longOf = ([a, b]: readonly Paper[]): number => Math.hypot(b[0] - a[0], b[1] - a[1])

function widestIn(loops: readonly (readonly Paper[])[]): Anchor | null {
  const ys = loops.flat().map(([, y]) => y)
  if (ys.length === 0) return null
  const [low, high] = [Math.min(...ys), Math.max(...ys)]
  let best: Anchor | null = null
  for (let k = 1; k < 16; k++) {
    const y = low + ((high - low) * k) / 16
    for (const [a, b] of insideAt(loops, y)) {
      const free = Math.min(b - a, 2 * Math.min(y - low, high - y))
      if (!best || free > best.free + 0.01) best = { at: [(a + b) / 2, y], free }
    }
  }
  return best && best.free >= leastSeen / 2 ? best : null
}

/** Where a level line runs within a region. */
function insideAt(loops: readonly (readonly Paper[])[], y: number): [number, number][] {
  const xs = loops
    .flatMap((loop) =>
      loop.flatMap((a, i) => {
        const b = loop[(i + 1) % loop.length]
        return a[1] < y === b[1] < y ? [] : [a[0] + ((y - a[1]) / (b[1] - a[1])) * (b[0] - a[0])]
      }),
    )
    .sort((a, b) => a - b)
  return Array.from({ length: Math.floor(xs.length / 2) }, (_, k) => [xs[2 * k], xs[2 * k + 1]])
}
