import type { Meshes } from '../../core/bay/part.ts'
import type { Bay } from '../../core/bay/schema.ts'
import { findPath } from '../../core/seat/find.ts'
import type { SeatSubject } from '../../core/seat/subject.ts'
import { plainSeatPath } from '../kit/plainSeatFinder.ts'
import { cornerBay, dropBay, keyBay, leastWindow, letterBay, longestBar, subjectOf, tiltBay } from '../kit/seatBays.ts'
import type { Scene } from './scene.ts'

const seeds = Array.from({ length: 20 }, (_, i) => i + 1)
/** Seconds long each: fewer of them. */
const finishedSeeds = 5
/** What the plain tree may take, seed by seed, s: as long as the product's own first path may take in the hardest bay. */
const plainSeconds = 2.5

const few = seeds.slice(0, 4)
const letterBox = letterBay(650, 80, 600, leastWindow(650, 80, 600) + 0.1)
const corner = cornerBay(longestBar(900, 600, 100) - 0.1, 100, 900, 600)

/** Ways into a bay looked for from nothing, seed by seed, beside a plain tree in all six freedoms. */
export function seatFindScenes(): Scene[] {
  const none: Meshes = new Map()
  return [
    findScene('seat-find, straight', dropBay(), 100),
    findScene('seat-find, tilted past a beam', tiltBay(), 2000),
    findScene('seat-find, tilted past a beam, 60 mm less behind it', tiltBay(-60), 2500),
    findScene('seat-find, key-hole between two lamps', { bay: keyBay(100), meshes: none }, 2500),
    // The same whatever the seed, since neither needs a tree: a few seeds tell the times.
    findScene('seat-find, letter box with 0.1 mm to spare', { bay: letterBox, meshes: none }, 500, few),
    findScene(
      'seat-find, a bar of 1,905 mm round a corner with 0.1 mm to spare',
      { bay: corner, meshes: none },
      5000,
      few,
    ),
  ]
}

const finished = 'finished answer, tuned and rounded'
const first = 'first proved path'

function findScene(name: string, { bay, meshes }: { bay: Bay; meshes: Meshes }, firstMs: number, asked = seeds): Scene {
  const subject = subjectOf(bay, meshes)
  return {
    name,
    inputs: `${asked.length} seeds (${Math.min(finishedSeeds, asked.length)} for the finished answer); ${subject.keepOuts.length} keep-outs`,
    count: asked.length,
    aims: [
      { way: first, found: 1 },
      { way: first, ms: firstMs, share: 0.9 },
      { way: finished, ms: 5000, share: 0.9 },
    ],
    ways: [
      { name: first, once: true, most: asked.length, found, run: (i) => firstMargin(subject, asked[i]) },
      { name: finished, once: true, most: finishedSeeds, found, run: (i) => finishedMargin(subject, asked[i]) },
      {
        name: `plain tree in six freedoms, ${plainSeconds} s a seed`,
        baseline: true,
        once: true,
        most: asked.length,
        found,
        run: (i) => plainMoves(subject, asked[i]),
      },
    ],
  }
}

const found = (answer: number): boolean => answer >= 0

/** Margin that is proved of the first path, taken as soon as it is there; −1 for none. */
function firstMargin(subject: SeatSubject, seed: number): number {
  let margin = -1
  const { path } = findPath(subject, {
    seed,
    progress: (_, best) => {
      if (best && margin < 0) margin = best.least.atLeast
    },
    stop: () => (margin < 0 ? null : 'cancelled'),
  })
  // Found before anything was told where it is all but at hand.
  return margin >= 0 ? margin : (path?.least.atLeast ?? -1)
}

const finishedMargin = (subject: SeatSubject, seed: number): number =>
  findPath(subject, { seed }).path?.least.atLeast ?? -1

/** Ended by the clock, so only whether it came to an end is the same everywhere, and not how. −1 for none. */
function plainMoves(subject: SeatSubject, seed: number): number {
  const begin = performance.now()
  const path = plainSeatPath(subject, { seed, stop: () => performance.now() - begin > 1000 * plainSeconds })
  return path ? path.moves.length : -1
}
