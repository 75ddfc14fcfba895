import { expect, test } from 'vitest'
import { block, cooler } from '../../../test/kit/seatBays.ts'
import { tinyBay } from '../../../test/kit/tinyBay.ts'
import { drawing, drawnThings } from './drawing.ts'
import { areaOf } from './region.ts'
import { views } from './view.ts'

const beam = block('beam', [-120, -80], [-500, 500], [0, 60])
const bay = tinyBay(
  [beam, { ...block('cover', [-200, -190], [-500, 500], [-200, 200]), fitting: 'comes-off' }],
  cooler(80, 400, 200),
)

test('a candidate among its keep-outs: true sizes, a beam before the core, a cover that is off drawn through', () => {
  const things = drawnThings(bay, bay.candidates[0], new Map())
  if (!things.ok) throw new Error(JSON.stringify(things.faults))
  const { lines, outlines, frame } = drawing(things.value, views.front)
  const area = (name: string) => areaOf(outlines.find((each) => each.name === name)?.loops ?? [])
  expect(area('core')).toBeCloseTo(400 * 200, 4)
  // A tank seen from the front: 70 long, 200 high at its foot and 0.6 of that at its end.
  expect(area('tank-left')).toBeCloseTo((70 * (200 + 120)) / 2, 4)
  expect(area('beam')).toBeCloseTo(1000 * 60, 4)
  expect(frame).toEqual({ min: [-500, -200], max: [500, 200] })
  const looks = (name: string) => new Set(lines.filter((line) => line.name === name).map(({ look }) => look))
  expect(looks('cover')).toEqual(new Set(['beside']))
  expect(looks('core')).toEqual(new Set(['seen', 'hidden']))
})

test('what is left out for a look is not drawn, and what cannot be made is a fault', () => {
  const without = { ...bay, keepOuts: [{ ...beam, enabled: false }] }
  const things = drawnThings(without, without.candidates[0], new Map())
  expect(things.ok && things.value.some(({ name }) => name === 'beam')).toBe(false)
  const shell = { ...beam, shape: { kind: 'mesh' as const, file: 'none.stl', unit: 'mm' as const } }
  const lost = drawnThings({ ...bay, keepOuts: [shell] }, bay.candidates[0], new Map())
  expect(lost.ok ? [] : lost.faults.map(({ code }) => code)).toEqual(['mesh-missing'])
})
