import { describe, expect, test } from 'vitest'
import { seeded } from '../../../test/kit/random.ts'
import type { Form, Solid } from '../../shape/form.ts'
import { boxPolytope } from '../../shape/polytope.ts'
import { solidFrom } from '../../shape/solid.ts'
import type { Vec3 } from '../../shape/vec.ts'
import { drawing, type DrawnThing } from '../drawing/drawing.ts'
import { simplified } from '../drawing/region.ts'
import { type Flat, frameOfBounds, type ViewName, views } from '../drawing/view.ts'
import type { Projection } from './arrange.ts'
import type { Figure, FigureLine, Paper } from './figure.ts'
import { hatchLines } from './hatch.ts'
import type { NumberWish } from './labels.ts'
import { projectionSymbol } from './marks.ts'
import { viewsFigure } from './views.ts'

const box = (name: string, at: Vec3, size: Vec3): DrawnThing => {
  const made = boxPolytope(at, size)
  if (!made.ok) throw new Error('no box')
  const form: Form = { form: 'convex', body: made.value }
  return { name, role: 'part', solid: solidFrom([form]) as Solid, beside: false }
}

/** A block with a peg on its front, one on the car's left, and one on top. */
const things = [
  box('block', [0, 0, 0], [100, 300, 200]),
  box('front', [-65, 40, 30], [30, 20, 20]),
  box('left', [20, -165, -40], [20, 30, 20]),
  box('top', [10, 60, 115], [20, 20, 30]),
]

const figureOf = (projection: Projection, scale: number | null = null, width = 277, more: DrawnThing[] = []): Figure =>
  labelledOf(projection, scale, width, more).figure

function labelledOf(
  projection: Projection,
  scale: number | null,
  width: number,
  more: DrawnThing[],
  numbers: readonly NumberWish[] = [],
) {
  const drawn = [...things, ...more]
  const view = (name: ViewName) => {
    const frames = drawn.map(({ solid }) => frameOfBounds(solid.bounds, views[name]))
    return {
      drawing: drawing(drawn, views[name]),
      frame: frames.reduce((a, b) => ({
        min: [Math.min(a.min[0], b.min[0]), Math.min(a.min[1], b.min[1])] as Flat,
        max: [Math.max(a.max[0], b.max[0]), Math.max(a.max[1], b.max[1])] as Flat,
      })),
      nearFirst: numbers.map(({ name }) => name),
      dimensions: [],
      numbers,
    }
  }
  return viewsFigure({
    ...{ id: 'test', projection, scale, origin: null, placeText: () => '', room: { width, height: 167 } },
    views: { front: view('front'), side: view('side'), plan: view('plan') },
  })
}

/** Middles of what is drawn of a thing in each of the three views, told apart by the block that they are on. */
function middles(figure: Figure) {
  const lines = figure.items.filter((item): item is FigureLine => item.kind === 'line' && item.name !== undefined)
  const share = 1 / (figure.scale as { real: number }).real
  const blocks = figure.items.flatMap((item) =>
    item.kind === 'area' && item.name === 'block' ? [boxOf(item.loops.flat())] : [],
  )
  const at = (wide: number, high: number) => {
    const found = blocks.find(
      ({ size }) => Math.abs(size[0] - wide * share) < 0.1 && Math.abs(size[1] - high * share) < 0.1,
    )
    if (!found) throw new Error('no such view')
    return found
  }
  const [front, side, plan] = [at(300, 200), at(100, 200), at(300, 100)]
  const peg = (name: string, of: { middle: Paper }): Paper => {
    const own = lines.filter((line) => line.name === name).flatMap(({ points }) => points)
    const reach = 120 * share + 60 * share
    const near = own.filter((p) => Math.abs(p[0] - of.middle[0]) < reach && Math.abs(p[1] - of.middle[1]) < 140 * share)
    const { middle } = boxOf(near)
    return [middle[0] - of.middle[0], middle[1] - of.middle[1]]
  }
  return { front: front.middle, side: side.middle, plan: plan.middle, peg, of: { front, side, plan } }
}

function boxOf(points: readonly Paper[]): { middle: Paper; size: Paper } {
  const [xs, ys] = [points.map(([x]) => x), points.map(([, y]) => y)]
  const [x0, x1, y0, y1] = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)]
  return { middle: [(x0 + x1) / 2, (y0 + y1) / 2], size: [x1 - x0, y1 - y0] }
}

