import { expect, test } from 'vitest'
import type { PipeBends } from '../../../core/pipe/answer.ts'
import { tableRows, tableText } from './tableRows.ts'

const bent = (more: Partial<PipeBends>): PipeBends => ({
  id: 'hot',
  name: 'Hot side',
  outsideDiameter: 57,
  wall: 1.6,
  bendRadius: 57,
  dOfBend: 1,
  material: null,
  bender: null,
  makeable: true,
  tubes: [],
  elbows: [],
  table: [
    { length: 60, rotation: 0, angle: 45, radius: 57 },
    { length: 80, rotation: -90, angle: 90, radius: 57 },
    { length: 70, rotation: 30, angle: 30, radius: 60 },
    { length: 50 },
  ],
  corners: [1, 2, 3],
  straights: [],
  arcs: [],
  developed: 0,
  cut: 0,
  joints: [],
  reasons: [],
  notes: [],
  loss: null,
  ...more,
})
const tube = (setAngles: readonly number[] | null, bends: number) => ({
  table: [],
  straights: [],
  arcs: Array.from({ length: bends }, () => 1),
  developed: 0,
  cut: 0,
  setAngles,
})

test('an angle to set stands beside the bend that it belongs to, also past a welded elbow', () => {
  const rows = tableRows(
    bent({
      tubes: [tube([46], 1), tube([31], 1)],
      elbows: [{ point: 2, elbow: 'cast-90', angle: 90, cutDown: false }],
    }),
    'mm',
  )
  expect(rows.map(({ set }) => set)).toEqual(['46.0°', null, '31.0°', null])
  expect(rows.map(({ elbow }) => elbow)).toEqual([null, 'cast-90', null, null])
})

test('without spring-back there is nothing to set; the first bend has no rotation, the end only a length', () => {
  const rows = tableRows(bent({ tubes: [tube(null, 3)] }), 'mm')
  expect(rows.every(({ set }) => set === null)).toBe(true)
  expect(rows[0].rotation).toBeNull()
  expect(rows[1].rotation).toBe('−90.0°')
  expect(rows[3]).toMatchObject({ name: 'end', length: '50.0', angle: null, radius: null })
})

test('goes to the clipboard as lines with tabs', () => {
  expect(tableText(tableRows(bent({ tubes: [tube([46, 92, 31], 3)] }), 'mm'))).toBe(
    [
      'Bend\tLength\tRotation\tAngle\tRadius\tSet',
      '1\t60.0\t\t45.0°\t57\t46.0°',
      '2\t80.0\t−90.0°\t90.0°\t57\t92.0°',
      '3\t70.0\t30.0°\t30.0°\t60\t31.0°',
      'end\t50.0',
    ].join('\n'),
  )
})
