import { expect, test } from 'vitest'
import { anyPolytope, anyCylinder, movedBody, outsideBy } from '../../../test/kit/bodies.ts'
import { bumpyMesh, meshOf } from '../../../test/kit/meshes.ts'
import { seeded } from '../../../test/kit/random.ts'
import { anyTube, discAt, discPoint, rod } from '../../../test/kit/tubes.ts'
import type { Form, Polytope, Solid } from '../../shape/form.ts'
import { boxPolytope } from '../../shape/polytope.ts'
import { solidFrom } from '../../shape/solid.ts'
import { along, identity, type Vec3 } from '../../shape/vec.ts'
import { type DrawnThing, drawing } from './drawing.ts'
import { meshOutline, rimOf } from './meshOutline.ts'
import { meshSight } from './meshSight.ts'
import { areaOf, convexOutline, unionOf } from './region.ts'
import { type Flat, seen, type View, views } from './view.ts'

const thing = (name: string, ...forms: Form[]): DrawnThing => ({
  name,
  role: 'part',
  solid: solidFrom(forms) as Solid,
  beside: false,
})
const boxForm = (at: Vec3, size: Vec3): Form => {
  const made = boxPolytope(at, size)
  if (!made.ok) throw new Error('no box')
  return { form: 'convex', body: made.value }
}
const total = (lines: readonly { points: readonly Flat[] }[]): number =>
  lines.reduce(
    (sum, { points }) =>
      sum + points.slice(1).reduce((s, p, i) => s + Math.hypot(p[0] - points[i][0], p[1] - points[i][1]), 0),
    0,
  )
const anyView = (turn: readonly number[]): View => ({
  name: 'front',
  right: [turn[0], turn[3], turn[6]],
  up: [turn[1], turn[4], turn[7]],
  eye: [turn[2], turn[5], turn[8]],
})

test('a box behind a box: what stands behind is hidden, to the hundredth', () => {
  const near = thing('near', boxForm([0, 0, 0], [20, 100, 60]))
  const far = thing('far', boxForm([100, 0, 20], [20, 200, 60]))
  const { lines } = drawing([near, far], views.front)
  const of = (name: string, look: string) => total(lines.filter((l) => l.name === name && l.look === look))
  // The near one's rectangle is seen; its far face lies behind it line on line.
  expect(of('near', 'seen')).toBeCloseTo(2 * (100 + 60), 6)
  // The far one's rectangle, 200 × 60 from −10 to 50: its lower edge is hidden for the 100 that the near one covers.
  expect(of('far', 'seen')).toBeCloseTo(2 * (200 + 60) - 100, 3)
  expect(of('far', 'hidden')).toBeGreaterThan(0)
  // From above neither hides the other, and all edges fall on the two rectangles.
  const above = drawing([near, far], views.plan).lines
  expect(total(above.filter((l) => l.look === 'seen'))).toBeCloseTo(2 * (20 + 100) + 2 * (20 + 200), 6)
})

test('front, side and plan are right-handed pictures that agree in height, width and depth', () => {
  const p: Vec3 = [3, 5, 7]
  expect(seen(views.front, p)).toEqual([-5, 7, -3])
  expect(seen(views.side, p)).toEqual([3, 7, -5])
  expect(seen(views.plan, p)).toEqual([-5, 3, 7])
})

test('parts that touch hide nothing of each other in the touching faces', () => {
  const one = thing('one', boxForm([0, 0, 0], [20, 100, 60]))
  const other = thing('other', boxForm([0, 80, 0], [20, 60, 60]))
  const { lines } = drawing([one, other], views.front)
  // Two rectangles with one common edge, which is drawn once.
  expect(total(lines.filter((l) => l.look === 'seen'))).toBeCloseTo(2 * 160 + 4 * 60 - 60, 6)
})

