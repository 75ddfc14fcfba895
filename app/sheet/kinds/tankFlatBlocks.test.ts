import { readFileSync } from 'node:fs'
import { expect, test } from 'vitest'
import { ezdxfThere, readDxf } from '../../../test/kit/readDxf.ts'
import { candidateParts } from '../../../core/bay/parts.ts'
import { readBay } from '../../../core/bay/read.ts'
import type { Bay, Tank } from '../../../core/bay/schema.ts'
import { measureForm } from '../../../core/shape/measure.ts'
import type { DrawnThing } from '../../../core/sheet/drawing/drawing.ts'
import type { Figure } from '../../../core/sheet/figure/figure.ts'
import { flatBodies } from '../../../core/sheet/flat/flatBodies.ts'
import { tankFlats } from '../../../core/sheet/flat/tankFlats.ts'
import { figureDxf } from '../dxf/figureDxf.ts'

function example(file: string): Bay {
  const read = readBay(readFileSync(file, 'utf8'), file)
  if (!read.ok) throw new Error(JSON.stringify(read.faults))
  return read.value
}

function flatsOf(bay: Bay, change: (tank: Tank) => Tank = (tank) => tank) {
  const [first] = bay.candidates
  const tanks = {
    left: first.tanks?.left && change(first.tanks.left),
    right: first.tanks?.right && change(first.tanks.right),
  }
  const candidate = { ...first, tanks, pipes: [], mounts: [], turn: [3, -8, 12] as const }
  const parts = candidateParts(bay, { ...candidate, turn: [...candidate.turn] })
  if (!parts.ok) throw new Error(JSON.stringify(parts.faults))
  const things = parts.value.parts.map(({ name, solid }): DrawnThing => ({ name, role: 'part', solid, beside: false }))
  const bodies = flatBodies({ ...candidate, turn: [...candidate.turn] }, things)
  const flats = tankFlats(bodies, {
    units: 'mm',
    room: { width: 190, height: 200 },
    scales: [1, 2, 5, 10],
    words: { fold: (deg) => `${deg.toFixed(2)}°`, face: (face) => face, port: (port) => port },
  })
  return { candidate, bodies, flats }
}

const shoelace = (loop: readonly (readonly [number, number])[]) =>
  Math.abs(
    loop.reduce((sum, [x, y], k) => sum + x * loop[(k + 1) % loop.length][1] - y * loop[(k + 1) % loop.length][0], 0) /
      2,
  )
const long = (a: readonly [number, number], b: readonly [number, number]) => Math.hypot(a[0] - b[0], a[1] - b[1])
const textsIn = ({ items }: Figure) => items.flatMap((item) => (item.kind === 'text' ? [item.text] : []))

test('a tank turned anyhow with its core lies flat with above at the top; sizes by hand from taper and length', () => {
  const { flats } = flatsOf(example('assets/tarnbeck/tarnbeck.bay.json'))
  expect(flats.map(({ part }) => part)).toEqual(['tank-left', 'tank-right'])
  // Foot 90 × 260, end 0.85 · 90 by 0.7 · 260, 70 long: slants √(70² + ((90 − 76.5)/2)²) and √(70² + ((260 − 182)/2)²).
  const [overDepth, overHeight] = [Math.hypot(70, (90 - 76.5) / 2), Math.hypot(70, (260 - 182) / 2)]
  const corner = Math.hypot(70, (90 - 76.5) / 2, (260 - 182) / 2)
  const area = 76.5 * 182 + (260 + 182) * overDepth + (90 + 76.5) * overHeight
  const folds = [Math.atan2(70, -(90 - 76.5) / 2), Math.atan2(70, -(260 - 182) / 2)].map(
    (a) => 180 - (a * 180) / Math.PI,
  )
  for (const { onPaper, full, area: sheet, holes } of flats) {
    expect(sheet).toBeCloseTo(area, 6)
    expect(holes.map(({ face, diameter, overFold }) => [face, diameter, overFold])).toEqual([['end', 57, false]])
    const dimension = (of: string) =>
      full.items.flatMap((item) => (item.kind === 'dimension' && item.of === of ? [item.value] : []))
    expect(dimension('flat width')).toEqual([expect.closeTo(76.5 + 2 * overDepth, 6)])
    expect(dimension('flat height')).toEqual([expect.closeTo(182 + 2 * overHeight, 6)])
    // The stub stands in the middle of the depth, at v −0.6 of half the end's height: 38.25 from front or rear, 36.4 from below.
    expect(
      dimension(`hole ${textsIn(full).find((text) => ['hot', 'cold'].includes(text))} from edge`).sort((a, b) => a - b),
    ).toEqual([expect.closeTo(36.4, 6), expect.closeTo(38.25, 6)])
    const texts = textsIn(onPaper)
    for (const text of [
      '260.0',
      '182.0',
      '90.0',
      '76.5',
      corner.toFixed(1),
      ...folds.map((deg) => `${deg.toFixed(2)}°`),
    ])
      expect(texts).toContain(text)
    const at = (name: string) =>
      onPaper.items.flatMap((item) => (item.kind === 'text' && item.text === name ? [item.at[1]] : []))[0]
    expect(at('above')).toBeLessThan(at('end'))
    expect(at('below')).toBeGreaterThan(at('end'))
  }
})

