import fc from 'fast-check'
import { expect, test } from 'vitest'
import { boxBody, corner, frustum, hullBody, tankBody } from '../../../test/kit/bodies.ts'
import { seeded } from '../../../test/kit/random.ts'
import type { Polytope } from '../../shape/form.ts'
import { measureForm } from '../../shape/measure.ts'
import { add, cross, distance, dot, scale, sub, unit, type Vec3 } from '../../shape/vec.ts'
import type { Flat } from '../drawing/view.ts'
import { pattern, type PatternPiece } from './pattern.ts'

const area = (loop: readonly Flat[]) =>
  loop.reduce((sum, [x, y], k) => {
    const [nx, ny] = loop[(k + 1) % loop.length]
    return sum + (x * ny - nx * y) / 2
  }, 0)
const long = (a: Flat, b: Flat) => Math.hypot(a[0] - b[0], a[1] - b[1])

/** What two convex loops share, mm²: Sutherland and Hodgman's clipping, 1974 (from memory); apart from the library that the pattern uses. */
function shared(subject: readonly Flat[], clip: readonly Flat[]): number {
  let left = [...subject]
  clip.forEach((a, k) => {
    const b = clip[(k + 1) % clip.length]
    const side = (p: Flat) => (b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0])
    left = left.flatMap((p, i): Flat[] => {
      const q = left[(i + 1) % left.length]
      const [sp, sq] = [side(p), side(q)]
      const kept: Flat[] = sp >= 0 ? [p] : []
      if (sp >= 0 !== sq >= 0)
        kept.push([p[0] + (sp / (sp - sq)) * (q[0] - p[0]), p[1] + (sp / (sp - sq)) * (q[1] - p[1])])
      return kept
    })
  })
  return left.length < 3 ? 0 : Math.abs(area(left))
}
/** Tabs run along their edge the way the face does, so seen from their own inside they go round the other way. */
const round = (loop: readonly Flat[]) => (area(loop) < 0 ? loop.toReversed() : [...loop])

function isSound(body: Polytope, pieces: readonly PatternPiece[], open: readonly number[]): void {
  for (const { faces, tabs, outline } of pieces) {
    const parts = [...faces.map(({ corners }) => corners), ...tabs.map(({ corners }) => round(corners))]
    const laps = parts.flatMap((one, k) => parts.slice(0, k).map((other) => shared(one, other)))
    expect(Math.max(0, ...laps)).toBeLessThan(0.02)
    // The line that is cut goes round faces and tabs, once, and round nothing else.
    const sum = parts.reduce((total, part) => total + Math.abs(area(part)), 0)
    expect(Math.abs(area(outline) - sum)).toBeLessThan(1e-6 * sum)
  }
  expect(pieces.flatMap(({ faces }) => faces.map(({ face }) => face)).sort((a, b) => a - b)).toEqual(
    body.faces.map((_, face) => face).filter((face) => !open.includes(face)),
  )
  const tabs = pieces.flatMap((piece) => piece.tabs)
  const bare = pieces.flatMap((piece) => piece.bare)
  expect(new Set(tabs.map(({ number }) => number)).size).toBe(tabs.length)
  for (const { number, edge, gluedTo } of tabs) {
    const partners = bare.filter((each) => each.number === number)
    expect(partners).toHaveLength(gluedTo === null ? 0 : 1)
    for (const partner of partners) {
      expect([partner.edge.face, partner.edge.beyond]).toEqual([edge.beyond, edge.face])
      expect(long(partner.edge.from, partner.edge.to)).toBeCloseTo(long(edge.from, edge.to), 6)
    }
  }
}

