import { expect, test } from 'vitest'
import {
  cornerBay,
  dropBay,
  keyBay,
  layingBay,
  leastWindow,
  letterBay,
  longestBar,
  sealedBay,
  subjectOf,
  tiltBay,
} from '../../test/kit/seatBays.ts'
import { hullSolid } from '../../test/kit/hullSolid.ts'
import { keepOutSolids } from '../bay/keepOuts.ts'
import type { Meshes } from '../bay/part.ts'
import { candidateParts } from '../bay/parts.ts'
import type { Bay } from '../bay/schema.ts'
import { clearance } from '../clearance/clearance.ts'
import { placed, placedBack, sub, type Vec3 } from '../shape/vec.ts'
import type { SeatPath } from './answer.ts'
import { certify, decide } from './certify.ts'
import { isBeyond, waysOut } from './exits.ts'
import { findPath } from './find.ts'
import { endOf, poseAt, poseOf, posesOf, reversed } from './move.ts'
import { offBy } from './offBy.ts'
import type { SeatSubject } from './subject.ts'

const none: Meshes = new Map()

/** The ledger's own clearance at many poses of every move: the least margin seen, by nothing of what found or proved the path. */
function seen(bay: Bay, meshes: Meshes, subject: SeatSubject, path: SeatPath, poses: number): number {
  const solids = keepOutSolids(bay, meshes)
  const parts = candidateParts(bay, bay.candidates[0])
  if (!solids.ok || !parts.ok) throw new Error('a bay of the test is broken')
  const starts = posesOf(path)
  let least = Infinity
  for (const [i, move] of path.moves.entries())
    for (let k = 0; k <= poses; k++) {
      const pose = poseAt(starts[i], move, k / poses)
      for (const part of parts.value.parts) {
        const moved = hullSolid(part.solid, (p) => placed(pose, placedBack(subject.seat, p)))
        for (const [n, { solid }] of solids.value.entries()) {
          const { wanted } = subject.keepOuts[n]
          if (least + wanted <= 0) continue
          least = Math.min(least, clearance(moved, solid, { depth: false, upTo: least + wanted }).atMost - wanted)
        }
      }
    }
  return least
}

const scenes: readonly [string, { bay: Bay; meshes: Meshes }, number][] = [
  ['straight down', dropBay(), 1],
  ['tilted past the beam', tiltBay(), 7],
  ['the crossmember 30 mm farther forward', tiltBay(-30), 7],
  ['between two lamps', { bay: keyBay(100), meshes: none }, 7],
]

for (const [name, { bay, meshes }, moves] of scenes)
  test(`${name}: found, proved, seen from nothing but poses; it ends at the seat and begins outside`, () => {
    const subject = subjectOf(bay, meshes)
    const { path, fewest, closed } = findPath(subject, { work: 800_000 })
    expect(closed).toBe(false)
    if (!path) throw new Error('no path')
    expect(path.moves.length).toBeLessThanOrEqual(moves)
    for (const each of [path, ...(fewest ? [fewest] : [])]) {
      expect(decide(subject, each)).toBe('proved')
      expect(offBy(subject, endOf(each))).toBeLessThan(1e-6)
      expect(isBeyond(subject, poseOf(each.start), waysOut(subject.seat))).toBe(true)
      const least = seen(bay, meshes, subject, each, 40)
      expect(least).toBeGreaterThanOrEqual(each.least.atLeast - 1e-6)
      expect(certify(subject, reversed(each)).atMost).toBeCloseTo(each.least.atMost, 0)
    }
    if (fewest) {
      expect(fewest.moves.length).toBeLessThan(path.moves.length)
      expect(fewest.least.atMost).toBeLessThanOrEqual(path.least.atMost)
    }
  }, 60_000)

/** Check A8.1: p × q through a × b. A8.3: the same limit in its other form. */
const letters = [
  [600, 50, 550],
  [650, 80, 600],
  [600, 120, 540],
] as const

test('sections through windows: with 0.1 mm to spare found, with 0.1 mm too little never (A8.1, A8.3)', () => {
  for (const [p, q, a] of letters) {
    const b = leastWindow(p, q, a)
    // Source: J. E. Wetzel, Rectangles in Rectangles (2000), equal form.
    expect(((a + b) / (p + q)) ** 2 + ((a - b) / (p - q)) ** 2).toBeCloseTo(2, 9)
    const fits = findPath(subjectOf(letterBay(p, q, a, b + 0.1)), { work: 150_000 })
    expect(fits.path?.least.atLeast).toBeGreaterThan(0)
    expect(fits.path?.moves.length).toBe(2)
    expect(findPath(subjectOf(letterBay(p, q, a, b - 0.1)), { work: 250_000 }).path).toBeNull()
  }
  expect(leastWindow(650, 80, 600)).toBeCloseTo(400.142915, 6)
}, 60_000)

test('9 × 4 does not go into 8 × 6, though area, diagonal and thickness would (A8.2)', () => {
  expect(findPath(subjectOf(letterBay(540, 240, 480, 360)), { work: 400_000 }).path).toBeNull()
}, 60_000)

