import { mix, type Vec3 } from '../../shape/vec.ts'
import type { Passage } from './answer.ts'
import { widestInRadii } from './cellRoom.ts'
import { freeFrom, keepersOf, type RoomKeeper } from './keepers.ts'
import type { Way } from './drawWay.ts'
import { guessedWay } from './guessedWay.ts'
import { holds } from './cell.ts'
import { PassageSearch } from './passageSearch.ts'
import { besides, roomier } from './passageWay.ts'
import type { RouteProblem } from './problem.ts'
import type { Work } from './work.ts'

/** What is proved of the way for the centreline from one end straight to the other, bends aside. */
export interface PassageProof {
  /** null where nothing narrow is known: nothing stands there, all is wider than six radii, or it was broken off before. */
  readonly passage: Passage | null
  /** Nothing gets through, within the search box. */
  readonly closed: boolean
  /** Nor round outside of it. Only of closed passages. */
  readonly everywhere: boolean
  /** A way with `spareAtLeast`, from the end of one end straight to that of the other; empty where none was found. */
  readonly way: readonly Vec3[]
}

/** Distances measured at most: a few seconds. */
const usualBudget = 3_000_000

/**
 * The widest passage for a tube of this diameter with all that it keeps, however it bends: the way for the middle of the
 * tube on which the least room is greatest.
 *
 * What lies within about one diameter of the end of an end straight counts only where it is too narrow: how near a port stands to
 * its neighbours is no property of the way. Where an obstacle is exempt, and behind the flat face with which the pipe begins
 * to be held against it, it does not count (see `keepersOf`).
 * @returns bounds on the spare room on each side, mm, valid whatever ended the search; they are within 0.02 mm or 1 % of each
 *   other, where there is more than a diameter to spare within 20 %, unless the work ran out or the place is too intricate. Where nothing gets through, `spareAtMost` is negative: too narrow
 *   by so much on each side, at most all that is kept.
 *   null where an end lies outside of the box, too.
 * Error: proved up to rounding (1e-7 mm).
 * Source: widest path by flooding, common practice; the bounds of `CellRoom`: derived.
 */
export function passageOf(problem: RouteProblem, work: Work, budget = usualBudget): PassageProof {
  const keepers = keepersOf(problem)
  const nothing = { passage: null, closed: false, everywhere: false, way: [] }
  if (keepers.length === 0 || ![problem.from, problem.to].every((end) => holds(problem.box, freeFrom(end))))
    return nothing
  const most = widestInRadii * problem.radius
  const search = new PassageSearch(problem, keepers, most, work, budget)
  search.run()
  // Once it is closed the search looks for no ways any more: one to show the place by.
  if (search.atMost < 0 && !search.isNarrowedDown()) search.offer(guessedWay(problem, keepers, most, work))
  const { atLeast, atMost, way } = search
  if (atMost >= most) return { ...nothing, way: way?.points ?? [] }
  const place = placeOf(problem, search)
  return {
    passage: { spareAtLeast: atLeast, spareAtMost: atMost, ...place },
    closed: atMost < 0,
    everywhere: search.closedEverywhere,
    way: way && way.room >= atLeast ? way.points : [],
  }
}

/**
 * The narrowest place: where the bound comes from, or of the way where that is as good. Of what is closed by more than was
 * found out, that of the best way.
 */
function placeOf(problem: RouteProblem, search: PassageSearch): { at: Vec3; between: readonly string[] } {
  const { way, pinch, atMost, keepers } = search
  const named = (at: Vec3, obstacles: readonly number[]) => ({
    at,
    between: [...new Set(obstacles.map((each) => problem.obstacles[each].name))],
  })
  const isRough = atMost < 0 && !search.isNarrowedDown()
  if (pinch && !isRough) {
    const at = roomier(keepers, pinch.at, pinch.side, atMost)
    const room = besides(keepers, at, Infinity)[0]?.room ?? Infinity
    const facers = facing(keepers, at)
    if (Math.abs(room - atMost) < alike && facers.length > 1) return named(at, facers)
  }
  if (way && (!pinch || isRough || way.room >= atMost - alike)) {
    const at = narrowestOn(search, way)
    return named(at, facing(keepers, at))
  }
  if (!pinch) return named(mix(problem.from.at, problem.to.at, 0.5), [])
  return named(pinch.at, pinch.obstacles.length > 1 ? pinch.obstacles : facing(keepers, pinch.at))
}

/** Room within so much of the bound is the narrowest, mm. */
const alike = 0.5
const samples = 64

function narrowestOn(search: PassageSearch, { narrowest: [a, b] }: Way): Vec3 {
  let [best, least] = [mix(a, b, 0.5), Infinity]
  for (let i = 0; i <= samples; i++) {
    const at = mix(a, b, i / samples)
    const room = besides(search.keepers, at, least)[0]?.room ?? Infinity
    if (room >= least || (room >= 0 && search.isOpenAt(at))) continue
    best = at
    least = room
  }
  return best
}

/** The nearest obstacle at a point and the one across from it, where there is one as near to a tenth of what is kept. */
function facing(keepers: readonly RoomKeeper[], at: Vec3): number[] {
  const sides = besides(keepers, at, Infinity)
  if (sides.length === 0) return []
  const [nearest] = sides
  const near = nearest.room + Math.max(0.1 * Math.max(...keepers.map(({ keep }) => keep)), 0.1 * Math.abs(nearest.room))
  const across = sides.find(({ room, way, obstacle }) => {
    const cosine = way[0] * nearest.way[0] + way[1] * nearest.way[1] + way[2] * nearest.way[2]
    return room <= near && cosine < 0 && obstacle !== nearest.obstacle
  })
  return across ? [nearest.obstacle, across.obstacle] : [nearest.obstacle]
}