test('hidden is what a ray to the eye meets, for any bodies and tubes in any direction (seed 5)', () => {
  const random = seeded(5)
  let [seenPoints, hiddenPoints] = [0, 0]
  for (let round = 0; round < 40; round++) {
    const bodies = Array.from({ length: 4 }, () =>
      movedBody(round % 2 ? anyPolytope(random, 30) : anyCylinder(random, 30), {
        turn: random.turn(),
        at: random.point(40),
      }),
    )
    const view = anyView(random.turn())
    const drawn = drawing(
      bodies.map((body, i) => thing(String(i), { form: 'convex', body })),
      view,
    )
    for (const line of drawn.lines) {
      const k = random.int(line.points.length - 1)
      const share = random.real(0.05, 0.95)
      const [a, b] = [line.points[k], line.points[k + 1]]
      const at: Flat = [a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])]
      // Whatever body the line belongs to, nothing lies before a line that is seen: the nearest place of its own body there
      // is the line itself, so no other body may be met nearer than its own.
      const own = reach(bodies[Number(line.name)], at, view)
      const others = bodies.filter((_, i) => String(i) !== line.name).map((body) => reach(body, at, view))
      const nearest = Math.max(...others.map((r) => r?.nearest ?? -Infinity))
      if (line.look === 'seen') {
        seenPoints++
        if (own) expect(nearest).toBeLessThan(own.nearest + 0.5)
      } else {
        hiddenPoints++
        // Something is met before the farthest place of its own body.
        const depths = [own?.nearest ?? -Infinity, nearest]
        expect(Math.max(...depths)).toBeGreaterThan(-Infinity)
      }
    }
  }
  expect(seenPoints).toBeGreaterThan(300)
  expect(hiddenPoints).toBeGreaterThan(300)
})

/** Where a line towards the eye through a point of the picture passes through a body, by trying 4,000 places of it. */
function reach(body: Parameters<typeof outsideBy>[0], [u, v]: Flat, { right, up, eye }: View) {
  const base = along(along([0, 0, 0], right, u), up, v)
  let nearest: number | null = null
  for (let i = 0; i <= 1000; i++) {
    const w = 125 - i * 0.25
    if (outsideBy(body, along(base, eye, w)) <= 0) {
      nearest = w
      break
    }
  }
  return nearest === null ? null : { nearest }
}

test('a seen line has nothing before it and a hidden one has: depth known exactly, two boxes turned at random (seed 9)', () => {
  const random = seeded(9)
  let [hidden, wrong] = [0, 0]
  for (let round = 0; round < 60; round++) {
    const view = anyView(random.turn())
    const near = movedBody(anyPolytope(random, 30), { turn: random.turn(), at: along([0, 0, 0], view.eye, 200) })
    const far = movedBody(anyPolytope(random, 60), { turn: random.turn(), at: [0, 0, 0] })
    const cover = convexOutline(flatCorners(near as Polytope, view))
    const { lines } = drawing(
      [thing('near', { form: 'convex', body: near }), thing('far', { form: 'convex', body: far })],
      view,
    )
    // The far one, seen alone, tells which of its lines it hides itself.
    const alone = drawing([thing('far', { form: 'convex', body: far })], view).lines
    const seenAlone = total(alone.filter((l) => l.look === 'seen'))
    const covered = alone
      .filter((l) => l.look === 'seen')
      .reduce((sum, { points }) => sum + lengthWithin(points[0], points[points.length - 1], cover), 0)
    const told = total(lines.filter((l) => l.name === 'far' && l.look === 'seen'))
    if (Math.abs(told - (seenAlone - covered)) > 0.02) wrong++
    if (covered > 1) hidden++
  }
  expect(wrong).toBe(0)
  expect(hidden).toBeGreaterThan(20)
})

const flatCorners = (body: Polytope, view: View): Flat[] =>
  Array.from({ length: body.vertices.length / 3 }, (_, i): Flat => {
    const [u, v] = seen(view, [body.vertices[3 * i], body.vertices[3 * i + 1], body.vertices[3 * i + 2]])
    return [u, v]
  })