/**
 * Round the corner from 85° to 5° in many small moves: the bar's outer side leans on both outer walls, then goes halfway in
 * towards the inner corner, whose distance from the outer side is a·sin t + b·cos t − length·sin t·cos t (derived).
 */
function roundTheCorner(length: number, w: number, a: number, b: number, poses: number): SeatPath {
  const keys = Array.from({ length: poses + 1 }, (_, i) => {
    const angle = 85 - (80 * i) / poses
    const [s, c] = [Math.sin((angle * Math.PI) / 180), Math.cos((angle * Math.PI) / 180)]
    const off = w / 2 + Math.max(0, Math.min(40, (a * s + b * c - length * s * c - w) / 2))
    const at: Vec3 = [-a + (length / 2) * c + off * s, b - (length / 2) * s - off * c, 0]
    return { at, angle }
  })
  const moves = keys.slice(1).map(({ at, angle }, i) => ({
    shift: sub(at, keys[i].at),
    pivot: keys[i].at,
    axis: [0, 0, 1] as const,
    angle: angle - keys[i].angle,
  }))
  return { start: { at: keys[0].at, turn: [0, 0, keys[0].angle - 90] }, moves }
}

/** Checks A8.4 and A8.5. */
test('the longest bar round a corner: a hair shorter is proved, a hair longer refuted, whatever its width', () => {
  const [a, b] = [900, 600]
  expect(longestBar(9, 6, 1)).toBeCloseTo(19.049426, 6)
  expect(longestBar(9, 6, 0)).toBeCloseTo(21.070447, 6)
  expect(longestBar(27, 64, 0)).toBeCloseTo(125, 6)
  for (const w of [100, 1]) {
    const longest = longestBar(a, b, w)
    for (const [by, answer] of [
      [-2, 'proved'],
      [2, 'refuted'],
    ] as const) {
      const subject = subjectOf(cornerBay(longest + by, w, a, b))
      const verdict = decide(subject, roundTheCorner(longest + by, w, a, b, 256))
      expect(typeof verdict === 'string' ? verdict : 'refuted').toBe(answer)
    }
  }
})

/** Checks A8.4 (a sheet of 1 mm, all but the ladder) and A8.5. */
test('with 0.1 mm to spare a bar, and a thin sheet, go round a corner; 0.1 mm too long and they never do', () => {
  for (const w of [100, 20, 1]) {
    const longest = longestBar(900, 600, w)
    const fits = subjectOf(cornerBay(longest - 0.1, w, 900, 600))
    const { path } = findPath(fits, { work: 300_000 })
    if (!path) throw new Error(`no path for ${w}`)
    expect(decide(fits, path)).toBe('proved')
    expect(isBeyond(fits, poseOf(path.start), waysOut(fits.seat))).toBe(true)
    expect(findPath(subjectOf(cornerBay(longest + 0.1, w, 900, 600)), { work: 300_000 }).path).toBeNull()
  }
}, 60_000)

/**
 * Check A8.8: a section reaches, from floor to ceiling, as far as its diagonal at some angle between lying and standing,
 * whatever else it does (derived: the width of a rectangle across a strip takes every value between its sides and its diagonal).
 */
test('a section that lies down under a ceiling: with 0.1 mm over its diagonal found, with 0.1 mm less never (A8.8)', () => {
  const diagonal = Math.hypot(300, 76)
  expect(diagonal).toBeCloseTo(309.476978, 6)
  const fits = subjectOf(layingBay(300, 76, diagonal + 0.1))
  const { path } = findPath(fits, { work: 300_000 })
  if (!path) throw new Error('no path')
  expect(decide(fits, path)).toBe('proved')
  expect(path.moves.reduce((most, { angle }) => most + Math.abs(angle), 0)).toBeGreaterThan(60)
  expect(findPath(subjectOf(layingBay(300, 76, diagonal - 0.1)), { work: 300_000 }).path).toBeNull()
}, 60_000)

test('a sealed bay is proved closed and never yields a path', () => {
  const { bay, meshes } = sealedBay()
  const found = findPath(subjectOf(bay, meshes), { work: 300_000 })
  expect(found).toMatchObject({ closed: true, path: null, fewest: null })
})

test('the same bay, work and seed give the same moves; stopped early there is the best so far, or nothing', () => {
  const { bay, meshes } = tiltBay()
  const runs = [1, 2].map(() => findPath(subjectOf(bay, meshes), { work: 250_000, seed: 5 }))
  expect(JSON.stringify(runs[1])).toBe(JSON.stringify(runs[0]))
  expect(runs[0].path).not.toBeNull()
  const subject = subjectOf(bay, meshes)
  expect(findPath(subject, { stop: () => 'cancelled' })).toMatchObject({ path: null, stopped: 'cancelled' })
  let told = 0
  const early = findPath(subject, {
    stop: () => (told > 0 ? 'time' : null),
    progress: (_, best) => {
      if (best) told++
    },
  })
  expect(early.stopped).toBe('time')
  if (!early.path) throw new Error('the best so far is lost')
  expect(decide(subject, early.path)).toBe('proved')
}, 60_000)
