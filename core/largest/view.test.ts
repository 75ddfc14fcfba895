import { expect, test } from 'vitest'
import { seeded } from '../../test/kit/random.ts'
import { distance, type Vec3 } from '../shape/vec.ts'
import { View } from './view.ts'

test('500 points: over a range of tilts a point stays within its stray of the straight way it is taken to move (seed 31)', () => {
  const random = seeded(31)
  let used = 0
  for (let run = 0; run < 500; run++) {
    const others: [number, number] = random.chance(0.5) ? [0, 0] : [random.real(-20, 20), random.real(-20, 20)]
    const half = random.size(0.01, 10)
    const view = new View(random.point(300), others, random.real(-45, 45), half)
    const point = random.point(500)
    const [seen, motion] = [view.seen(point), view.motionOf(point)]
    const stray = view.strayOf(point)
    let most = 0
    for (let i = 0; i <= 20; i++) {
      const by = view.half * (i / 10 - 1)
      const taken: Vec3 = [0, 1, 2].map((k) => seen[k] + by * motion[k]) as unknown as Vec3
      most = Math.max(most, distance(view.at(by).seen(point), taken))
    }
    expect(most).toBeLessThanOrEqual(stray + 1e-10)
    if (most > 0.9 * stray) used++
  }
  // The bound is no larger than it has to be: at the ends of small ranges it is nearly reached.
  expect(used).toBeGreaterThan(300)
})

test('a view without range is itself at its own tilt, and poses agree with what is seen', () => {
  const view = new View([10, 0, -20], [0, 0], 7)
  expect(view.at(0)).toBe(view)
  const { at } = view.poseAt([3, 4, 5])
  expect(distance(view.seen(at), [3, 4, 5])).toBeLessThan(1e-12)
})
