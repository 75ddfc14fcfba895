import { expect, test } from 'vitest'
import { seeded } from '../../test/kit/random.ts'
import { dropBay, tiltBay, windowBay, windowLimits as wide } from '../../test/kit/seatBays.ts'
import type { Bay, Candidate } from '../bay/schema.ts'
import { ledger } from '../verdict/ledger.ts'
import { isAllowed, sizeBetween } from './allowedSize.ts'
import { seat } from './seat.ts'
import { largestSeated, type SeatedAnswer, type SeatedRequest } from './seated.ts'

const none = new Map()
/** Several searches in one test. */
const busy = { timeout: 90_000 }
function told(bay: Bay, request: SeatedRequest = {}): SeatedAnswer {
  const answer = largestSeated(bay, undefined, none, { need: 1e6, ...request })
  if (!answer.ok) throw new Error(JSON.stringify(answer.faults))
  return answer.value
}

/** What is given clears in the ledger, and its very moves are proved. */
function holds(bay: Bay, { best }: SeatedAnswer): void {
  if (!best) throw new Error('nothing found')
  const own = { ...bay, candidates: [best.candidate] }
  const checked = ledger(own, undefined, none)
  expect(checked.ok && checked.value.pairs.every(({ verdict }) => verdict === 'clears')).toBe(true)
  const proved = seat(own, undefined, none, { need: 1e6, moves: best.path })
  expect(proved.ok && proved.value.answer).toBe('proved')
  expect(isAllowed(best.candidate)).toBe(true)
}

test(
  'a window smaller than the room: the largest that clears does not come in, the one as large as the window does',
  busy,
  () => {
    const bay = windowBay(300, 200)
    const answer = told(bay)
    holds(bay, answer)
    const { core } = answer.best?.candidate ?? bay.candidates[0]
    // 2 mm on each side of a window of 300 × 200, and 80 deep before the back.
    expect(core.depth).toBe(80)
    expect(core.width).toBeGreaterThan(296 * 0.99)
    expect(core.width).toBeLessThanOrEqual(296)
    expect(core.height).toBeLessThanOrEqual(196)
    const value = answer.best?.value ?? 0
    expect(value).toBeGreaterThan(80 * 296 * 196 * 0.99)
    // The way's own bound says so; the seat's bound says no more than the room.
    expect(answer.upperBoundPath).toBeGreaterThanOrEqual(value)
    expect(answer.upperBoundPath).toBeLessThanOrEqual(80 * 296 * 196 * 1.006)
    expect(answer.atSeat.upperBound).toBeGreaterThanOrEqual(80 * 470 * 380)
    expect(answer.stopped).toBe('work')
    expect(told(bay)).toEqual(answer)
  },
)

test('where the largest at the seat comes in too, it is proved to be the largest', () => {
  const bay = windowBay(480, 390)
  const answer = told(bay)
  holds(bay, answer)
  expect(answer.stopped).toBe('proved')
  expect(answer.best?.value).toBeGreaterThanOrEqual(80 * 470 * 380 * 0.995)
})

test('no core that comes in by the same shifts beats the bound of the way (seed 2)', busy, () => {
  const random = seeded(2)
  let better = 0
  for (let round = 0; round < 3; round++) {
    const bay = windowBay(random.real(200, 400), random.real(120, 300))
    const answer = told(bay)
    const bound = answer.upperBoundPath
    const { best } = answer
    if (bound === null || !best) throw new Error('not bounded')
    expect(best.path.moves.every(({ angle }) => angle === 0)).toBe(true)
    for (let i = 0; i < 60; i++) {
      const size = [random.pick([60, 80]), random.real(100, 470), random.real(60, 380)]
      const at: [number, number, number] = [random.real(-170, -130), random.real(-20, 20), random.real(-20, 20)]
      const candidate: Candidate = { ...best.candidate, at, core: { depth: size[0], width: size[1], height: size[2] } }
      const start = best.path.moves.reduce((p, { shift }) => p.map((x, k) => x - shift[k]), [...at] as number[])
      const moves = {
        start: { at: [start[0], start[1], start[2]] as const, turn: [0, 0, 0] as const },
        moves: best.path.moves,
      }
      const judged = seat({ ...bay, candidates: [candidate] }, undefined, none, { need: 1e6, moves })
      if (!judged.ok || judged.value.answer !== 'proved') continue
      better++
      expect(size[0] * size[1] * size[2]).toBeLessThanOrEqual(bound * (1 + 1e-9))
    }
  }
  expect(better).toBeGreaterThan(10)
})

