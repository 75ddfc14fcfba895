import { expect, test } from 'vitest'
import { seeded } from '../../test/kit/random.ts'
import { boxPolytope } from './polytope.ts'
import { boxCorner, centreFromCorner } from './boxCorner.ts'
import { distance, turnMatrix, type Vec3 } from './vec.ts'

test('of a box along the axes: centre less half of each size', () => {
  expect(boxCorner({ at: [10, 20, 30], size: [2, 4, 6] })).toEqual([9, 18, 27])
  expect(centreFromCorner([9, 18, 27], [2, 4, 6])).toEqual([10, 20, 30])
})

test('of any box it is one of its corners, and leads back to the centre (seed 85)', () => {
  const random = seeded(85)
  for (let round = 0; round < 200; round++) {
    const at = random.point(500)
    const size: Vec3 = [random.real(1, 300), random.real(1, 300), random.real(1, 300)]
    const turn: Vec3 = [random.real(-180, 180), random.real(-90, 90), random.real(-180, 180)]
    const corner = boxCorner({ at, size, turn })
    const body = boxPolytope(at, size, turnMatrix(turn))
    if (!body.ok) throw new Error('no box')
    const { vertices } = body.value
    const nearest = Math.min(
      ...Array.from({ length: 8 }, (_, i) =>
        distance(corner, [vertices[3 * i], vertices[3 * i + 1], vertices[3 * i + 2]]),
      ),
    )
    expect(nearest).toBeLessThan(1e-9)
    expect(distance(centreFromCorner(corner, size, turn), at)).toBeLessThan(1e-9)
  }
})
