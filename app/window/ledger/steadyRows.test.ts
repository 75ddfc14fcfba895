import { expect, test } from 'vitest'
import type { LedgerPair } from '../../../core/verdict/answer.ts'
import { steadyRows } from './steadyRows.ts'

const pair = (part: string, gap: number): LedgerPair => ({
  part,
  keepOut: 'beam',
  role: 'safety',
  gap,
  error: 0,
  tolerance: 1,
  uncertainty: 2,
  required: 10,
  margin: gap - 13,
  verdict: 'clears',
  onPart: [0, 0, 0],
  onKeepOut: [gap, 0, 0],
})
const names = ({ part }: LedgerPair) => ({ other: 'Beam', part })

test('a row that says what it said is the very same, wherever it stands now', () => {
  const before = steadyRows([pair('core', 20), pair('pipe-hot', 30)], names, [])
  const after = steadyRows([pair('pipe-hot', 18), structuredClone(pair('core', 20))], names, before)
  expect(after.map(({ id }) => id)).toEqual(['pipe-hot beam', 'core beam'])
  expect(after[1]).toBe(before[0])
  expect(after[0]).not.toBe(before[1])
  expect(after[0].pair.gap).toBe(18)
})

test('another name, or another figure deep within, is another row', () => {
  const before = steadyRows([pair('core', 20)], names, [])
  expect(steadyRows([pair('core', 20)], () => ({ other: 'Bow', part: 'core' }), before)[0]).not.toBe(before[0])
  const touched = { ...pair('core', 20), overlap: { depth: 1, kind: 'exact' as const } }
  expect(steadyRows([touched], names, before)[0]).not.toBe(before[0])
  const elsewhere = { ...pair('core', 20), onPart: [0, 0, 1] as const }
  expect(steadyRows([elsewhere], names, before)[0]).not.toBe(before[0])
})
