import { describe, expect, test } from 'vitest'
import type { Bay } from '../../core/bay/schema.ts'
import { sampleBay } from '../../test/kit/sampleBay.ts'
import { DeskHere } from './deskHere.ts'

const moved = (bay: Bay, by: number): Bay => ({
  ...bay,
  candidates: bay.candidates.map((c) => ({ ...c, at: [c.at[0] + by, c.at[1], c.at[2]] })),
})

/** A desk after so many edits, every one of a place that was never there before. */
async function afterEdits(edits: number, isSuperseded: (edit: number) => boolean): Promise<number[]> {
  const desk = new DeskHere()
  const opened = await desk.open(
    JSON.stringify(sampleBay()),
    'my.bay.json',
    async (file) => ({ ok: false, faults: [{ code: 'mesh-missing', file }] }),
    () => {},
  )
  if (!opened.ok) throw new Error(JSON.stringify(opened.faults))
  const newest = new SharedArrayBuffer(4)
  await desk.watch(newest)
  const kept: number[] = []
  for (let edit = 1; edit <= edits; edit++) {
    // A newer bay waits already: the drawing is made all the same, the ledger is given up.
    Atomics.store(new Int32Array(newest), 0, isSuperseded(edit) ? edit + 1 : edit)
    const ask = { bay: moved(opened.value.bay, -0.01 * edit), candidate: undefined, ticket: edit }
    await desk.draw(ask)
    const answer = await desk.ledger(ask, () => {})
    expect(answer.kind).toBe(isSuperseded(edit) ? 'superseded' : 'answered')
    kept.push(desk.kept)
  }
  return kept
}

describe('what a desk keeps', () => {
  test.each([
    ['all ledgers are waited for', () => false],
    ['every ledger is given up for a newer bay', () => true],
    ['one in three is given up', (edit: number) => edit % 3 === 0],
  ])('does not grow after the first hundred edits, where %s', async (_, isSuperseded) => {
    const kept = await afterEdits(300, isSuperseded)
    const early = Math.max(...kept.slice(50, 100))
    expect(early).toBeGreaterThan(kept[0])
    expect(Math.max(...kept.slice(100))).toBeLessThanOrEqual(early)
  })
})
