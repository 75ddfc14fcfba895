import { describe, expect, test } from 'vitest'
import { emptyBay } from '../../../core/bay/emptyBay.ts'
import { freshKeepOut, freshShape } from '../../../core/bay/freshKeepOut.ts'
import { checkBay } from '../../../core/bay/read.ts'
import type { Bay, KeepOut } from '../../../core/bay/schema.ts'
import type { FigureSpec } from '../editors/figure.ts'
import { fieldAt, withField } from '../state/edit.ts'
import { boxGroups, cylinderGroups, meshGroups, roundGroup } from './shapeGroups.ts'

const base = { of: 'Thing', path: ['keepOuts', 0, 'shape'] }

function bayWith(shape: KeepOut['shape']): Bay {
  const bay = emptyBay('Test', 'somewhere', '', 'mm')
  return { ...bay, keepOuts: [freshKeepOut(bay, shape, 'Thing')] }
}
const valueIn = (bay: Bay, { read, path }: FigureSpec) => (read ? read(bay) : (fieldAt(bay, path) as number))
const entered = (bay: Bay, { apply, path }: FigureSpec, value: number) =>
  apply ? apply(bay, value) : withField(bay, path, value)
const figure = (groups: readonly { figures: readonly FigureSpec[] }[], group: number, k: number) =>
  groups[group].figures[k]

const turnedBox: KeepOut['shape'] = { kind: 'box', at: [10, 20, 30], size: [4, 6, 8], turn: [10, 20, 30] }

describe('figures of shapes', () => {
  test.each([
    ['box by its centre', turnedBox, boxGroups(base, 0, 'centre')],
    ['box by its corner', turnedBox, boxGroups(base, 0, 'corner')],
    ['cylinder', freshShape('cylinder', 'mm', [1, 2, 3]), cylinderGroups(base, 0)],
    ['tube', freshShape('tube', 'mm', [1, 2, 3]), [roundGroup(base, 0, 'tube')]],
    ['mesh', { kind: 'mesh', file: 'a.stl', unit: 'mm' } as const, meshGroups(base, 0)],
  ])('%s: what is entered is what is read, and nothing else of its group changes', (_, shape, groups) => {
    const bay = bayWith(shape)
    for (const { figures } of groups)
      for (const [k, spec] of figures.entries()) {
        const before = valueIn(bay, spec)!
        const after = entered(bay, spec, before + 1)
        expect(valueIn(after, spec)).toBeCloseTo(before + 1, 9)
        expect(checkBay(after).ok).toBe(true)
        // Radius and diameter are one thing.
        if (figures.length === 3 && !figures.some(({ label }) => label === 'Radius'))
          for (const other of figures.filter((_one, i) => i !== k))
            expect(valueIn(after, other)).toBeCloseTo(valueIn(bay, other)!, 9)
      }
  })

  test('a box held by its corner keeps it while it grows, one held by its centre keeps that', () => {
    const bay = bayWith(turnedBox)
    const byCorner = boxGroups(base, 0, 'corner')
    const corner = (of: Bay) => [0, 1, 2].map((k) => valueIn(of, figure(byCorner, 0, k)))
    const grown = entered(bay, figure(byCorner, 1, 0), 40)
    corner(grown).forEach((x, k) => {
      expect(x).toBeCloseTo(corner(bay)[k]!, 9)
    })
    const fromMiddle = entered(bay, figure(boxGroups(base, 0, 'centre'), 1, 0), 40)
    expect(fieldAt(fromMiddle, ['keepOuts', 0, 'shape', 'at'])).toEqual([10, 20, 30])
  })

  test('a turn of noughts is none', () => {
    const bay = bayWith({ kind: 'box', at: [0, 0, 0], size: [1, 1, 1] })
    const about = figure(boxGroups(base, 0, 'centre'), 2, 2)
    const turned = entered(bay, about, 30)
    expect(fieldAt(turned, ['keepOuts', 0, 'shape', 'turn'])).toEqual([0, 0, 30])
    expect(entered(turned, about, 0)).toEqual(bay)
  })

  test('a diameter is twice the radius', () => {
    const bay = bayWith(freshShape('cylinder', 'mm', [0, 0, 0]))
    const group = roundGroup(base, 0, 'cylinder')
    expect(fieldAt(entered(bay, group.figures[0], 57), ['keepOuts', 0, 'shape', 'radius'])).toBe(28.5)
  })
})
