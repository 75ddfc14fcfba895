import { expect, test } from 'vitest'
import type { Figure } from '../../../core/sheet/figure/figure.ts'
import { ezdxfThere, readDxf } from '../../../test/kit/readDxf.ts'
import { figureDxf } from './figureDxf.ts'

const sample: Figure = {
  id: 'sample',
  width: 120,
  height: 80,
  scale: { paper: 1, real: 1 },
  items: [
    {
      kind: 'line',
      stroke: 'cut',
      closed: true,
      points: [
        [10, 10],
        [110, 10],
        [110, 70],
        [10, 70],
      ],
    },
    {
      kind: 'line',
      stroke: 'fold',
      points: [
        [10, 40],
        [110, 40],
      ],
    },
    {
      kind: 'line',
      stroke: 'cut',
      closed: true,
      points: [[60, 20]],
      round: { centre: [60, 25], major: [8, 0], share: 1 },
    },
    {
      kind: 'line',
      stroke: 'cut',
      closed: true,
      points: [[60, 60]],
      round: { centre: [60, 55], major: [6, -8], share: 0.5 },
    },
    { kind: 'text', at: [60, 30], text: 'Øé ⌀57 ± ½ 90%%d ^A', size: 3.5, anchor: 'middle', turn: 30 },
    {
      kind: 'area',
      fill: 'ink',
      loops: [
        [
          [20, 20],
          [22, 20],
          [21, 22],
        ],
      ],
    },
    {
      kind: 'dimension',
      of: 'width',
      value: 100,
      quantity: 'mm',
      from: [10, 70],
      to: [110, 70],
      line: [
        [10, 76],
        [110, 76],
      ],
      text: '100.0',
      textAt: [60, 75],
      textSize: 3.5,
      turn: 0,
    },
  ],
}

test('the same figure gives the same bytes', () => {
  expect(figureDxf(sample)).toBe(figureDxf(sample))
})

test.skipIf(!ezdxfThere)(
  'an independent reader (ezdxf) finds nothing wrong, millimetres, and every line in its place and layer',
  () => {
    const { errors, units, version, items } = readDxf(figureDxf(sample))
    expect(errors).toEqual([])
    expect([units, version]).toEqual([4, 'AC1021'])
    const of = (type: string, layer: string) =>
      items.filter((item: { type: string; layer: string }) => item.type === type && item.layer === layer)
    expect(of('LWPOLYLINE', 'CUT')).toEqual([
      expect.objectContaining({
        closed: true,
        points: [
          [10, 70],
          [110, 70],
          [110, 10],
          [10, 10],
        ],
      }),
    ])
    expect(of('LINE', 'BEND')[0].points).toEqual([
      [10, 40],
      [110, 40],
    ])
    expect(of('CIRCLE', 'CUT')).toEqual([expect.objectContaining({ centre: [60, 55], radius: 8 })])
    expect(of('ELLIPSE', 'CUT')).toEqual([expect.objectContaining({ centre: [60, 25], major: [6, 8], share: 0.5 })])
    // What begins signs of DXF's own is parted: a reader shows it as it was written.
    expect(of('TEXT', 'TEXT')).toEqual([
      expect.objectContaining({ text: 'Øé ⌀57 ± ½ 90% %d ^A', height: 3.5, turn: 30 }),
    ])
    expect(of('TEXT', 'DIMENSION')[0].text).toBe('100.0')
    expect(of('LINE', 'DIMENSION')).toHaveLength(3)
  },
)

test.skipIf(!ezdxfThere)('a drawing at 1 : 5 goes out at true size', () => {
  const { items } = readDxf(figureDxf({ ...sample, scale: { paper: 1, real: 5 } }))
  const [outline] = items.filter(({ type, layer }) => type === 'LWPOLYLINE' && layer === 'CUT')
  expect(outline.points?.[2]).toEqual([550, 50])
})
