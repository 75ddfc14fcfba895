import { beforeAll, describe, expect, test } from 'vitest'
import type { Bay } from '../../../core/bay/schema.ts'
import { drawnThings } from '../../../core/sheet/drawing/drawing.ts'
import { sheetFacts } from '../../../core/sheet/facts/facts.ts'
import type { PeopleUnits } from '../../../core/units/lengthText.ts'
import { readLength } from '../../../core/units/length.ts'
import { jointedBay, straightPipe, turboPort } from '../../../test/kit/jointedBay.ts'
import { bareCandidate, keepOut, tinyBay } from '../../../test/kit/tinyBay.ts'
import { openBay } from '../../files/bayFolder.ts'
import type { SheetContext } from '../context.ts'
import type { Block, Sheet, Table } from '../sheet.ts'
import { coverSentences } from './coverSentences.ts'
import { gapSheets } from './gaps.ts'
import { offeringUpSheets } from './offeringUp.ts'
import { onTheCarSheets } from './onTheCar.ts'

function contextOf(bay: Bay, id: string | undefined, meshes = new Map(), units: PeopleUnits = bay.units): SheetContext {
  const facts = sheetFacts(bay, id, meshes)
  if (!facts.ok) throw new Error(JSON.stringify(facts.faults))
  const things = drawnThings(bay, facts.value.candidate, meshes)
  if (!things.ok) throw new Error(JSON.stringify(things.faults))
  const room = () => ({ width: 190, height: 240 })
  const settings = { units, paper: 'A4', projection: 'first-angle', scale: null, room } as const
  return { facts: facts.value, things: things.value, ...settings }
}

const tables = (sheets: readonly Sheet[]): Table[] =>
  sheets.flatMap(({ blocks }) => blocks.flatMap((block) => (block.kind === 'table' ? [block.table] : [])))
const tableNamed = (sheets: readonly Sheet[], id: string): Table => {
  const found = tables(sheets).find((table) => table.id === id)
  if (!found) throw new Error(`no table ${id}`)
  return found
}
const textsOf = (block: Block): string[] => {
  if (block.kind === 'text' || block.kind === 'heading') return [block.text]
  if (block.kind === 'list') return [...block.items]
  if (block.kind === 'facts') return block.rows.map(([name, what]) => `${name}: ${what}`)
  if (block.kind === 'figures') return block.items.map(({ caption }) => caption)
  return block.kind === 'table' ? block.table.rows.flat().map(({ text }) => text) : []
}
const saidIn = (sheets: readonly Sheet[]): string => sheets.flatMap(({ blocks }) => blocks.flatMap(textsOf)).join('\n')

let wide: SheetContext
let deep: SheetContext
let inches: SheetContext
beforeAll(async () => {
  const [tarnbeck, corvane] = await Promise.all(
    ['tarnbeck', 'corvane'].map(async (name) => {
      const opened = await openBay(`assets/${name}/${name}.bay.json`)
      if (!opened.ok) throw new Error(JSON.stringify(opened.faults))
      return opened.value
    }),
  )
  wide = contextOf(tarnbeck.bay, 'wide', tarnbeck.meshes as Map<string, never>)
  deep = contextOf(tarnbeck.bay, 'deep', tarnbeck.meshes as Map<string, never>)
  inches = contextOf(corvane.bay, 'deep')
}, 60_000)

describe('the first page', () => {
  test('says nothing more of a candidate that clears, and all of one that does not', () => {
    expect(coverSentences(wide)).toEqual([])
    expect(coverSentences(deep)).toMatchInlineSnapshot(`
      [
        "Short: tank left to Crash beam: gap 5.83 mm, required 10.00 mm, margin −7.67 mm.",
        "Short: core to Crash beam: gap 6.60 mm, required 10.00 mm, margin −6.40 mm.",
        "Not proved: tank right to Crash beam: gap 8.56 mm, required 10.00 mm, margin −4.94 mm.",
        "Offering up: refuted. It is not proved to clear where it is to sit: tank left to Crash beam, margin −7.67 mm. No way in can help that.",
      ]
    `)
  })

  test('names what is left out and what is not routed', () => {
    const latch = keepOut(
      'latch',
      { kind: 'box', at: [0, 0, 90], size: [9, 9, 9] },
      { name: 'Bonnet latch', enabled: false },
    )
    const aside = turboPort({ at: [300, 400, 0], direction: [-1, 0, 0] })
    const said = coverSentences(
      contextOf(jointedBay([straightPipe({ name: 'Hot side' })], [latch], [aside]), undefined),
    )
    expect(said).toContain('Left out for a look: Bonnet latch. Nothing is proved of the car without it.')
    expect(said).toContain('Not routed: pipe Hot side. It is not held against anything.')
  })
})

