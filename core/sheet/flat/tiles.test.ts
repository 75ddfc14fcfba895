import { expect, test } from 'vitest'
import { seeded } from '../../../test/kit/random.ts'
import type { Figure, Paper } from '../figure/figure.ts'
import type { Spread } from './spread.ts'
import { type Tile, tileOverlap, tiles } from './tiles.ts'

const words = { page: (row: number, column: number) => `row ${row}, column ${column}`, bar: ['100 mm'] }
/** A4 upright, A4 lying, Letter upright: rooms of the pages. */
const rooms = [
  { width: 190, height: 254 },
  { width: 277, height: 167 },
  { width: 195.9, height: 236.4 },
]
const long = (a: Paper, b: Paper) => Math.hypot(a[0] - b[0], a[1] - b[1])

function anySpread(seed: number): Spread {
  const random = seeded(seed)
  const [width, height] = [random.real(50, 900), random.real(50, 900)]
  const any = (): Paper => [random.real(0, width), random.real(0, height)]
  const lines = Array.from({ length: 12 }, () => ({
    stroke: 'cut' as const,
    points: Array.from({ length: 2 + random.int(5) }, any),
    closed: random.chance(0.4),
  }))
  const texts = Array.from({ length: 10 }, (_, k) => ({
    at: any(),
    text: `text ${k}`,
    size: 3.5,
    turn: random.real(-90, 90),
  }))
  return { width, height, lines, marks: [], texts, labels: [] }
}

/** Lines of a page, put back to where they are on the whole. */
const onSpread = ({ figure, window }: Tile) =>
  figure.items.flatMap((item) =>
    item.kind === 'line' && item.stroke === 'cut'
      ? [item.points.map(([x, y]): Paper => [x + window.x, y + window.y])]
      : [],
  )
const nearLine = (p: Paper, line: readonly Paper[]) =>
  Math.min(
    ...line.slice(1).map((b, k) => {
      const a = line[k]
      const [dx, dy] = [b[0] - a[0], b[1] - a[1]]
      const t = Math.min(1, Math.max(0, ((p[0] - a[0]) * dx + (p[1] - a[1]) * dy) / (dx * dx + dy * dy || 1)))
      return long(p, [a[0] + t * dx, a[1] + t * dy])
    }),
  )

test('pages together show every point of every line, each in its true place, and nothing else (seeds 1 to 25)', () => {
  let several = 0
  for (let seed = 1; seed <= 25; seed++) {
    const spread = anySpread(seed)
    const pages = tiles('it', spread, rooms[seed % 3], words)
    if (pages.length > 2) several++
    let worst = 0
    const shown = pages.flatMap(onSpread)
    const whole = spread.lines.map(({ points, closed }) => (closed ? [...points, points[0]] : points))
    for (const line of whole)
      for (let k = 1; k < line.length; k++)
        for (let t = 0; t <= 1; t += 0.125) {
          const p: Paper = [
            line[k - 1][0] + t * (line[k][0] - line[k - 1][0]),
            line[k - 1][1] + t * (line[k][1] - line[k - 1][1]),
          ]
          worst = Math.max(worst, Math.min(...shown.map((each) => nearLine(p, each))))
        }
    for (const line of shown)
      for (const p of line) worst = Math.max(worst, Math.min(...whole.map((each) => nearLine(p, each))))
    expect(worst).toBeLessThan(1e-6)
    for (const { text } of spread.texts)
      expect(pages.some(({ figure }) => figure.items.some((item) => item.kind === 'text' && item.text === text))).toBe(
        true,
      )
  }
  expect(several).toBeGreaterThan(12)
})

test('neighbours show the same crosses at the same places, each twice and on no third page; 12 mm are on both (seeds 1 to 25)', () => {
  for (let seed = 1; seed <= 25; seed++) {
    const room = rooms[seed % 3]
    const pages = tiles('it', anySpread(seed), room, words)
    const places = new Map<string, Paper[]>()
    for (const { joins, window } of pages)
      for (const { letter, at } of joins) {
        expect(
          at[0] >= window.x &&
            at[0] <= window.x + window.width &&
            at[1] >= window.y &&
            at[1] <= window.y + window.height,
        ).toBe(true)
        places.set(letter, [...(places.get(letter) ?? []), at])
      }
    for (const [, [one, other, ...more]] of places) {
      expect(more).toEqual([])
      expect(one).toEqual(other)
    }
    const beside = pages.flatMap((a) =>
      pages
        .filter((b) => (b.row === a.row && b.column === a.column + 1) || (b.column === a.column && b.row === a.row + 1))
        .map((b) => [a, b] as const),
    )
    expect(places.size).toBe(2 * beside.length)
    for (const [a, b] of beside) {
      const shared =
        b.row === a.row ? a.window.x + a.window.width - b.window.x : a.window.y + a.window.height - b.window.y
      expect(shared).toBeCloseTo(tileOverlap, 9)
      expect(a.joins.filter(({ letter }) => b.joins.some((join) => join.letter === letter))).toHaveLength(2)
    }
    // What is printed: the letter stands on both pages.
    for (const { figure, joins } of pages)
      for (const { letter } of joins)
        expect(figure.items.filter((item) => item.kind === 'text' && item.text === letter)).toHaveLength(1)
  }
})

const barOf = ({ items }: Figure) =>
  items.flatMap((item) =>
    item.kind === 'line' && item.name === 'scale-check' && item.stroke === 'outline' ? [item.points] : [],
  )

test('every page carries a bar of exactly 100 mm at 1 : 1, with a mark each 10 mm, and stays within its room', () => {
  for (let seed = 1; seed <= 25; seed++) {
    const room = rooms[seed % 3]
    for (const { figure } of tiles('it', anySpread(seed), room, words)) {
      expect(figure.scale).toEqual({ paper: 1, real: 1 })
      expect([figure.width, figure.height]).toEqual([room.width, room.height])
      const [bar, ...others] = barOf(figure)
      expect(others).toEqual([])
      expect(long(bar[0], bar[1])).toBe(100)
      const ticks = figure.items.flatMap((item) =>
        item.kind === 'line' && item.name === 'scale-check' && item.stroke === 'thin'
          ? [item.points[0][0] - bar[0][0]]
          : [],
      )
      expect(ticks).toEqual([0, 10, 20, 30, 40, 50, 60, 70, 80, 90, 100])
      for (const item of figure.items)
        if (item.kind === 'line')
          for (const [x, y] of item.points)
            expect(x >= -1e-9 && x <= room.width + 1e-9 && y >= -1e-9 && y <= room.height + 1e-9).toBe(true)
    }
  }
})