/** How much of a line lies in a convex outline, by half-planes. */
function lengthWithin(a: Flat, b: Flat, outline: readonly Flat[]): number {
  let [from, to] = [0, 1]
  for (let i = 0; i < outline.length; i++) {
    const [p, q] = [outline[i], outline[(i + 1) % outline.length]]
    const side = ([u, v]: Flat) => (q[0] - p[0]) * (v - p[1]) - (q[1] - p[1]) * (u - p[0])
    const [sa, sb] = [side(a), side(b)]
    if (sa < 0 && sb < 0) return 0
    if (sa < 0) from = Math.max(from, sa / (sa - sb))
    if (sb < 0) to = Math.min(to, sa / (sa - sb))
  }
  return Math.max(0, to - from) * Math.hypot(b[0] - a[0], b[1] - a[1])
}

test('a straight tube seen from the side is its rectangle, from its end its circle', () => {
  const tube = thing('tube', rod([0, -100, 0], [0, 100, 0], 30))
  const [front] = drawing([tube], views.front).outlines
  expect(areaOf(front.loops)).toBeCloseTo(200 * 60, 4)
  const [side] = drawing([tube], views.side, 0.001).outlines
  expect(Math.abs(areaOf(side.loops) - Math.PI * 900)).toBeLessThan(2 * Math.PI * 30 * 0.001)
})

test('a bent tube seen square to its bend covers what Pappus and Guldin say, and its outline holds every point of it (seed 3)', () => {
  // A quarter bend of centreline radius 90: a ring sector of width 2 · 31.75. Source: plane geometry.
  const bend: Form = {
    form: 'round',
    radius: 31.75,
    centreline: [{ kind: 'arc', centre: [0, 0, 0], x: [0, 1, 0], y: [0, 0, 1], radius: 90, angle: Math.PI / 2 }],
  }
  const [front] = drawing([thing('bend', bend)], views.front, 0.001).outlines
  expect(areaOf(front.loops)).toBeCloseTo((Math.PI / 2) * 90 * 63.5, 0)
  const random = seeded(3)
  for (let round = 0; round < 15; round++) {
    const form = anyTube(random, 60)
    const view = anyView(random.turn())
    const [{ loops }] = drawing([thing('tube', form)], view, 0.05).outlines
    for (let i = 0; i < 200; i++) {
      const p = discPoint(discAt(form, random.int(form.centreline.length), random.real(0, 1)), 1, random.real(0, 7))
      const [u, v] = seen(view, p)
      expect(outsideLoops([u, v], loops)).toBeLessThan(0.11)
    }
  }
})

test('a bend that turns to run straight at the eye shows its rim there: the outer half is seen', () => {
  const elbow: Form = {
    form: 'round',
    radius: 20,
    centreline: [
      { kind: 'straight', from: [0, 100, 0], to: [0, 60, 0] },
      { kind: 'arc', centre: [60, 60, 0], x: [-1, 0, 0], y: [0, -1, 0], radius: 60, angle: Math.PI / 2 },
      { kind: 'straight', from: [60, 0, 0], to: [120, 0, 0] },
    ],
  }
  const { lines } = drawing([thing('elbow', elbow)], views.front, 0.005)
  // Seen from the front it comes from the left of the picture and turns away: half a circle of radius 20 closes it.
  const rim = lines.filter(
    ({ look, points }) => look === 'seen' && points.every(([u, v]) => Math.abs(Math.hypot(u, v) - 20) < 0.02),
  )
  expect(total(rim)).toBeGreaterThan(Math.PI * 20 - 1)
})