describe('the gap report', () => {
  test('has every pair with all its figures, unrounded for programs and rounded to the safe side for people', () => {
    const { rows, columns } = tableNamed(gapSheets(wide), 'gaps')
    const { pairs } = wide.facts.ledger
    expect(rows).toHaveLength(pairs.length)
    const at = (id: string) => columns.findIndex((column) => column.id === id)
    for (const [n, pair] of pairs.entries()) {
      for (const key of ['gap', 'error', 'tolerance', 'uncertainty', 'required', 'margin'] as const)
        expect(rows[n][at(key)].value).toBe(pair[key])
      const shown = (key: string) => Number(rows[n][at(key)].text.replace('−', '-'))
      for (const key of ['gap', 'margin'] as const) expect(shown(key)).toBeLessThanOrEqual(pair[key] + 1e-6)
      for (const key of ['error', 'tolerance', 'uncertainty', 'required'] as const)
        expect(shown(key)).toBeGreaterThanOrEqual(pair[key] - 1e-6)
      expect(rows[n][at('verdict')].verdict).toBe(pair.verdict)
    }
  })

  test('each safety structure and lamp has a line, and a place to sign', () => {
    const sheets = gapSheets(wide)
    const names = tableNamed(sheets, 'safety').rows.map(([name]) => name.text)
    expect(names).toEqual([
      ...['Crash beam', 'Crash can', 'Crash can (mirrored)', 'Head lamp', 'Head lamp (mirrored)', 'Tow-eye socket'],
    ])
    expect(sheets[0].blocks.filter(({ kind }) => kind === 'sign')).toHaveLength(1)
  })

  test('what a millimetre buys at a safety structure is better measuring, never metal', () => {
    for (const context of [wide, deep, inches]) {
      const { rows } = tableNamed(gapSheets(context), 'holds')
      const { bay, largest } = context.facts
      if (largest.answer?.answer !== 'found') throw new Error('found')
      expect(rows).toHaveLength(largest.answer.holds.length)
      const safety = largest.answer.holds.flatMap((hold, n) => {
        const role = 'keepOut' in hold && bay.keepOuts.find(({ id }) => hold.keepOut.startsWith(id))?.role
        return role === 'safety' || role === 'lamp' ? [rows[n][2].text] : []
      })
      expect(safety.length).toBeGreaterThan(0)
      for (const text of safety) expect(text).toMatch(/measured/)
    }
  })

  test('says what would prove a pair, and the figure it gives does just that', () => {
    // Gap 14, tolerance 1.5, uncertainty 3, required 10: short of proof by 0.5, so U 2.5 would do.
    const beam = keepOut(
      'beam',
      { kind: 'box', at: [-74, 0, 0], size: [20, 60, 40] },
      { role: 'safety', clearance: 10, uncertainty: 3 },
    )
    const candidate = bareCandidate({ core: { depth: 100, width: 200, height: 80, tolerance: 1.5 } })
    const context = contextOf(tinyBay([beam], candidate), undefined)
    expect(saidIn(gapSheets(context))).toContain(
      'Not proved: core to beam: gap 14.00 mm, required 10.00 mm, margin −0.50 mm. It would be proved by beam measured to within ±2.49 mm (now ±3.00 mm)',
    )
    expect(saidIn(gapSheets(context))).toContain('Not worked out. Neither the candidate’s limits nor half-spaces')
    const surer = contextOf(tinyBay([{ ...beam, uncertainty: 2.49 }], candidate), undefined)
    expect(surer.facts.ledger.verdict).toBe('clears')
    expect(contextOf(tinyBay([{ ...beam, uncertainty: 2.51 }], candidate), undefined).facts.ledger.verdict).toBe(
      'unproved',
    )
  })
})

