import { type Tile, tileCount, tiles, type TileSize, type TileWords } from '../flat/tiles.ts'
import type { Spread } from '../flat/spread.ts'
import type { PlaneRun } from './planeRun.ts'
import { type RunWords, templateSpread } from './templateSpread.ts'

export interface TemplateWords extends RunWords, TileWords {}

export type Orientation = 'portrait' | 'landscape'

export interface TemplatePages {
  readonly orientation: Orientation
  readonly pages: readonly Tile[]
}

/** Degrees between the ways that a template is tried on a page; as it lies first, then upright, then askew. */
const turns = [0, 90, ...Array.from({ length: 35 }, (_, k) => 5 * (k + 1)).filter((turn) => turn !== 90)]
const orientations: readonly Orientation[] = ['portrait', 'landscape']

/** The same at its full size, for a file that has no pages. */
export const templateWhole = (run: PlaneRun, words: RunWords): Spread => templateSpread(run, 0, words)

/**
 * A template on as few pages as it takes, turned as it needs.
 * @param room of a page either way, mm
 */
export function templatePages(
  id: string,
  run: PlaneRun,
  room: (orientation: Orientation) => TileSize,
  words: TemplateWords,
): TemplatePages {
  const { spread, orientation } = fewest(run, room, words)
  return { orientation, pages: tiles(id, spread, room(orientation), words) }
}

/** Whether one page of that room holds the template. */
export const fitsOnePage = (run: PlaneRun, room: (orientation: Orientation) => TileSize, words: RunWords): boolean =>
  fewest(run, room, words).count === 1

interface Lying {
  readonly spread: Spread
  readonly orientation: Orientation
  readonly count: number
}

/** The first way of lying that takes one page, else the first of those that take fewest. */
function fewest(run: PlaneRun, room: (orientation: Orientation) => TileSize, words: RunWords): Lying {
  let best: Lying | null = null
  for (const turn of turns) {
    const spread = templateSpread(run, turn, words)
    for (const orientation of orientations) {
      const count = tileCount(spread, room(orientation))
      if (best === null || count < best.count) best = { spread, orientation, count }
      if (count === 1) return best
    }
  }
  return best as Lying
}
