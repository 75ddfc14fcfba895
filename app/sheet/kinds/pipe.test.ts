import { expect, test } from 'vitest'
import { pipedBay } from '../../../test/kit/pipedBay.ts'
import { ezdxfThere, readDxf } from '../../../test/kit/readDxf.ts'
import { candidateParts } from '../../../core/bay/parts.ts'
import type { Bay } from '../../../core/bay/schema.ts'
import { bendTable as bendRun } from '../../../core/pipe/bendTable.ts'
import { bends } from '../../../core/pipe/bends.ts'
import type { Vec3 } from '../../../core/shape/vec.ts'
import type { DrawnThing } from '../../../core/sheet/drawing/drawing.ts'
import type { SheetFacts } from '../../../core/sheet/facts/sheetFacts.ts'
import type { Sense } from '../../wording/bendTables.ts'
import type { SheetContext } from '../context.ts'
import { figureDxf } from '../dxf/figureDxf.ts'
import type { Block, Sheet } from '../sheet.ts'
import { pipeSheets } from './pipe.ts'
import { bendTable } from './pipeTables.ts'

/** What pipe sheets look at; the rest of the facts takes searches, and they say nothing of it. */
function sheetsOf(bay: Bay, paper: SheetContext['paper'] = 'A4'): readonly Sheet[] {
  const [candidate] = bay.candidates
  const [answer, parts] = [bends(bay, undefined, new Map()), candidateParts(bay, candidate)]
  if (!answer.ok || !parts.ok) throw new Error('a bay that can be drawn')
  const things = parts.value.parts.map(({ name, solid }): DrawnThing => ({ name, role: 'part', solid, beside: false }))
  const facts = { bay, candidate, bends: answer.value } as unknown as SheetFacts
  const room = (way: Sheet['orientation']) =>
    way === 'portrait' ? { width: 190, height: 254 } : { width: 277, height: 167 }
  return pipeSheets({ facts, things, units: 'mm', paper, projection: 'first-angle', scale: null, room })
}

const tablesOf = ({ blocks }: Sheet) => blocks.flatMap((block) => (block.kind === 'table' ? [block.table] : []))
const pagesOf = ({ blocks }: Sheet) => blocks.flatMap((block: Block) => (block.kind === 'page' ? [block] : []))

/** Vertices, straights, angles and rotations of checks D1; bend radius 95.25. */
function printed(points: readonly Vec3[], sense: Sense) {
  const run = bendRun(points, 95.25)
  if (!run.ok) throw new Error('a table')
  const rows = run.value.table.map((row) => ({ ...row, set: null, elbow: null }))
  const table = bendTable('it', { piece: 'run', rows }, sense, 'mm')
  return table.rows.map((row) => Object.fromEntries(table.columns.map(({ id }, k) => [id, row[k].text])))
}

test('rows of checks D1.3, D1.4 and D1.6 as they are printed; a left-hand bender counts rotations the other way', () => {
  const out: Vec3[] = [
    [0, 0, 0],
    [300, 0, 0],
    [300, 300, 0],
  ]
  const rotations = (points: readonly Vec3[], sense: Sense) => printed(points, sense).map(({ rotation }) => rotation)
  expect(rotations([...out, [300, 300, 300]], 'right-hand')).toEqual(['', '90.00°', ''])
  expect(rotations([...out, [300, 300, -300]], 'right-hand')).toEqual(['', '−90.00°', ''])
  expect(rotations([...out, [300, 300, 300]], 'left-hand')).toEqual(['', '−90.00°', ''])
  // A half turn is one either way round.
  expect(rotations([...out, [600, 300, 0]], 'left-hand')).toEqual(['', '180.00°', ''])
  expect(
    printed(
      [
        [0, 0, 0],
        [250, 0, 0],
        [400, 120, 0],
        [420, 300, 160],
        [420, 300, 400],
      ],
      'right-hand',
    ),
  ).toEqual([
    { bend: '1', length: '216.6', rotation: '', angle: '38.66°', radius: '95.25' },
    { bend: '2', length: '105.9', rotation: '51.33°', angle: '58.00°', radius: '95.25' },
    { bend: '3', length: '145.9', rotation: '56.49°', angle: '48.54°', radius: '95.25' },
    { bend: 'end', length: '197.1', rotation: '', angle: '', radius: '' },
  ])
})