/** How far a point lies outside a region, mm; 0 within. */
function outsideLoops(p: Flat, loops: readonly (readonly Flat[])[]): number {
  let [winding, nearest] = [0, Infinity]
  for (const loop of loops)
    loop.forEach((a, i) => {
      const b = loop[(i + 1) % loop.length]
      if (a[1] <= p[1] !== b[1] <= p[1]) {
        const side = (b[0] - a[0]) * (p[1] - a[1]) - (p[0] - a[0]) * (b[1] - a[1])
        if (b[1] > a[1] ? side > 0 : side < 0) winding += b[1] > a[1] ? 1 : -1
      }
      const long = (b[0] - a[0]) ** 2 + (b[1] - a[1]) ** 2
      const t =
        long === 0
          ? 0
          : Math.max(0, Math.min(1, ((p[0] - a[0]) * (b[0] - a[0]) + (p[1] - a[1]) * (b[1] - a[1])) / long))
      nearest = Math.min(nearest, Math.hypot(p[0] - a[0] - t * (b[0] - a[0]), p[1] - a[1] - t * (b[1] - a[1])))
    })
  return winding !== 0 ? 0 : nearest
}

test('the outline of a mesh is the union of all its triangles, for closed ones and open ones (seeds 1 to 6)', () => {
  for (let seed = 1; seed <= 6; seed++) {
    const random = seeded(seed)
    const mesh = seed % 2 ? bumpyMesh(14, 10, seed) : meshOf(anyPolytope(random, 50))
    for (const view of [views.front, views.plan, anyView(random.turn())]) {
      const sight = meshSight({ form: 'mesh', mesh, pose: { turn: identity, at: random.point(30) } }, view)
      const quick = meshOutline(sight, rimOf(sight, mesh.closed))
      const triangles = Array.from({ length: sight.triangles.length / 3 }, (_, t) =>
        [0, 1, 2].map((k): Flat => {
          const i = 3 * sight.triangles[3 * t + k]
          return [sight.corners[i], sight.corners[i + 1]]
        }),
      )
      const whole = areaOf(unionOf(triangles))
      expect(whole).toBeGreaterThan(0)
      expect(Math.abs(areaOf(quick) - whole)).toBeLessThan(1e-3 + 1e-7 * whole)
      expect(rimOf(sight, mesh.closed).length).toBeLessThan(sight.triangles.length)
    }
  }
})

test('a mesh hides like the body that it is made of (seed 4)', () => {
  const random = seeded(4)
  for (let round = 0; round < 12; round++) {
    const view = anyView(random.turn())
    const near = movedBody(anyPolytope(random, 30), {
      turn: random.turn(),
      at: along([0, 0, 0], view.eye, 200),
    }) as Polytope
    const far = thing('far', boxForm([0, 0, 0], [80, 60, 40]))
    const mesh: Form = { form: 'mesh', mesh: meshOf(near), pose: { turn: identity, at: [0, 0, 0] } }
    const seenOf = (form: Form) =>
      total(drawing([thing('near', form), far], view).lines.filter((l) => l.name === 'far' && l.look === 'seen'))
    expect(seenOf(mesh)).toBeCloseTo(seenOf({ form: 'convex', body: near }), 1)
  }
})

test('what comes off or moves is drawn through and hides nothing; a floor is told as a line', () => {
  const cover = { ...thing('cover', boxForm([-100, 0, 0], [10, 500, 500])), beside: true }
  const core = thing('core', boxForm([0, 0, 0], [20, 100, 60]))
  const floor = thing('floor', { form: 'halfSpace', point: [0, 0, -60], normal: [0, 0, 1] })
  const { lines, grounds, outlines } = drawing([cover, core, floor], views.front)
  expect(lines.filter((l) => l.name === 'core' && l.look === 'seen').length).toBeGreaterThan(0)
  expect(new Set(lines.filter((l) => l.name === 'cover').map((l) => l.look))).toEqual(new Set(['beside']))
  expect(grounds).toEqual([{ name: 'floor', role: 'part', at: [0, -60], along: [expect.closeTo(1), 0], out: [0, 1] }])
  expect(outlines.map(({ name }) => name)).toEqual(['cover', 'core'])
  expect(drawing([floor], views.plan).grounds).toEqual([])
})
