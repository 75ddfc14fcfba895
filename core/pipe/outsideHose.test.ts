import { expect, test } from 'vitest'
import { seeded } from '../../test/kit/random.ts'
import type { ClampPlace } from '../bay/joints.ts'
import { clearance } from '../clearance/clearance.ts'
import { roundCorners } from '../shape/centreline.ts'
import type { Form } from '../shape/form.ts'
import { solidFrom } from '../shape/solid.ts'
import type { Vec3 } from '../shape/vec.ts'
import { outsideHose } from './outsideHose.ts'
import { toolAt } from './toolAt.ts'

const tool = { diameter: 10, length: 90 }
const place: ClampPlace = {
  on: 'pipe',
  clamp: { id: 'worm', name: 'Worm drive', least: 40, most: 60, band: 9, height: 8, tool },
  at: [10, 20, 30],
  axis: [0, 1, 0],
  screw: null,
  closesOn: 50,
  hoseDiameter: 50,
  along: 10,
}
const cylinder = (from: Vec3, to: Vec3, radius: number): Form => ({
  form: 'convex',
  body: { kind: 'cylinder', from, to, radius },
})

test('what is left out never comes nearer to a tool than is asked (seed 43)', () => {
  const random = seeded(43)
  let [left, kept] = [0, 0]
  for (let round = 0; round < 300; round++) {
    const end = (y: number): Vec3 => [10 + random.real(-8, 8), 20 + y, 30 + random.real(-8, 8)]
    const radius = random.real(14, 24)
    const need = random.real(0, 4)
    const solid = solidFrom([cylinder(end(random.real(-40, 0)), end(random.real(1, 150)), radius)])
    if (outsideHose(solid, place, tool.diameter / 2 + need, need)) kept++
    else {
      left++
      for (let roll = 0; roll < 360; roll += 15)
        for (const side of [1, -1] as const)
          expect(clearance(toolAt(place, tool, roll, side), solid).atMost).toBeGreaterThanOrEqual(need - 1e-9)
    }
  }
  expect(left).toBeGreaterThan(40)
  expect(kept).toBeGreaterThan(40)
})

test('of a bent pipe its arc stays: the straights lie in the hose, and beyond the slab', () => {
  const made = roundCorners(
    [
      [10, 15, 30],
      [10, 120, 30],
      [200, 120, 30],
    ],
    60,
  )
  const centreline = made.ok ? made.value : []
  const solid = solidFrom([{ form: 'round', centreline, radius: 22 }])
  const rest = outsideHose(solid, place, 5, 0)
  expect(rest?.forms).toEqual([{ form: 'round', centreline: centreline.slice(1, 2), radius: 22 }])
})

test('something that is not in the hose comes back as it is', () => {
  const solid = solidFrom([cylinder([10, -100, 80], [10, 100, 80], 20)])
  expect(outsideHose(solid, place, 5, 0)).toBe(solid)
  const crossing = solidFrom([cylinder([-90, 20, 30], [110, 20, 30], 20)])
  expect(outsideHose(crossing, place, 5, 0)).toBe(crossing)
})
