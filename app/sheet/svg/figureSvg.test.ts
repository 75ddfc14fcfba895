import { beforeAll, describe, expect, test } from 'vitest'
import type { Bay, Candidate } from '../../../core/bay/schema.ts'
import { drawnThings } from '../../../core/sheet/drawing/drawing.ts'
import { coolerFigure, tankFigure, tankSides } from '../../../core/sheet/figure/cooler.ts'
import type { Figure } from '../../../core/sheet/figure/figure.ts'
import { overviewFigure } from '../../../core/sheet/figure/overview.ts'
import { textWidth } from '../../../core/sheet/figure/textWidth.ts'
import { ledger } from '../../../core/verdict/ledger.ts'
import { seeded } from '../../../test/kit/random.ts'
import { bareCandidate, tinyBay } from '../../../test/kit/tinyBay.ts'
import { openBay } from '../../files/bayFolder.ts'
import { dimensionText } from '../kinds/dimensionText.ts'
import { figureSvg, figureSvgFile } from './figureSvg.ts'

type Opened = { readonly bay: Bay; readonly meshes: Parameters<typeof drawnThings>[2] }

const rooms = { A4: { width: 277, height: 155 }, A3: { width: 400, height: 240 }, Letter: { width: 259, height: 160 } }

function sceneOf({ bay, meshes }: Opened, candidate: Candidate, room: keyof typeof rooms = 'A4') {
  const things = drawnThings(bay, candidate, meshes)
  if (!things.ok) throw new Error(JSON.stringify(things.faults))
  const length = (mm: number) => dimensionText(mm, bay.units)
  const projection = bay.units === 'mm' ? ('first-angle' as const) : ('third-angle' as const)
  return { candidate, things: things.value, length, projection, scale: null, room: rooms[room] }
}

function overviewOf(opened: Opened, candidate: Candidate, room: keyof typeof rooms = 'A4'): Figure {
  const { bay, meshes } = opened
  const { things, length, projection, scale, room: paper } = sceneOf(opened, candidate, room)
  const gaps = ledger({ ...bay, candidates: [candidate] }, candidate.id, meshes)
  if (!gaps.ok) throw new Error(JSON.stringify(gaps.faults))
  const numbers = bay.keepOuts.map(({ id }, i) => ({ name: id, text: String(i + 1) }))
  const texts = { length, gap: ({ gap }: { gap: number }) => length(gap), place: () => 'X 100 Z 100' }
  return overviewFigure({ things, pairs: gaps.value.pairs, numbers, texts, projection, scale, room: paper }).figure
}

const bodyFigures = (opened: Opened, candidate: Candidate): Figure[] => {
  const scene = sceneOf(opened, candidate)
  return [coolerFigure(scene), ...tankSides(candidate).flatMap((side) => tankFigure(scene, side) ?? [])]
}

interface Read {
  readonly of: string
  readonly value: number
  readonly ends: readonly number[]
  readonly text: string
}

/** Dimensions of a file, read from its text alone. */
const dimensionsIn = (svg: string): Read[] =>
  [
    ...svg.matchAll(
      /<g data-of="([^"]*)" data-value="([^"]*)" data-quantity="mm" data-ends="([^"]*)">.*?<text[^>]*>([^<]*)</g,
    ),
  ].map(([, of, value, ends, text]) => ({ of, value: Number(value), ends: ends.split(' ').map(Number), text }))

interface TextBox {
  readonly text: string
  readonly box: readonly [left: number, top: number, right: number, bottom: number]
}

/** Where texts stand at the most. */
const textBoxes = ({ items }: Figure): TextBox[] =>
  items.flatMap((item): TextBox[] => {
    if (item.kind !== 'text' && item.kind !== 'dimension') return []
    const [at, size, turn = 0, anchor] =
      item.kind === 'text'
        ? [item.at, item.size, item.turn, item.anchor]
        : [item.textAt, item.textSize, item.turn, 'middle' as const]
    const wide = textWidth(item.text, size, item.kind === 'text' && item.bold)
    const start = { start: 0, middle: -wide / 2, end: -wide }[anchor]
    return [
      {
        text: item.text,
        box:
          turn === 90
            ? [at[0] - size, at[1] - start - wide, at[0], at[1] - start]
            : [at[0] + start, at[1] - size, at[0] + start + wide, at[1]],
      },
    ]
  })

function overlaps(figure: Figure): string[] {
  const boxes = textBoxes(figure)
  return boxes.flatMap((a, i) =>
    boxes
      .slice(0, i)
      .filter(({ box: b }) => a.box[0] < b[2] && b[0] < a.box[2] && a.box[1] < b[3] && b[1] < a.box[3])
      .map((b) => `${figure.id}: ${a.text} on ${b.text}`),
  )
}

let tarnbeck: Opened
let corvane: Opened
beforeAll(async () => {
  const [first, second] = await Promise.all(
    ['tarnbeck', 'corvane'].map((name) => openBay(`assets/${name}/${name}.bay.json`)),
  )
  if (!first.ok || !second.ok) throw new Error('examples')
  tarnbeck = first.value as Opened
  corvane = second.value as Opened
})

const candidateOf = ({ bay }: Opened, id: string): Candidate =>
  bay.candidates.find((each) => each.id === id) as Candidate