test('what overlaps wants its depth and all that is asked beside it', () => {
  // A box that reaches 4 mm into the core's front; 10 required, tolerance and uncertainty none: 14 mm of room, and no more is known.
  const beam = keepOut('beam', { kind: 'box', at: [-56, 0, 0], size: [20, 60, 40] }, { role: 'safety', clearance: 10 })
  const context = contextOf(tinyBay([beam]), undefined)
  const said = saidIn(gapSheets(context))
  expect(said).toMatch(
    /Fouls: core to beam: they overlap by (3\.99|4\.00) mm\. It wants (14\.00|14\.01) mm more room\./,
  )
  expect(context.facts.onCar).toEqual([])
})

describe('the check on the car', () => {
  test('datum checks come first, then the gaps in reach order with room to write in', () => {
    const [sheet] = onTheCarSheets(wide)
    expect(tables([sheet]).map(({ id }) => id)).toEqual(['datum', 'on-the-car'])
    const { columns, rows, rowHeight } = tableNamed([sheet], 'on-the-car')
    expect(rows.map(([n]) => n.text)).toEqual(rows.map((_, n) => String(n + 1)))
    expect(rowHeight).toBeGreaterThan(6)
    const measured = columns.findIndex(({ id }) => id === 'measured')
    expect(rows.every((row) => row[measured].text === '')).toBe(true)
  })

  test.each(['mm', 'inch'] as const)('what is printed agrees with no more than what is computed, in %s', (units) => {
    const context = { ...wide, units }
    const { columns, rows } = tableNamed(onTheCarSheets(context), 'on-the-car')
    const at = (id: string) => columns.findIndex((column) => column.id === id)
    const shown = (text: string): number => {
      const read = readLength(text, units)
      if (!read.ok) throw new Error(text)
      return read.value
    }
    for (const [n, { low, high, least }] of context.facts.onCar.entries()) {
      expect(shown(rows[n][at('agrees-from')].text)).toBeGreaterThanOrEqual(low - 1e-6)
      expect(shown(rows[n][at('agrees-to')].text)).toBeLessThanOrEqual(high + 1e-6)
      expect(shown(rows[n][at('at-least')].text)).toBeGreaterThanOrEqual(least - 1e-6)
    }
  })
})

describe('offering up', () => {
  test('the proved moves in words, a picture each, the tightest place, and the order of things', () => {
    const sheets = offeringUpSheets(wide)
    const path = wide.facts.way.answer?.path
    const figures = sheets[0].blocks.flatMap((block) => (block.kind === 'figures' ? block.items : []))
    expect(figures).toHaveLength(path?.moves.length ?? 0)
    expect(figures.filter(({ caption }) => caption.includes('tightest'))).toHaveLength(1)
    const said = saidIn(sheets)
    expect(said).toContain('Proved. It goes in with 3 moves')
    expect(said).toContain('Comes off first: Bumper cover, inside and Under-tray')
    expect(said).toMatch(/Stays, never loosened: Crash beam, Crash can, .*Tow-eye socket/)
    expect(said).toContain('bolt ⌀6 with nut')
    expect(tableNamed(sheets, 'mounts').rows).toHaveLength(4)
  })

  test('says plainly where there is none', () => {
    const said = saidIn(offeringUpSheets(deep))
    expect(said).toContain('Refuted. It is not proved to clear where it is to sit: tank left to Crash beam')
    expect(said).toContain('The candidate has no mounts in the bay')
    expect(said).not.toContain('by the moves above')
    const nothingStays = tinyBay([
      keepOut('cover', { kind: 'box', at: [0, 0, 90], size: [9, 9, 9] }, { fitting: 'comes-off' }),
    ])
    const none = saidIn(offeringUpSheets(contextOf(nothingStays, undefined)))
    expect(none).toContain('No way in can be judged.')
    expect(none).toContain('Comes off first: cover')
    expect(saidIn(gapSheets(contextOf(tinyBay([]), undefined)))).toContain('nothing is proved')
  })
})

test('nothing on these sheets tells anyone to cut, and inches are shown where inches are wanted', () => {
  for (const context of [wide, deep, inches]) {
    const said = saidIn([...gapSheets(context), ...onTheCarSheets(context), ...offeringUpSheets(context)])
    // The one place where cutting is spoken of forbids it.
    for (const line of said.split('\n').filter((text) => /\b(cut|grind|trim|remove)/i.test(text)))
      expect(line).toMatch(/\bnot cut\b/)
  }
  const said = saidIn([...gapSheets(inches), ...onTheCarSheets(inches), ...offeringUpSheets(inches)])
  expect(said).not.toMatch(/\d mm/)
})