/** Folds a piece up: its first face is put where it is in the body, and every other turned about its hinge by the fold. */
function foldsUp(body: Polytope, { faces, hinges }: PatternPiece): void {
  const [first] = faces
  const loop = body.faces[first.face]
  const [a, b] = [corner(body, loop[0]), corner(body, loop[1])]
  const normal: Vec3 = [body.planes[4 * first.face], body.planes[4 * first.face + 1], body.planes[4 * first.face + 2]]
  const along = unit(sub(b, a))
  const flat = ([x, y]: Flat): Vec3 => {
    const [[ax, ay], [bx, by]] = first.corners
    const l = Math.hypot(bx - ax, by - ay)
    const [s, t] = [
      ((x - ax) * (bx - ax) + (y - ay) * (by - ay)) / l,
      ((y - ay) * (bx - ax) - (x - ax) * (by - ay)) / l,
    ]
    return add(a, add(scale(along, s), scale(cross(normal, along), t)))
  }
  /** Each face's way from the plane of the first into space. */
  const to = new Map<number, (p: Vec3) => Vec3>([[first.face, (p) => p]])
  for (const { face, other, from, to: end, fold } of hinges) {
    const parent = to.get(face)
    if (!parent) throw new Error('a hinge before its face')
    const [p, q] = [flat(from), flat(end)]
    const axis = unit(sub(q, p))
    // The face lies to the left of its edge, the other to the right: turned down, away from the outside.
    const [s, c] = [Math.sin((fold * Math.PI) / 180), Math.cos((fold * Math.PI) / 180)]
    to.set(other, (point) => {
      const v = sub(point, p)
      const turned = add(add(scale(v, c), scale(cross(axis, v), s)), scale(axis, dot(axis, v) * (1 - c)))
      return parent(add(p, turned))
    })
  }
  const size = Math.max(...body.vertices.map(Math.abs))
  const off = faces.flatMap(({ face, corners }) =>
    corners.map((p, k) => distance((to.get(face) as (p: Vec3) => Vec3)(flat(p)), corner(body, body.faces[face][k]))),
  )
  expect(Math.max(...off)).toBeLessThan(1e-9 * Math.max(1, size))
}

const rect = (x: number, y: number, z: number): Vec3[] => [
  [-x, -y, z],
  [x, -y, z],
  [x, y, z],
  [-x, y, z],
]
const faceAlong = (body: Polytope, z: 1 | -1) => body.faces.findIndex((_, f) => z * body.planes[4 * f + 2] > 0.99)

test('the tank of check A6.1 and the frustum of A6.2 fold up to themselves, with tabs and an open foot', () => {
  // A6.1: 300 × 76 → 60 × 60, 80 high, 1,004,800 mm³ (prismoidal formula, handbook); A6.2: 4 and 2, 6 high, 56 (Moscow papyrus 14).
  for (const [body, volume] of [
    [frustum(rect(150, 38, 0), rect(30, 30, 80)), 1_004_800],
    [frustum(rect(2, 2, 0), rect(1, 1, 6)), 56],
  ] as const) {
    expect(measureForm({ form: 'convex', body })?.volume).toBeCloseTo(volume, 4)
    const foot = faceAlong(body, -1)
    const pieces = pattern(body, faceAlong(body, 1), [foot])
    isSound(body, pieces, [foot])
    for (const piece of pieces) foldsUp(body, piece)
    expect(pieces.flatMap(({ tabs }) => tabs).filter(({ gluedTo }) => gluedTo === null)).toHaveLength(4)
    const sheet = pieces.flatMap(({ faces }) => faces).reduce((sum, { corners }) => sum + area(corners), 0)
    expect(sheet).toBeCloseTo(
      (measureForm({ form: 'convex', body })?.area ?? 0) - 4 * (volume === 56 ? 4 : 150 * 38),
      5,
    )
  }
})

test('boxes and end tanks come in one piece: seven tabs on a closed one, eight on one with its foot open', () => {
  const box = boxBody(45, 270, 130)
  const pieces = pattern(box, 0)
  expect([pieces.length, pieces[0].tabs.length]).toEqual([1, 7])
  isSound(box, pieces, [])
  const tank = tankBody(45, 130, 35, 0.85, 0.7)
  const foot = faceAlong(tank, -1)
  const open = pattern(tank, faceAlong(tank, 1), [foot])
  expect([open.length, open[0].tabs.length]).toEqual([1, 8])
})

test('any box, tank or hull: nothing lies on anything else, every seam has one tab, and it folds up (fast-check, seed 8)', () => {
  let parted = 0
  const half = fc.double({ min: 8, max: 300, noNaN: true })
  const taper = fc.double({ min: 0.2, max: 1, noNaN: true })
  const anyTank = fc.tuple(half, half, half, taper, taper).map(([x, y, z, u, v]) => tankBody(x, y, z, u, v))
  const anyHull = fc.integer({ min: 1, max: 1e6 }).map((seed) => {
    const random = seeded(seed)
    return hullBody(Array.from({ length: 5 + random.int(6) }, () => scale(random.unit(), random.real(40, 200))))
  })
  fc.assert(
    fc.property(fc.oneof(anyTank, anyHull), fc.nat(), fc.boolean(), (body, n, leaveOut) => {
      const root = n % body.faces.length
      const open = leaveOut ? [(root + 1) % body.faces.length] : []
      const pieces = pattern(body, root, open)
      if (pieces.length > 1) parted++
      isSound(body, pieces, open)
      for (const piece of pieces) foldsUp(body, piece)
    }),
    { seed: 8, numRuns: 80 },
  )
  expect(parted).toBeGreaterThan(0)
})