test('a sealed room has no core that comes in, though one clears; nothing at all is told as that', () => {
  const bay = windowBay(2, 2)
  const sealed = told(bay, { queries: 40_000 })
  expect(sealed.answer).toBe('none found')
  expect(sealed.best).toBeNull()
  expect(sealed.atSeat.answer).toBe('found')
  const tight = told({ ...bay, candidates: [{ ...bay.candidates[0], limits: { ...wide, depth: { stock: [300] } } }] })
  expect(tight.answer).toBe('nothing fits')
  expect(tight.stopped).toBe('proved')
})

test('rows, stock and a cover that is a mesh: the size is one that can be had, and the mesh is not counted in the bound', () => {
  const { bay, meshes } = dropBay()
  const limits: Candidate['limits'] = {
    depth: { stock: [60, 76] },
    width: { min: 300, max: 700 },
    height: { min: 150, max: 400, pitch: 10.5, offset: 8 },
    centre: { min: [-30, -5, -60], max: [20, 5, 60] },
  }
  const own = { ...bay.candidates[0], limits }
  const answer = largestSeated({ ...bay, candidates: [own] }, undefined, meshes)
  if (!answer.ok) throw new Error(JSON.stringify(answer.faults))
  const { best, notCounted } = answer.value
  expect(best).not.toBeNull()
  if (!best) return
  expect(isAllowed(best.candidate)).toBe(true)
  expect(best.path.least.atLeast).toBeGreaterThanOrEqual(0)
  if (answer.value.upperBoundPath !== null) expect(notCounted).toEqual(['cover'])
})

test('stopped at once it says so, and between two sizes is one that can be had', () => {
  const bay = windowBay(300, 200)
  expect(['time', 'proved']).toContain(told(bay, { stop: () => 'time' }).stopped)
  const small = { ...bay.candidates[0], limits: { ...wide, height: { min: 60, max: 380, pitch: 10, offset: 5 } } }
  const large = {
    ...small,
    core: { depth: 80, width: 300, height: 200 },
    at: [-130, 0, 20] as [number, number, number],
  }
  const { core, at } = sizeBetween(small, large, 0.5)
  expect(core).toEqual({ depth: 60, width: 225, height: 135 })
  expect(at).toEqual([-140, 0, 10])
})

test('a way that turns is bounded, too, and made use of wholly: tilted past a beam', { timeout: 120_000 }, () => {
  const { bay, meshes } = tiltBay()
  const limits: Candidate['limits'] = {
    depth: { stock: [76, 90] },
    width: { min: 300, max: 800 },
    height: { min: 150, max: 330 },
    centre: { min: [-40, -60, -40], max: [40, 60, 60] },
  }
  const plain = bay.keepOuts.filter(({ id }) => id !== 'cover')
  const answer = told({ ...bay, keepOuts: plain, candidates: [{ ...bay.candidates[0], limits }] }, { need: 3 })
  const { best, upperBoundPath, atSeat } = answer
  expect(meshes.size).toBe(1)
  expect(best?.path.moves.some(({ angle }) => angle !== 0)).toBe(true)
  expect(best?.path.least.atLeast).toBeGreaterThanOrEqual(0)
  expect(upperBoundPath).toBeGreaterThanOrEqual(best?.value ?? Infinity)
  expect(upperBoundPath).toBeLessThan(atSeat.upperBound)
})