test('an elbow that is welded in parts the run: a table for each tube, and cut lengths that add up', () => {
  const [sheet] = sheetsOf(pipedBay({ elbows: [{ corner: 1, elbow: 'cast' }] }))
  expect(tablesOf(sheet).map(({ id }) => id)).toEqual(
    expect.arrayContaining(['bends-hot', 'bends-hot-tube-1', 'bends-hot-tube-2', 'points-hot', 'joints-hot']),
  )
  const rows = sheet.blocks.flatMap((block) => (block.kind === 'facts' ? block.rows : []))
  const cut = rows.find(([name]) => name === 'Cut lengths')?.[1] ?? ''
  const [one, other, both] = [...cut.matchAll(/[\d.]+/g)].map(Number)
  expect(one + other).toBeCloseTo(both, 0)
  const run = tablesOf(sheet).find(({ id }) => id === 'bends-hot')
  expect(run?.rows.map((row) => row.at(-1)?.text)).toContain('cast, cut down')
})

test('every template page is at 1 : 1 with its bar; A3 is offered where it would do in one page', () => {
  const [sheet] = sheetsOf(pipedBay())
  const pages = pagesOf(sheet)
  expect(pages.length).toBeGreaterThan(2)
  for (const { figure } of pages) {
    expect(figure.scale).toEqual({ paper: 1, real: 1 })
    const bars = figure.items.filter(
      (item) => item.kind === 'line' && item.name === 'scale-check' && item.stroke === 'outline',
    )
    expect(bars.map((bar) => bar.kind === 'line' && bar.points[1][0] - bar.points[0][0])).toEqual([100])
  }
  const said = (sheet: Sheet) => sheet.blocks.flatMap((block) => (block.kind === 'list' ? block.items : [])).join('\n')
  expect(said(sheet)).toMatch(/Bends? .*pages of A4 to be joined/)
  expect(said(sheetsOf(pipedBay(), 'A3')[0])).not.toContain('ask for A3')
})

test.skipIf(!ezdxfThere)(
  'templates as DXF, read back by an independent parser (ezdxf): as wide as the tube all along',
  () => {
    const [sheet] = sheetsOf(pipedBay())
    const flats = sheet.flats ?? []
    const runs = sheet.blocks.flatMap((block) => (block.kind === 'page' ? [block.title] : []))
    expect(flats.length).toBeGreaterThan(0)
    expect(new Set(runs).size).toBe(flats.length)
    for (const flat of flats) {
      const { errors, items } = readDxf(figureDxf(flat))
      expect(errors).toEqual([])
      const [outline] = items.filter(({ layer, type }) => layer === 'CUT' && type === 'LWPOLYLINE')
      const [middle] = items.filter(({ layer, type }) => layer === 'CENTRE' && type === 'LWPOLYLINE')
      const loop = outline.points ?? []
      const area = Math.abs(
        loop.reduce(
          (sum, [x, y], k) => sum + x * loop[(k + 1) % loop.length][1] - y * loop[(k + 1) % loop.length][0],
          0,
        ) / 2,
      )
      const line = middle.points ?? []
      const long = line.slice(1).reduce((sum, [x, y], k) => sum + Math.hypot(x - line[k][0], y - line[k][1]), 0)
      // A strip's area is its width times its middle line (Pappus–Guldin); chords take a little off both.
      expect(Math.abs(area / long - 57)).toBeLessThan(0.01)
    }
  },
)

test('a pipe that is not routed has a sheet that says so, and nothing to bend by', () => {
  const [sheet] = sheetsOf(pipedBay({ path: [] }))
  expect(sheet.blocks.some((block) => block.kind === 'text' && block.text.startsWith('Not routed'))).toBe(true)
  expect([tablesOf(sheet), pagesOf(sheet)]).toEqual([[], []])
})
