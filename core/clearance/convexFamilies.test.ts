import { describe, expect, it } from 'vitest'
import { type Body, corners, farthest, outsideBy } from '../../test/kit/bodies.ts'
import { carried, families } from '../../test/kit/bodyFamilies.ts'
import { plainDistance } from '../../test/kit/plainDistance.ts'
import { seeded } from '../../test/kit/random.ts'
import type { Solid } from '../shape/form.ts'
import { scale, type Vec3 } from '../shape/vec.ts'
import { convexConvex } from './convexConvex.ts'
import { meetingPoint, recentred } from './recentred.ts'

const runs = 1500

/** Largest coordinate in a pair, as it is asked: what rounding, and so the allowed error, is counted from. */
const sizeOf = (...bodies: Body[]): number => Math.max(...bodies.flatMap((b) => axes.map((n) => farthest(b, n))))
const axes: Vec3[] = [
  [1, 0, 0],
  [-1, 0, 0],
  [0, 1, 0],
  [0, -1, 0],
  [0, 0, 1],
  [0, 0, -1],
]

function solidOf(body: Body): Solid {
  const reach = (n: Vec3) => farthest(body, n)
  return {
    forms: [{ form: 'convex', body }],
    bounds: {
      min: [-reach([-1, 0, 0]), -reach([0, -1, 0]), -reach([0, 0, -1])],
      max: [reach([1, 0, 0]), reach([0, 1, 0]), reach([0, 0, 1])],
    },
    open: false,
  }
}

/** As the front door does it: carried to where the two meet. */
function asked(a: Body, b: Body): [Body, Body] {
  const centre = meetingPoint(solidOf(a), solidOf(b))
  const bring = (body: Body): Body => {
    const form = recentred({ form: 'convex', body }, centre)
    return form.form === 'convex' ? form.body : body
  }
  return [bring(a), bring(b)]
}

/** A small body about a cylinder's axis, or two axes almost the same: deep alike all round, where the search ends early. */
const evenlyDeep = /contained|nearly coaxial/

const tally = (name: string, share: Record<string, number>, key: string): void => {
  share[`${name} ${key}`] = (share[`${name} ${key}`] ?? 0) + 1
}

/**
 * Each pair three ways: the witnesses must lie on their solids (so the gap is no more than atMost), a plane square to
 * them or the features tried one by one must agree (so it is no less than atLeast), and the two may not be far apart.
 */
describe(`hard families of convex pairs, ${runs} each`, () => {
  for (const far of [0, 1e5, 1e7])
    for (const [name, family] of Object.entries(families)) {
      if (far > 0 && name === 'one ulp apart') continue
      it(`${name}${far ? `, carried ${far} mm off` : ''} (seed ${3300 + far / 1e5})`, () => {
        const random = seeded(3300 + far / 1e5)
        const share = far > 0 || name === 'nearly coaxial cylinders' ? 0.2 : 1
        for (let i = 0; i < share * runs; i++) {
          const pair = far ? carried(family(random), scale(random.unit(), far)) : family(random)
          const [a, b] = asked(...pair)
          checkPair(a, b, far, `${name} ${i}`)
        }
      })
    }

  function checkPair(a: Body, b: Body, far: number, label: string): void {
    const size = sizeOf(a, b)
    const got = convexConvex({ form: 'convex', body: a }, { form: 'convex', body: b }, {})
    // Bodies carried far off were rounded there, and are no longer quite what their planes say.
    const slack = 1e-9 + 1e-11 * size + 2 ** -51 * far
    expect(got.stopped, label).toBe('converged')
    expect(got.atMost - got.atLeast, label).toBeLessThan(1e-9 + 1e-11 * size)
    expect(outsideBy(a, got.onPart), label).toBeLessThan(slack)
    expect(outsideBy(b, got.onKeepOut), label).toBeLessThan(slack)
    const { overlap } = got
    if (overlap) {
      const depthWidth = (overlap.depthAtMost as number) - overlap.depthAtLeast
      expect(depthWidth, label).toBeGreaterThanOrEqual(0)
      expect(depthWidth, label).toBeLessThan(evenlyDeep.test(label) ? 5e-5 : 1e-6 + 4e-9 * size + slack)
      // A plane in the direction given parts them after that shift: no deeper than atMost.
      const n = overlap.direction as Vec3
      expect(farthest(a, scale(n, -1)) + farthest(b, n), label).toBeLessThan((overlap.depthAtMost as number) + slack)
    }
    if (a.kind === 'polytope' && b.kind === 'polytope') {
      const plain = plainDistance(a, b).gap
      expect(got.atMost, label).toBeGreaterThan(Math.max(plain, 0) - slack)
      expect(got.atLeast, label).toBeLessThan(Math.max(plain, 0) + slack)
      if (plain < -slack) expect(overlap, label).toBeDefined()
      if (overlap && plain < 0) {
        expect(overlap.depthAtLeast, label).toBeLessThan(slack - plain)
        expect(overlap.depthAtMost as number, label).toBeGreaterThan(-plain - slack)
      }
    } else if (!overlap && got.atLeast > 1e-3) {
      const [p, q] = [got.onPart, got.onKeepOut]
      const n: Vec3 = [(q[0] - p[0]) / got.atMost, (q[1] - p[1]) / got.atMost, (q[2] - p[2]) / got.atMost]
      // Written apart: the plane square to the witnesses has nothing of either solid beyond it but what the error allows.
      expect(-farthest(b, scale(n, -1)) - farthest(a, n), label).toBeGreaterThan(got.atLeast - 1e-4 * (1 + size / 1e4))
    }
  }
})

describe('the random pairs are a fair mix', () => {
  it('of two generic bodies 30 to 70 % overlap; of those apart at least 5 % are nearest edge to edge (seed 3300)', () => {
    const random = seeded(3300)
    const share: Record<string, number> = {}
    let polytopes = 0
    for (let i = 0; i < runs; i++) {
      const [a, b] = families.generic(random)
      if (a.kind !== 'polytope' || b.kind !== 'polytope') continue
      polytopes++
      expect(corners(a).length).toBeGreaterThanOrEqual(4)
      tally('kind', share, plainDistance(a, b).kind)
    }
    expect(share['kind overlap'] / polytopes).toBeGreaterThan(0.3)
    expect(share['kind overlap'] / polytopes).toBeLessThan(0.7)
    expect(share['kind edge–edge'] / polytopes).toBeGreaterThan(0.05)
    expect(share['kind corner–face'] / polytopes).toBeGreaterThan(0.05)
  })
})
