import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { jointedBay, straightPipe } from '../../test/kit/jointedBay.ts'
import { sampleBay } from '../../test/kit/sampleBay.ts'
import { cubeMesh, keepOut } from '../../test/kit/tinyBay.ts'
import { candidateParts } from '../bay/parts.ts'
import type { Bay, Candidate } from '../bay/schema.ts'
import { distance } from '../shape/vec.ts'
import type { Ledger } from './answer.ts'
import { ledger } from './ledger.ts'
import { LedgerMemory } from './memory.ts'

const meshes = new Map([['cube.stl', cubeMesh([-300, -40, 0], 60)]])
const bay: Bay = {
  ...sampleBay(),
  keepOuts: [
    ...sampleBay().keepOuts,
    keepOut('cube', { kind: 'mesh', file: 'cube.stl', unit: 'mm' }, { mirror: true }),
  ],
}
const withCandidate = (change: Partial<Candidate>): Bay => ({
  ...bay,
  candidates: [{ ...bay.candidates[0], ...change }],
})
const ledgerOf = (of: Bay, memory?: LedgerMemory): Ledger => {
  const made = ledger(of, undefined, meshes, memory)
  if (!made.ok) throw new Error(JSON.stringify(made.faults))
  return made.value
}
/** By pair, since margins that are equal but for rounding may change places. */
const byPair = ({ pairs }: Ledger) => new Map(pairs.map((pair) => [`${pair.part} ${pair.keepOut}`, pair]))

describe('a memory makes it quicker and changes nothing', () => {
  test('the same bay read anew: the very same answers', () => {
    const memory = new LedgerMemory()
    const first = byPair(ledgerOf(bay, memory))
    const again = byPair(ledgerOf(JSON.parse(JSON.stringify(bay)), memory))
    expect(again.size).toBe(first.size)
    for (const [key, pair] of first) expect(again.get(key)?.onPart).toBe(pair.onPart)
  })

  test('an edit of one keep-out leaves all other answers as they were', () => {
    const memory = new LedgerMemory()
    const first = byPair(ledgerOf(bay, memory))
    const edited = {
      ...bay,
      keepOuts: bay.keepOuts.map((each) =>
        each.id === 'beam'
          ? {
              ...each,
              shape: {
                kind: 'box' as const,
                at: [-210, 0, 250] as [number, number, number],
                size: [60, 900, 120] as [number, number, number],
              },
            }
          : each,
      ),
    }
    const second = byPair(ledgerOf(edited, memory))
    const anew = [...second]
      .filter(([key, pair]) => first.get(key)?.onPart !== pair.onPart)
      .map(([, pair]) => pair.keepOut)
    expect(new Set(anew)).toEqual(new Set(['beam']))
  })

  test('a clearance asked for is no reason to measure again', () => {
    const memory = new LedgerMemory()
    const first = byPair(ledgerOf(bay, memory)).get('core beam')
    const eased = {
      ...bay,
      keepOuts: bay.keepOuts.map((each) => (each.id === 'beam' ? { ...each, clearance: 9 } : each)),
    }
    const second = byPair(ledgerOf(eased, memory)).get('core beam')
    expect(second?.onPart).toBe(first?.onPart)
    expect(second?.margin).toBeCloseTo((first?.margin ?? 0) + 1, 9)
  })

  test('along a path of moves, turns and changed sizes: gaps and verdicts as without memory', () => {
    const memory = new LedgerMemory()
    let warm = 0
    for (let step = 0; step < 40; step++) {
      const moved = withCandidate({
        at: [-20 - step * 4, step * 3, 190 + step * 2],
        turn: [step % 7, step % 5, -step],
        core: { depth: 90 + (step % 4), width: 540, height: 260, tolerance: 1 },
      })
      const [found, fresh] = [byPair(ledgerOf(moved, memory)), byPair(ledgerOf(moved))]
      expect([...found.keys()].sort()).toEqual([...fresh.keys()].sort())
      for (const [key, pair] of fresh) {
        const other = found.get(key)
        expect(Math.abs((other?.gap ?? Number.NaN) - pair.gap)).toBeLessThanOrEqual(
          pair.error + (other?.error ?? 0) + 1e-9,
        )
        expect(other?.verdict).toBe(pair.verdict)
        expect(pair.error).toBeLessThanOrEqual(0.001)
        warm++
      }
    }
    expect(warm).toBeGreaterThan(1000)
  })

  test('undo finds the former solids again, and what was long unused is forgotten', () => {
    const memory = new LedgerMemory()
    ledgerOf(bay, memory)
    const size = memory.workshop.size
    for (let step = 1; step < 60; step++) ledgerOf(withCandidate({ at: [-20, step, 190] }), memory)
    // Six solids move with the candidate: twelve rounds of them may lie there beside the standing ones.
    expect(memory.workshop.size).toBeLessThan(size + 14 * 6)
  })
})

