import { expect, test } from 'vitest'
import { seeded } from '../../test/kit/random.ts'
import { clearance } from '../clearance/clearance.ts'
import { roundCorners } from '../shape/centreline.ts'
import type { Form, Piece } from '../shape/form.ts'
import { hullPolytope } from '../shape/hull.ts'
import { solidFrom } from '../shape/solid.ts'
import { add, cross, scale, unit, type Vec3 } from '../shape/vec.ts'
import { enclosures } from './enclose.ts'

const speck = (at: Vec3) =>
  solidFrom([{ form: 'convex', body: { kind: 'cylinder', from: at, to: add(at, [0, 0, 2e-6]), radius: 1e-6 } }])

function someForm(random: ReturnType<typeof seeded>, run: number): Form {
  const radius = random.real(4, 40)
  if (run % 2 === 0)
    return { form: 'convex', body: { kind: 'cylinder', from: random.point(200), to: random.point(200), radius } }
  const bend = random.real(1.2, 3) * radius
  const points: Vec3[] = [[0, 0, 0], [0, 0, 300], add([0, 0, 300], scale(random.unit(), 300))]
  const line = roundCorners(points, bend, { radius })
  // A corner too sharp for its legs is left straight.
  const centreline = line.ok ? line.value : [{ kind: 'straight', from: points[0], to: points[1] } as const]
  return { form: 'round', centreline, radius }
}

/** A point on the disc's rim or within it, at a place of the centreline. */
function pointIn(piece: Piece, radius: number, random: ReturnType<typeof seeded>): Vec3 {
  const share = random.real(0, 1)
  const off = radius * (random.chance(0.5) ? 1 : Math.sqrt(random.real(0, 1)))
  if (piece.kind === 'straight') {
    const way = unit(piece.to.map((x, k) => x - piece.from[k]) as unknown as Vec3)
    const side = unit(cross(way, random.unit()))
    return piece.from.map((x, k) => x + share * (piece.to[k] - x) + off * side[k]) as unknown as Vec3
  }
  const { centre, x, y, angle } = piece
  const [c, s] = [Math.cos(share * angle), Math.sin(share * angle)]
  const out: Vec3 = [0, 1, 2].map((k) => c * x[k] + s * y[k]) as unknown as Vec3
  const axis = cross(x, y)
  const turn = random.real(0, 2 * Math.PI)
  return [0, 1, 2].map(
    (k) => centre[k] + (piece.radius + off * Math.cos(turn)) * out[k] + off * Math.sin(turn) * axis[k],
  ) as unknown as Vec3
}

test('40 cylinders and bent tubes: every point of them lies in a piece, and no piece reaches out farther than it says (seed 8)', () => {
  const random = seeded(8)
  let bends = 0
  for (let run = 0; run < 40; run++) {
    const form = someForm(random, run)
    const real = solidFrom([form])
    const pieces = enclosures(form)
    const hulls = pieces.map(({ points }) => {
      const body = hullPolytope(points)
      if (!body.ok) throw new Error(JSON.stringify(body.faults))
      return solidFrom([{ form: 'convex', body: body.value }])
    })
    for (const { points, excess } of pieces) {
      expect(excess).toBeLessThan(0.3)
      for (let k = 0; k < 12; k++) {
        const corner = points[random.int(points.length)]
        expect(clearance(speck(corner), real, { depth: false }).atMost).toBeLessThanOrEqual(excess + 1e-5)
      }
    }
    const centreline: readonly Piece[] =
      form.form === 'round'
        ? form.centreline
        : form.form === 'convex' && form.body.kind === 'cylinder'
          ? [{ kind: 'straight', from: form.body.from, to: form.body.to }]
          : []
    const radius =
      form.form === 'round'
        ? form.radius
        : form.form === 'convex' && form.body.kind === 'cylinder'
          ? form.body.radius
          : 0
    if (centreline.length > 1) bends++
    for (let k = 0; k < 30; k++) {
      const point = pointIn(centreline[random.int(centreline.length)], radius, random)
      const nearest = Math.min(...hulls.map((hull) => clearance(speck(point), hull, { depth: false }).atMost))
      expect(nearest).toBeLessThan(1e-5)
    }
  }
  expect(bends).toBeGreaterThan(10)
})