describe('three views on one sheet, by ISO 5456-2 (from memory)', () => {
  // Who looks at the front of the car has its left on the right: there the view from the car's left stands in third angle.
  test('third angle: the view from the left of the car right of the front view, the plan above, front edges towards the front view', () => {
    const { front, side, plan, peg, of } = middles(figureOf('third-angle'))
    expect(side[0]).toBeGreaterThan(front[0])
    expect(plan[1]).toBeLessThan(front[1])
    // What is on the front of the car lies on the side of the front view, in both.
    expect(peg('front', of.side)[0]).toBeLessThan(0)
    expect(peg('front', of.plan)[1]).toBeGreaterThan(0)
  })

  test('first angle: each on the other side, front edges away from the front view', () => {
    const { front, side, plan, peg, of } = middles(figureOf('first-angle'))
    expect(side[0]).toBeLessThan(front[0])
    expect(plan[1]).toBeGreaterThan(front[1])
    expect(peg('front', of.side)[0]).toBeLessThan(0)
    expect(peg('front', of.plan)[1]).toBeGreaterThan(0)
  })

  test.each(['first-angle', 'third-angle'] as const)('%s: heights, widths and depths are in line', (projection) => {
    const { front, side, plan } = middles(figureOf(projection))
    expect(side[1]).toBeCloseTo(front[1], 9)
    expect(plan[0]).toBeCloseTo(front[0], 9)
  })

  test('the symbol: the rings are the cone seen from its small end, and stand on that side in third angle only', () => {
    const parts = (projection: Projection) => {
      const lines = projectionSymbol([0, 0], projection).filter((item): item is FigureLine => item.kind === 'line')
      const cone = lines[0].points
      const rings = lines.filter(({ round }) => round).map(({ round }) => round?.centre[0] ?? 0)
      const heightAt = (x: number) => Math.max(...cone.filter((p) => p[0] === x).map(([, y]) => y))
      const [low, high] = [Math.min(...cone.map(([x]) => x)), Math.max(...cone.map(([x]) => x))]
      return { smallLeft: heightAt(low) < heightAt(high), ringsRight: rings[0] > high }
    }
    // Seen from the small end, both circles are seen in full. From the left: its view stands right in first angle.
    expect(parts('first-angle')).toEqual({ smallLeft: true, ringsRight: true })
    expect(parts('third-angle')).toEqual({ smallLeft: true, ringsRight: false })
  })
})

test.each(['first-angle', 'third-angle'] as const)(
  '%s: all of it lies on the paper that the figure says it takes',
  (projection) => {
    for (const scale of [2, 5, 20, 100]) {
      const { items, width, height } = figureOf(projection, scale, 400)
      for (const item of items) {
        const points = item.kind === 'line' ? item.points : item.kind === 'area' ? item.loops.flat() : []
        for (const [x, y] of points)
          expect(x >= -0.01 && y >= -0.01 && x <= width + 0.01 && y <= height + 0.01).toBe(true)
      }
    }
  },
)

test('a scale that does not fit gives way to the next standard one', () => {
  expect(figureOf('first-angle', 5).scaleInstead).toBeUndefined()
  expect(figureOf('first-angle', 2, 190)).toMatchObject({
    scale: { paper: 1, real: 5 },
    scaleInstead: { paper: 1, real: 2 },
  })
})

test('hidden edges are strokes of their own kind: all of what stands behind the block, and none from its own side', () => {
  const behind = box('behind', [80, 0, 0], [20, 100, 80])
  const { items } = figureOf('first-angle', null, 277, [behind])
  const own = items.filter((item): item is FigureLine => item.kind === 'line' && item.name === 'behind')
  const long = (stroke: string) =>
    own
      .filter((line) => line.stroke === stroke)
      .flatMap(({ points }) => points.slice(1).map((p, i) => Math.hypot(p[0] - points[i][0], p[1] - points[i][1])))
      .reduce((sum, x) => sum + x, 0)
  // At 1 : 5. From the front its rectangle of 100 × 80 is hidden; from the side 20 × 80 and from above 20 × 100 of it stand
  // out behind, but for the edge at the block.
  expect(long('hidden')).toBeGreaterThanOrEqual((2 * (100 + 80)) / 5 - 0.01)
  expect(long('outline')).toBeGreaterThanOrEqual((2 * 20 + 80 + 2 * 20 + 100) / 5 - 0.01)
})

