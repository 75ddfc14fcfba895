import { describe, expect, test } from 'vitest'
import type { Bay } from '../../../core/bay/schema.ts'
import { LedgerMemory } from '../../../core/verdict/memory.ts'
import { sampleBay } from '../../../test/kit/sampleBay.ts'
import { compared } from '../../worker/compared.ts'
import { withField } from '../state/edit.ts'
import { type Column, compareRows, compareText } from './rows.ts'
import { shareOfLargest } from './share.ts'

const first = sampleBay() as Bay
const [own] = first.candidates
const deeper = { ...own, id: 'deeper', name: 'Deeper', core: { ...own.core, depth: own.core.depth + 20 } }
const bay: Bay = { ...withField(first, ['candidates'], [own, deeper]) }
const asked = { need: 5, stop: () => null }
const column = (id: string): Column => {
  const outcome = compared(bay, id, new Map(), new LedgerMemory(), asked)
  if (!outcome.ok) throw new Error('the sample bay has both candidates')
  return { candidate: bay.candidates.find((each) => each.id === id)!, compared: outcome.value }
}
const columns = [column(own.id), column('deeper')]
const rows = compareRows(bay, columns, 'mm')
const row = (id: string, among = rows) => among.find((each) => each.id === id)!

describe('candidates side by side', () => {
  test('what differs is told, and which is best', () => {
    expect(row('depth')).toMatchObject({ differs: true, best: [false, false] })
    expect(row('width')).toMatchObject({ differs: false, best: [false, false] })
    expect(row('volume')).toMatchObject({ differs: true, best: [false, true] })
    // The same face: nothing is better.
    expect(row('face')).toMatchObject({ differs: false, best: [false, false] })
  })

  test('gaps come from the ledger, the tightest first, with the verdict', () => {
    const { compared: known } = columns[0]
    const pairs = known?.ledger.ok ? known.ledger.value.pairs : []
    expect(pairs.length).toBeGreaterThan(5)
    const tight = [0, 1, 2, 3, 4].map((i) => row(`tight-${i}`).cells[0])
    expect(tight.map(({ value }) => value)).toEqual(pairs.slice(0, 5).map(({ margin }) => margin))
    expect(tight.map(({ verdict }) => verdict)).toEqual(pairs.slice(0, 5).map(({ verdict }) => verdict))
    for (const verdict of ['fouls', 'short', 'unproved', 'clears'] as const)
      expect(row(verdict).cells[0].value).toBe(pairs.filter((pair) => pair.verdict === verdict).length)
  })

  test('overall counts the tanks along each axis', () => {
    const { tanks, core } = own
    const long = core.width + (tanks?.left?.length ?? 0) + (tanks?.right?.length ?? 0)
    expect(columns[0].compared?.overall?.[1]).toBeCloseTo(long, 9)
  })

  test('what is not there yet differs from nothing, and what failed is no best', () => {
    const waiting = compareRows(bay, [columns[0], { ...columns[1], compared: undefined }], 'mm')
    expect(row('verdict', waiting)).toMatchObject({ differs: false })
    expect(row('verdict', waiting).cells[1].text).toBe('computing …')
    const failed = compareRows(bay, [columns[0], { ...columns[1], compared: null }], 'mm')
    expect(row('tight-0', failed)).toMatchObject({ differs: true, best: [false, false] })
    expect(row('tight-0', failed).cells[1].text).toBe('no answer')
  })

  test('goes to a spreadsheet as a line for each row, a tab between figures', () => {
    const lines = compareText(columns, rows).split('\n')
    expect(lines).toHaveLength(rows.length + 1)
    expect(lines[0]).toBe(`Figure\t${own.name}\tDeeper`)
    for (const line of lines) expect(line.split('\t')).toHaveLength(3)
  })
})

describe('the share of the largest', () => {
  const core = { depth: 100, width: 100, height: 99 }
  const found = (upperBound: number, stopped: 'proved' | 'cancelled') =>
    ({ answer: 'found', upperBound, stopped }) as Parameters<typeof shareOfLargest>[1]
  test.each([
    [found(1e6, 'proved'), '99 %, proved'],
    [found(990_001, 'proved'), '99 %, proved'],
    [found(990_000, 'proved'), '100 %, proved'],
    [found(1e6, 'cancelled'), 'at least 99 %'],
    [found(Number.POSITIVE_INFINITY, 'cancelled'), 'not bounded'],
    [{ answer: 'nothing fits', stopped: 'proved', conflict: [], upperBound: 0 } as const, 'nothing fits its limits'],
  ])('%o', (answer, said) => expect(shareOfLargest(core, answer).text).toBe(said))
})