test('a stub that leaves its face askew asks for an ellipse; one that reaches over a fold is not drawn to be cut', () => {
  const bay = example('assets/tarnbeck/tarnbeck.bay.json')
  const askew = (tank: Tank): Tank => ({
    ...tank,
    ports: [{ id: 'up', face: 'above', u: 0, v: 0, outsideDiameter: 30, length: 30 }],
  })
  const { flats } = flatsOf(bay, askew)
  const round = flats[0].full.items.flatMap((item) => (item.kind === 'line' && item.round ? [item] : []))
  // A stub straight up from a face that leans by atan(39 / 70): the ellipse is 30 across, and longer by 1 / cos of that.
  const cosine = 70 / Math.hypot(70, 39)
  expect(round.map(({ stroke, round: hole }) => [stroke, Math.hypot(...(hole?.major ?? [0, 0])), hole?.share])).toEqual(
    [['cut', expect.closeTo(15 / cosine, 6), expect.closeTo(cosine, 9)]],
  )
  const wide = flatsOf(bay, (tank) => ({
    ...askew(tank),
    ports: [{ id: 'up', face: 'above', u: 0.9, v: 0, outsideDiameter: 40, length: 30 }],
  }))
  expect(wide.flats[0].holes.map(({ port, overFold }) => [port, overFold])).toEqual([['up', true]])
  expect(wide.flats[0].full.items.flatMap((item) => (item.kind === 'line' && item.round ? [item.stroke] : []))).toEqual(
    ['thin'],
  )
})

test.skipIf(!ezdxfThere)(
  'as DXF, read back by an independent parser (ezdxf): areas, bend lines and holes of both examples are the model’s',
  () => {
    for (const file of ['assets/tarnbeck/tarnbeck.bay.json', 'assets/corvane/corvane.bay.json']) {
      const { flats, bodies, candidate } = flatsOf(example(file))
      for (const { part, full } of flats) {
        const { errors, items, units } = readDxf(figureDxf(full))
        expect([errors, units]).toEqual([[], 4])
        const on = (layer: string, type: string) => items.filter((item) => item.layer === layer && item.type === type)
        const [outline, ...others] = on('CUT', 'LWPOLYLINE')
        expect([others, outline.closed]).toEqual([[], true])
        const flat = bodies.find((each) => each.part === part)
        if (!flat) throw new Error(part)
        const tank = candidate.tanks[part === 'tank-left' ? 'left' : 'right']
        if (!tank) throw new Error(part)
        const { depth, height } = candidate.core
        const foot = (depth + tank.front + tank.rear) * (height + tank.below + tank.above)
        const surface = measureForm({ form: 'convex', body: flat.body })?.area ?? Number.NaN
        expect(shoelace(outline.points ?? [])).toBeCloseTo(surface - foot, 4)
        // Four bends round the end: its own outline.
        const taper = tank.taper ?? { depth: 1, height: 1 }
        const round = on('BEND', 'LINE').reduce((sum, { points = [] }) => sum + long(points[0], points[1]), 0)
        expect(on('BEND', 'LINE')).toHaveLength(4)
        expect(round).toBeCloseTo(
          2 * ((depth + tank.front + tank.rear) * taper.depth + (height + tank.below + tank.above) * taper.height),
          6,
        )
        expect(on('CUT', 'CIRCLE').map(({ radius }) => radius)).toEqual(
          (tank.ports ?? []).map(({ outsideDiameter }) => expect.closeTo(outsideDiameter / 2, 9)),
        )
      }
    }
  },
)
