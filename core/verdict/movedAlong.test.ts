import { describe, expect, test } from 'vitest'
import { type Random, seeded } from '../../test/kit/random.ts'
import type { Form, Solid } from '../shape/form.ts'
import { movedSolid } from '../shape/moved.ts'
import { boxPolytope } from '../shape/polytope.ts'
import { solidFrom } from '../shape/solid.ts'
import { add, distance, identity, type Pose, scale, type Vec3 } from '../shape/vec.ts'
import { type Motion, movedPoint, stray } from './movedAlong.ts'

const poseOf = (random: Random): Pose => ({ turn: random.turn(), at: random.point(500) })
const motionOf = (random: Random): Motion => ({ from: poseOf(random), to: poseOf(random) })

const pose: Pose = { turn: identity, at: [0, 0, 0] }
const still: Motion = { from: pose, to: pose }

function boxForm(centre: Vec3, size: Vec3): Form {
  const body = boxPolytope(centre, size)
  if (!body.ok) throw new Error('a box of three positive sizes has a solid')
  return { form: 'convex', body: body.value }
}
const rod = (from: Vec3, to: Vec3, radius: number): Form => ({
  form: 'convex',
  body: { kind: 'cylinder', from, to, radius },
})

/** A box and a rod, anywhere within 300 mm. */
function anySolid(random: Random): Solid {
  const from = random.point(300)
  return solidFrom([
    boxForm(random.point(300), [random.size(1, 300), random.size(1, 300), random.size(1, 300)]),
    rod(from, add(from, scale(random.unit(), random.size(2, 300))), random.size(1, 40)),
  ])
}

/** The same motion as one pose, so that the solid can be moved by the code that moves solids elsewhere. */
function asPose(motion: Motion): Pose {
  const at = movedPoint(motion, [0, 0, 0])
  const column = (axis: Vec3) => add(movedPoint(motion, axis), scale(at, -1))
  const [x, y, z] = [column([1, 0, 0]), column([0, 1, 0]), column([0, 0, 1])]
  return { turn: [x[0], y[0], z[0], x[1], y[1], z[1], x[2], y[2], z[2]], at }
}

describe('how far a solid strays from being moved along', () => {
  test('one that was moved: by rounding only, so that its gaps may be kept', () => {
    const random = seeded(71)
    for (let i = 0; i < 200; i++) {
      const motion = motionOf(random)
      const before = anySolid(random)
      expect(stray(before, movedSolid(before, asPose(motion)), motion)).toBeLessThan(1e-8)
    }
  })

  // A disc about c square to n holds c + r·u for every unit u square to n: points of both rims, held against each other.
  test('a rod that was bent out of its way: no rim point is farther off than is said', () => {
    const random = seeded(72)
    for (let i = 0; i < 400; i++) {
      const [l, r, d] = [random.size(5, 200), random.size(1, 50), random.size(1e-6, 1)]
      const end: Vec3 = add([0, 0, l], scale(random.unit(), d))
      const by = stray(solidFrom([rod([0, 0, 0], [0, 0, l], r)]), solidFrom([rod([0, 0, 0], end, r)]), still)
      // The rim of the tilted end disc in the plane of the tilt, and its nearest point on the upright one.
      const tilt = Math.atan2(Math.hypot(end[0], end[1]), end[2])
      const [ux, uy] = tilt === 0 ? [1, 0] : [end[0] / Math.hypot(end[0], end[1]), end[1] / Math.hypot(end[0], end[1])]
      for (const way of [1, -1]) {
        const rim: Vec3 = [
          end[0] + way * r * Math.cos(tilt) * ux,
          end[1] + way * r * Math.cos(tilt) * uy,
          end[2] - way * r * Math.sin(tilt),
        ]
        const out = Math.hypot(rim[0], rim[1])
        const [inR, inZ] = [Math.min(out, r), Math.min(Math.max(rim[2], 0), l)]
        const nearest: Vec3 = [(rim[0] * inR) / out, (rim[1] * inR) / out, inZ]
        expect(distance(rim, nearest)).toBeLessThanOrEqual(by + 1e-12)
      }
    }
  })

  test('others: as far as their farthest corner, radius or make is off', () => {
    const box = solidFrom([boxForm([0, 0, 0], [10, 10, 10])])
    expect(stray(box, solidFrom([boxForm([0, 0, 0], [10, 10, 12])]), still)).toBe(1)
    expect(stray(box, box, { from: pose, to: { ...pose, at: [3, 0, 4] } })).toBe(5)
    const thin = solidFrom([rod([0, 0, 0], [0, 0, 9], 2)])
    expect(stray(thin, solidFrom([rod([0, 0, 0], [0, 0, 9], 2.5)]), still)).toBe(0.5)
    expect(stray(box, thin, still)).toBe(Infinity)
    expect(stray(thin, box, still)).toBe(Infinity)
    expect(stray(box, solidFrom([...box.forms, ...thin.forms]), still)).toBe(Infinity)
    const plane = solidFrom([{ form: 'halfSpace', point: [0, 0, 0], normal: [0, 0, 1] }])
    expect(stray(plane, plane, still)).toBe(Infinity)
  })
})