describe('dimensions read back from the file', () => {
  test('are the model’s own, and the distance on paper times the scale is what they say', () => {
    const wide = candidateOf(tarnbeck, 'wide')
    let count = 0
    for (const figure of bodyFigures(tarnbeck, wide)) {
      const real = (figure.scale?.real ?? 0) / (figure.scale?.paper ?? 1)
      for (const {
        ends: [x0, y0, x1, y1],
        value,
        text,
      } of dimensionsIn(figureSvg(figure))) {
        count++
        // Places are written in thousandths of a millimetre.
        expect(Math.abs(Math.hypot(x1 - x0, y1 - y0) * real - value)).toBeLessThan(0.0015 * real)
        expect(text).toBe(dimensionText(value, 'mm'))
      }
    }
    expect(count).toBeGreaterThan(18)
    const all = bodyFigures(tarnbeck, wide).flatMap((figure) => dimensionsIn(figureSvg(figure)))
    const told = Object.fromEntries(all.map(({ of, value }) => [of, Number(value.toFixed(6))]))
    // From the bay file: core 90 × 540 × 260, tanks 70 long with tapers 0.85 and 0.7, ports at u 0 and v −0.6 of the end.
    expect(told).toMatchObject({
      'core depth': 90,
      'core width': 540,
      'core height': 260,
      'tank-left length': 70,
      'body width': 680,
      'tank-left foot height': 260,
      'tank-left end height': 182,
      'tank-left end depth': 76.5,
      'tank-left port hot from front edge': 45,
      'tank-left port hot from lower edge': 130 - 0.6 * 91,
    })
  })

  test('inches are fractions of the same values', () => {
    const narrow = candidateOf(corvane, 'narrow')
    const told = dimensionsIn(figureSvg(coolerFigure(sceneOf(corvane, narrow))))
    expect(told.find(({ of }) => of === 'core height')).toMatchObject({ value: 187.325, text: '7 3/8' })
  })

  test('gaps are those of the ledger', () => {
    const narrow = candidateOf(corvane, 'narrow')
    const gaps = ledger(corvane.bay, 'narrow', corvane.meshes)
    if (!gaps.ok) throw new Error('ledger')
    const told = dimensionsIn(figureSvg(overviewOf(corvane, narrow))).filter(({ of }) => of.startsWith('gap '))
    expect(told.length).toBeGreaterThan(2)
    for (const { of, value } of told)
      expect(gaps.value.pairs.some(({ part, keepOut, gap }) => of === `gap ${part} ${keepOut}` && gap === value)).toBe(
        true,
      )
  })
})

describe('no two texts of a figure stand on each other', () => {
  test('every candidate of both examples alone, two of each in its bay, on A4, A3 and Letter', () => {
    const found = [tarnbeck, corvane].flatMap((opened) =>
      opened.bay.candidates.flatMap((candidate, i) => {
        const papers = i === 0 ? (['A4', 'A3', 'Letter'] as const) : i === 1 ? (['A4'] as const) : []
        return [
          ...bodyFigures(opened, candidate),
          ...papers.map((paper) => overviewOf(opened, candidate, paper)),
        ].flatMap(overlaps)
      }),
    )
    expect(found).toEqual([])
  }, 120_000)

  test('150 coolers of any size with ports anywhere (seed 12)', () => {
    const random = seeded(12)
    const faces = ['end', 'front', 'rear', 'below', 'above'] as const
    const tank = () => ({
      ...{ length: random.real(20, 120), front: random.real(-5, 20), rear: 0, below: 0, above: random.real(0, 30) },
      taper: { depth: random.real(0.5, 1), height: random.pick([1, random.real(0.4, 1)]) },
      ports: Array.from({ length: random.int(3) }, (_, i) => ({
        ...{ id: `p${i}`, face: random.pick(faces), u: random.real(-0.7, 0.7), v: random.real(-0.7, 0.7) },
        ...{ outsideDiameter: random.real(15, 60), length: random.real(10, 60) },
      })),
    })
    const found: string[] = []
    let dimensions = 0
    for (let round = 0; round < 150; round++) {
      const core = { depth: random.size(30, 150), width: random.size(80, 900), height: random.size(60, 600) }
      const candidate = bareCandidate({
        core,
        tanks: { left: tank(), right: tank() },
        turn: [0, random.real(-20, 20), 0],
      })
      const opened = { bay: tinyBay([], candidate), meshes: new Map() }
      for (const figure of bodyFigures(opened, candidate)) {
        found.push(...overlaps(figure))
        dimensions += figure.items.filter(({ kind }) => kind === 'dimension').length
      }
    }
    expect(found).toEqual([])
    expect(dimensions).toBeGreaterThan(2000)
  }, 120_000)
})

test('a file of its own says what it is, escapes names, and has no idle colour', () => {
  const figure: Figure = {
    ...{ id: 'x', width: 10, height: 5, scale: { paper: 1, real: 5 } },
    items: [{ kind: 'text', at: [1, 1], text: 'a < b & "c"\u0007', size: 2.5, anchor: 'start' }],
  }
  const file = figureSvgFile(figure, 'Bay <1>', ['Overview', 'mm'])
  expect(file).toMatch(/^<\?xml version="1.0" encoding="UTF-8"\?>\n<svg /)
  expect(file).toContain('width="10mm" height="5mm" viewBox="0 0 10 5"')
  expect(file).toContain('<title>Bay &lt;1&gt;</title><desc>Overview | mm | scale 1 : 5</desc>')
  expect(file).toContain('a &lt; b &amp; &quot;c&quot;\ufffd')
})
