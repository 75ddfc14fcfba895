import type { Figure, FigureItem, Paper } from '../figure/figure.ts'
import type { Flat } from '../drawing/view.ts'
import { areaOf, sharedOf } from '../drawing/region.ts'
import { clipLine, type Window } from './clipLine.ts'
import { barHeight, scaleBar } from './scaleBar.ts'
import { patternText, type Spread, type SpreadText, textHalves, textItem, textLength } from './spread.ts'

export interface TileSize {
  readonly width: number
  readonly height: number
}

export interface TileWords {
  /** Name of a page, by its row and column from 1. */
  readonly page: (row: number, column: number) => string
  /** Beside the 100 mm bar, at most two lines. */
  readonly bar: readonly string[]
}

/** One page of a spread. */
export interface Tile {
  /** From 1, from the upper left. */
  readonly row: number
  readonly column: number
  /** What of the spread it shows. */
  readonly window: Window
  /** Where it is joined to its neighbours: a cross with a letter, which stands on the neighbour at the same place of the spread. */
  readonly joins: readonly TileJoin[]
  readonly figure: Figure
}

export interface TileJoin {
  readonly letter: string
  /** Of the spread. */
  readonly at: Paper
}

/** What two neighbouring pages both show, mm. */
export const tileOverlap = 12
/** Free strip under the pattern for the bar, mm. */
const strip = barHeight + 3

/**
 * A spread over pages that overlap, each at 1 : 1 with joining crosses, its place and the bar by which the print is checked.
 * @param id of the figures; row and column are added where there are several pages
 * @param room of a page, mm; a figure fills it
 * @returns pages row by row; those on which nothing would be drawn are left out
 */
export function tiles(id: string, spread: Spread, room: TileSize, words: TileWords): Tile[] {
  const grid = gridOf(spread, room)
  const windows: (Window | null)[][] = Array.from({ length: grid.rows }, (_, row) =>
    Array.from({ length: grid.columns }, (_, column) => windowAt(grid, row, column)),
  ).map((row) => row.map((window) => (showsAnything(spread, window) ? window : null)))
  const joins = joinsOf(windows)
  const single = windows.flat().filter((window) => window !== null).length === 1
  return windows.flatMap((row, r) =>
    row.flatMap((window, c): Tile[] => {
      if (!window) return []
      const here = joins.filter(({ tiles: [one, other] }) => one === `${r} ${c}` || other === `${r} ${c}`)
      const name = single ? id : `${id}-${r + 1}-${c + 1}`
      const figure = pageFigure(name, spread, window, here, room, words, single ? null : [r + 1, c + 1])
      return [{ row: r + 1, column: c + 1, window, joins: here.map(({ letter, at }) => ({ letter, at })), figure }]
    }),
  )
}

/** How many pages a spread takes. */
export function tileCount(spread: TileSize, room: TileSize): number {
  const { rows, columns } = gridOf(spread, room)
  return rows * columns
}

interface Grid {
  readonly rows: number
  readonly columns: number
  readonly width: number
  readonly height: number
}

function gridOf(spread: TileSize, room: TileSize): Grid {
  const [width, height] = [room.width, room.height - strip]
  const count = (whole: number, page: number) =>
    Math.max(1, Math.ceil((whole - tileOverlap - 1e-9) / (page - tileOverlap)))
  return { rows: count(spread.height, height), columns: count(spread.width, width), width, height }
}

const windowAt = ({ width, height }: Grid, row: number, column: number): Window => ({
  x: column * (width - tileOverlap),
  y: row * (height - tileOverlap),
  width,
  height,
})

const showsAnything = ({ lines, texts, labels }: Spread, window: Window): boolean =>
  texts.some(({ at }) => holds(window, at)) ||
  lines.some(({ points, closed = false }) => clipLine(points, closed, window).length > 0) ||
  labels.some(({ loop }) => Math.abs(areaOf(within(loop, window))) > 1)

interface Join extends TileJoin {
  readonly tiles: readonly [string, string]
  /** Along the strip that both pages show. */
  readonly upright: boolean
  readonly window: Window
}

/** Two crosses on every strip that two pages share, lettered in order. */
function joinsOf(windows: readonly (readonly (Window | null)[])[]): Join[] {
  const joins: Join[] = []
  const add = (upright: boolean, at: Paper, pair: readonly [string, string], window: Window) =>
    joins.push({ letter: letterOf(joins.length), at, tiles: pair, upright, window })
  windows.forEach((row, r) => {
    row.forEach((window, c) => {
      if (!window) return
      const here = `${r} ${c}`
      const middleX = window.x + window.width - tileOverlap / 2
      const middleY = window.y + window.height - tileOverlap / 2
      for (const share of [0.25, 0.75]) {
        if (row[c + 1]) add(true, [middleX, window.y + share * window.height], [here, `${r} ${c + 1}`], window)
        if (windows[r + 1]?.[c]) add(false, [window.x + share * window.width, middleY], [here, `${r + 1} ${c}`], window)
      }
    })
  })
  return joins
}