/** What a hand may do in one step so that the pipe still runs straight to its port: along the pipe, and about it. */
const step = fc.record({
  along: fc.double({ min: -60, max: 60, noNaN: true }),
  about: fc.double({ min: -180, max: 180, noNaN: true }),
})

test('any drag: what goes along with the candidate as a whole has the gaps, points and verdicts that are found anew', () => {
  const box = {
    kind: 'box' as const,
    at: [-120, 250, 30] as [number, number, number],
    size: [60, 40, 80] as [number, number, number],
  }
  const clamps = { port: { clamp: 'band' }, pipe: { clamp: 'band' } }
  const pipe = straightPipe({ clearance: 4, joints: { to: { kind: 'coupler', coupler: 'short', clamps } } })
  const still = jointedBay([pipe], [keepOut('box', box)])
  const seen = { along: 0, others: 0 }
  fc.assert(
    fc.property(fc.array(step, { minLength: 2, maxLength: 5 }), (steps) => {
      const memory = new LedgerMemory()
      for (const { along, about } of steps) {
        const [candidate] = still.candidates
        const { at } = candidate
        const bay: Bay = {
          ...still,
          candidates: [{ ...candidate, at: [at[0], at[1] + along, at[2]], turn: [0, about, 0] }],
        }
        const [warm, cold] = [byPair(ledgerOf(bay, memory)), byPair(ledgerOf(bay))]
        const made = candidateParts(bay, bay.candidates[0])
        if (!made.ok) throw new Error(JSON.stringify(made.faults))
        const boundsOf = new Map(made.value.parts.map(({ name, solid }) => [name, solid.bounds]))
        expect([...warm.keys()].sort()).toEqual([...cold.keys()].sort())
        for (const [key, pair] of cold) {
          const found = warm.get(key)
          if (!found) throw new Error(key)
          expect(Math.abs(found.gap - pair.gap)).toBeLessThanOrEqual(pair.error + found.error + 1e-9)
          expect(found.error).toBeLessThanOrEqual(0.001)
          expect(found.verdict).toBe(pair.verdict)
          expect(Math.abs(distance(found.onPart, found.onKeepOut) - found.gap)).toBeLessThanOrEqual(1e-6)
          for (const [name, point] of [
            [found.part, found.onPart],
            [found.keepOut, found.onKeepOut],
          ] as const) {
            const bounds = boundsOf.get(name)
            if (!bounds) continue
            for (let k = 0; k < 3; k++) {
              expect(point[k]).toBeGreaterThanOrEqual(bounds.min[k] - 1e-6)
              expect(point[k]).toBeLessThanOrEqual(bounds.max[k] + 1e-6)
            }
          }
          const isAlong =
            /^(coupler|clamp)-hot-to/.test(pair.part) &&
            pair.between === 'parts' &&
            !/^(pipe|coupler-hot-from|clamp-hot-from)/.test(pair.keepOut)
          seen[isAlong && pair.gap > 0 ? 'along' : 'others']++
        }
      }
    }),
    { seed: 20260, numRuns: 60 },
  )
  // Both kinds were met, or nothing was shown.
  expect(seen.along).toBeGreaterThan(300)
  expect(seen.others).toBeGreaterThan(300)
})

test('the same bay gives the same ledger, to the last digit', () => {
  expect(JSON.stringify(ledgerOf(bay))).toBe(JSON.stringify(ledgerOf(JSON.parse(JSON.stringify(bay)))))
})