test('hatching covers what it should: length of lines times their distance is the area, holes left free (seed 3)', () => {
  const random = seeded(3)
  for (let round = 0; round < 40; round++) {
    const [w, h, x, y] = [random.real(30, 80), random.real(30, 80), random.real(-50, 50), random.real(-50, 50)]
    const rectangle = (x0: number, y0: number, x1: number, y1: number): Flat[] => [
      [x0, y0],
      [x1, y0],
      [x1, y1],
      [x0, y1],
    ]
    const hole = rectangle(x + w / 4, y + h / 4, x + w / 2, y + h / 2).reverse()
    const way = random.real(0, 180)
    const lines = hatchLines([rectangle(x, y, x + w, y + h), hole], { ways: [way], apart: 0.5 })
    const long = lines.reduce((sum, [a, b]) => sum + Math.hypot(b[0] - a[0], b[1] - a[1]), 0)
    expect((long * 0.5) / (w * h * (1 - 1 / 16))).toBeCloseTo(1, 1)
    for (const [a, b] of lines) {
      const [u, v] = [(a[0] + b[0]) / 2 - x, (a[1] + b[1]) / 2 - y]
      expect(u > w / 4 + 1e-9 && u < w / 2 - 1e-9 && v > h / 4 + 1e-9 && v < h / 2 - 1e-9).toBe(false)
    }
  }
})

test('a simplified line keeps its ends, also where it runs back over itself, and nothing lies farther off than allowed (seed 8)', () => {
  const back: Flat[] = [
    [5, 0],
    [10, 0],
    [0, 0],
    [5, 0],
  ]
  expect(simplified(back, 0.1)).toEqual(back)
  const random = seeded(8)
  let left = 0
  for (let round = 0; round < 100; round++) {
    const line = Array.from({ length: 60 }, (_, i): Flat => [i, 3 * Math.sin(i / 6) + random.real(-0.05, 0.05)])
    const short = simplified(line, 0.2)
    left += short.length
    for (const [x, y] of line) {
      const k = short.findIndex((p, i) => i > 0 && p[0] >= x)
      const [a, b] = [short[Math.max(0, k - 1)], short[k]]
      const off =
        Math.abs((b[0] - a[0]) * (y - a[1]) - (b[1] - a[1]) * (x - a[0])) / Math.hypot(b[0] - a[0], b[1] - a[1])
      expect(off).toBeLessThanOrEqual(0.2 + 1e-9)
    }
  }
  expect(left).toBeLessThan(100 * 30)
})

describe('numbers of keep-outs', () => {
  const keepOut = (name: string, at: Vec3): DrawnThing => ({ ...box(name, at, [30, 30, 30]), role: 'body' })
  const row = Array.from({ length: 40 }, (_, i) => keepOut(`bit ${i}`, [-200, 35 * (i - 20), 0]))
  const numbered = (all: readonly DrawnThing[]) => all.map(({ name }, i) => ({ name, text: String(i + 1) }))

  test.each([10, 20])('at 1 : %d each is in the drawing or told to be missing, and none is both', (scale) => {
    const { figure, untold } = labelledOf('first-angle', scale, 277, row, numbered(row))
    expect(figure.scale?.real).toBe(scale)
    const shown = new Set(figure.items.flatMap((item) => (item.kind === 'text' && item.bold ? [item.text] : [])))
    expect([...shown, ...untold.numbers].sort()).toEqual(
      numbered(row)
        .map(({ text }) => text)
        .sort(),
    )
    // Forty rings of 4.6 mm do not go into views of 70 mm by 12.
    expect(untold.numbers.length > 0).toBe(scale === 20)
  })

  test('none is missing where there is room', () => {
    const few = row.slice(0, 3)
    const { figure, untold } = labelledOf('third-angle', 20, 277, few, numbered(few))
    expect(untold).toEqual({ gaps: [], numbers: [] })
    expect(figure.items.some((item) => item.kind === 'text' && item.text === '3')).toBe(true)
  })
})