/** A, B … Z, AA, AB … */
function letterOf(n: number): string {
  const last = String.fromCharCode(65 + (n % 26))
  return n < 26 ? last : letterOf(Math.floor(n / 26) - 1) + last
}

function pageFigure(
  id: string,
  spread: Spread,
  window: Window,
  joins: readonly Join[],
  room: TileSize,
  words: TileWords,
  place: readonly [number, number] | null,
): Figure {
  const shift = ([x, y]: Paper): Paper => [x - window.x, y - window.y]
  const items: FigureItem[] = [
    ...joinItems(joins, window),
    ...spread.lines.flatMap(({ stroke, points, closed = false }) =>
      clipLine(points, closed, window).map((run): FigureItem => ({ kind: 'line', stroke, points: run.map(shift) })),
    ),
    ...spread.marks
      .filter((loop) => loop.every((point) => holds(window, point)))
      .map((loop): FigureItem => ({ kind: 'area', fill: 'ink', loops: [loop.map(shift)] })),
    ...spread.texts.flatMap((text) => textIn(text, window)).map((text) => textItem({ ...text, at: shift(text.at) })),
    ...spread.labels.flatMap(({ loop, lines }) => labelItems(loop, lines, window, shift)),
    ...scaleBar([2, room.height - 1], words.bar),
    ...(place ? [placeText(words.page(...place), room)] : []),
  ]
  return { id, width: room.width, height: room.height, scale: { paper: 1, real: 1 }, items }
}

const holds = ({ x, y, width, height }: Window, [px, py]: Paper): boolean =>
  px >= x && px <= x + width && py >= y && py <= y + height

const placeText = (text: string, room: TileSize): FigureItem => ({
  kind: 'text',
  at: [room.width - 1, room.height - 5],
  text,
  size: 2.5,
  anchor: 'end',
  bold: true,
})

/** Cut lines run along the middle of the shared strip; a cross on each says where the two pages meet. */
function joinItems(joins: readonly Join[], window: Window): FigureItem[] {
  const shift = ([x, y]: Paper): Paper => [x - window.x, y - window.y]
  const thin = (...points: Paper[]): FigureItem => ({ kind: 'line', stroke: 'thin', name: 'join', points })
  const arm = 4
  return joins.flatMap(({ letter, at, upright }, k) => {
    const [x, y] = shift(at)
    const line = upright ? thin([x, 0], [x, window.height]) : thin([0, y], [window.width, y])
    const drawn = joins.findIndex(
      (join) => join.upright === upright && shift(join.at)[upright ? 0 : 1] === (upright ? x : y),
    )
    return [
      ...(drawn === k ? [line] : []),
      ...(upright ? [thin([x - arm, y], [x + arm, y])] : [thin([x, y - arm], [x, y + arm])]),
      textItem({ at: [x + 2.6, y - 2.6], text: letter, size: 2.5, turn: 0 }, true),
    ]
  })
}

/** Moved in from the rim where its middle lies on this page, so that no text is cut; elsewhere another page has it. */
function textIn(text: SpreadText, window: Window): SpreadText[] {
  if (!holds(window, text.at)) return []
  const [w, h] = textHalves(text)
  if (2 * w > window.width || 2 * h > window.height) return []
  const [x, y] = text.at
  const between = (value: number, from: number, long: number, half: number) =>
    Math.min(Math.max(value, from + half), from + long - half)
  return [{ ...text, at: [between(x, window.x, window.width, w), between(y, window.y, window.height, h)] }]
}

const rectangle = ({ x, y, width, height }: Window): Flat[] => [
  [x, y],
  [x + width, y],
  [x + width, y + height],
  [x, y + height],
]
const within = (loop: readonly Paper[], window: Window) => sharedOf([loop], [rectangle(window)])

/** In the middle of what of the region is seen, where that is wide and high enough. */
function labelItems(
  loop: readonly Paper[],
  lines: readonly string[],
  window: Window,
  shift: (at: Paper) => Paper,
): FigureItem[] {
  const [seen] = within(loop, window)
  if (!seen) return []
  const [x, y] = middleOf(seen)
  const half = Math.max(...lines.map((line) => textLength(line, patternText))) / 2
  const high = lines.length * patternText * 1.7
  const box: Flat[] = [
    [x - half, y - high / 2],
    [x + half, y - high / 2],
    [x + half, y + high / 2],
    [x - half, y + high / 2],
  ]
  if (Math.abs(areaOf(sharedOf([box], [seen]))) < 0.999 * 2 * half * high) return []
  return lines.map((text, k) =>
    textItem({
      at: shift([x, y + (k - (lines.length - 1) / 2) * patternText * 1.7]),
      text,
      size: patternText,
      turn: 0,
    }),
  )
}

/** Centre of area of a loop. */
function middleOf(loop: readonly Flat[]): Flat {
  let [area, x, y] = [0, 0, 0]
  loop.forEach(([ax, ay], k) => {
    const [bx, by] = loop[(k + 1) % loop.length]
    const part = ax * by - bx * ay
    area += part
    x += (ax + bx) * part
    y += (ay + by) * part
  })
  return [x / (3 * area), y / (3 * area)]
}
