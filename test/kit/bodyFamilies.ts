import type { Pose, Vec3 } from '../../core/shape/vec.ts'
import { add, scale, turned, turnMatrix } from '../../core/shape/vec.ts'
import {
  anyBody,
  anyCylinder,
  anyPolytope,
  type Body,
  boxBody,
  corner,
  farthest,
  movedBody,
  scaledBody,
  squeezed,
} from './bodies.ts'
import type { Random } from './random.ts'

/** Families of pairs of convex bodies, each hard in its own way. */
export type Family = (random: Random) => [Body, Body]

const still: Vec3 = [0, 0, 0]
const at = (body: Body, v: Vec3): Body => movedBody(body, { turn: [1, 0, 0, 0, 1, 0, 0, 0, 1], at: v })
const side = (random: Random) => random.real(1, 100)
const box = (random: Random) => boxBody(side(random), side(random), side(random))

/** Moves b along −n until its farthest point against n lies `gap` from a's farthest along n: apart by at most `gap`. */
function setBeside(a: Body, b: Body, n: Vec3, gap: number): Body {
  const shift = farthest(a, n) + farthest(b, scale(n, -1)) + gap
  return at(b, scale(n, shift))
}

/** Two boxes of half sizes p and q in one tilted frame, b at `offset` in that frame. */
function inOneFrame(random: Random, p: Vec3, q: Vec3, offset: Vec3): [Body, Body] {
  const pose: Pose = { turn: random.turn(), at: random.point(200) }
  return [
    movedBody(boxBody(...(p as [number, number, number])), pose),
    movedBody(boxBody(...(q as [number, number, number])), {
      turn: pose.turn,
      at: add(turned(pose.turn, offset), pose.at),
    }),
  ]
}
const sides = (random: Random): Vec3 => [side(random), side(random), side(random)]

export const families: Record<string, Family> = {
  generic(random) {
    const a = anyBody(random, 100)
    const b = anyBody(random, 100)
    return [at(a, random.point(50)), at(b, scale(random.unit(), random.real(0, 200)))]
  },
  /** Top faces in one plane of one tilted frame. */
  'coplanar faces'(random) {
    const p = sides(random)
    const q = sides(random)
    const apart = p[0] + q[0] + random.real(-10, 40)
    return inOneFrame(random, p, q, [apart, random.real(-50, 50), p[2] - q[2]])
  },
  'parallel faces'(random) {
    const p = sides(random)
    const q = sides(random)
    const gap = random.chance(0.5) ? random.size(1e-9, 1) : random.real(-20, 40)
    return inOneFrame(random, p, q, [random.real(-100, 100), random.real(-100, 100), p[2] + q[2] + gap])
  },
  /** Face on face, edge on edge, corner on corner, to rounding. */
  touching(random) {
    const p = sides(random)
    const q = sides(random)
    const free = (i: number) => random.real(-p[i] - q[i], p[i] + q[i])
    const met = (i: number) => p[i] + q[i]
    const kind = random.int(3)
    return inOneFrame(random, p, q, [met(0), kind > 0 ? met(1) : free(1), kind > 1 ? met(2) : free(2)])
  },
  'touching askew'(random) {
    const a = anyBody(random, 100)
    return [a, setBeside(a, anyBody(random, 100), random.unit(), 0)]
  },
  /** Nearest along a random direction, from one ten-thousandth of a nanometre to a micrometre. */
  'almost touching'(random) {
    const a = anyBody(random, 100)
    return [a, setBeside(a, anyBody(random, 100), random.unit(), random.size(1e-13, 1e-3))]
  },
  'corner over face'(random) {
    const a = box(random)
    const b = anyPolytope(random, 50)
    const k = random.int(b.vertices.length / 3)
    const foot: Vec3 = [random.real(-0.9, 0.9) * a.vertices[0], random.real(-0.9, 0.9) * a.vertices[1], 0]
    const gap = random.pick([0, random.size(1e-13, 1)])
    const lowest = Math.min(...Array.from({ length: b.vertices.length / 3 }, (_, i) => corner(b, i)[2]))
    const top = Math.abs(a.vertices[2])
    const pose: Pose = { turn: random.turn(), at: still }
    const c = corner(b, k)
    return [movedBody(a, pose), movedBody(at(b, [foot[0] - c[0], foot[1] - c[1], top + gap - lowest]), pose)]
  },
  contained(random) {
    const a = anyBody(random, 100)
    return [a, scaledBody(anyBody(random, 100), random.size(1e-5, 0.05))]
  },
  slivers(random) {
    const thin = (half: number) => squeezed(anyPolytope(random, half), random.unit(), random.size(1e-5, 1e-3))
    const a = thin(100)
    const b = random.chance(0.5) ? thin(100) : anyBody(random, 100)
    return [a, at(b, scale(random.unit(), random.real(0, 60)))]
  },
  'parallel slivers'(random) {
    const pose: Pose = { turn: random.turn(), at: still }
    const flat = () => squeezed(anyPolytope(random, 100), [0, 0, 1], random.size(1e-5, 1e-3))
    return [movedBody(flat(), pose), movedBody(at(flat(), [0, 0, random.pick([0, random.size(1e-9, 1)])]), pose)]
  },
  needles(random) {
    const needle = () =>
      movedBody(boxBody(100, random.size(1e-4, 1e-2), random.size(1e-4, 1e-2)), { turn: random.turn(), at: still })
    return [needle(), at(needle(), scale(random.unit(), random.size(1e-4, 10)))]
  },
  'one ulp apart'(random) {
    const x = 2 ** random.int(17)
    const y = x + x * 2 ** -52
    const size = sides(random)
    const a = at(boxBody(...(size as [number, number, number])), [x - size[0], 0, 0])
    const b = at(boxBody(...(size as [number, number, number])), [
      y + size[0],
      random.real(-10, 10),
      random.real(-10, 10),
    ])
    return [setFace(a, x, 1), setFace(b, y, -1)]
  },
  'equal solids'(random) {
    const a = anyBody(random, 100)
    return [a, random.chance(0.5) ? a : at(a, scale(random.unit(), random.size(1e-12, 1)))]
  },
  'tiny and huge'(random) {
    const a = scaledBody(anyBody(random, 1), random.size(1e-6, 1e6))
    const b = scaledBody(anyBody(random, 1), random.size(1e-6, 1e6))
    return [a, setBeside(a, b, random.unit(), random.chance(0.3) ? 0 : random.size(1e-6, 1e6) * random.pick([1, -1]))]
  },
  'parallel cylinders'(random) {
    const turn = random.turn()
    const make = (x: number): Body => ({
      kind: 'cylinder',
      from: [x, 0, -side(random)],
      to: [x, 0, side(random)],
      radius: random.real(1, 30),
    })
    return [
      movedBody(make(0), { turn, at: still }),
      movedBody(make(random.pick([0, random.real(0, 80)])), { turn, at: still }),
    ]
  },
  /** One in the other, axes almost the same: almost equally deep all round. */
  'nearly coaxial cylinders'(random) {
    const make = (radius: number): Body => ({
      kind: 'cylinder',
      from: [0, 0, -side(random)],
      to: [0, 0, side(random)],
      radius,
    })
    const tilt = random.size(1e-9, 1e-1)
    const turn = turnMatrix([(tilt * 180) / Math.PI, 0, 0])
    const b = movedBody(make(random.real(1, 30)), { turn, at: scale(random.unit(), random.size(1e-9, 1)) })
    const pose: Pose = { turn: random.turn(), at: still }
    return [movedBody(make(random.real(1, 30)), pose), movedBody(b, pose)]
  },
  'cylinder on face'(random) {
    const a = box(random)
    const top = Math.abs(a.vertices[2])
    const gap = random.pick([0, random.size(1e-12, 10), random.real(-5, 5)])
    const r = random.real(1, 50)
    const x = random.real(-60, 60)
    const standing = random.chance(0.5)
    const b: Body = standing
      ? { kind: 'cylinder', from: [x, 0, top + gap], to: [x, 0, top + gap + side(random)], radius: r }
      : { kind: 'cylinder', from: [x, -side(random), top + gap + r], to: [x, side(random), top + gap + r], radius: r }
    const pose: Pose = { turn: random.turn(), at: random.point(100) }
    return [movedBody(a, pose), movedBody(b, pose)]
  },
  'crossed cylinders'(random) {
    const a = anyCylinder(random, 100)
    const b = anyCylinder(random, 100)
    return [a, at(b, scale(random.unit(), random.real(0, 250)))]
  },
}

/** Puts the face that looks along +x (towards 1) or −x exactly at x; the box is axis-aligned. */
function setFace(body: Body, x: number, towards: 1 | -1): Body {
  if (body.kind !== 'polytope') return body
  const vertices = body.vertices.slice()
  const middle = (Math.min(...xs(vertices)) + Math.max(...xs(vertices))) / 2
  for (let i = 0; i < vertices.length; i += 3) if ((vertices[i] - middle) * towards > 0) vertices[i] = x
  const planes = body.planes.slice()
  for (let i = 0; i < planes.length; i += 4) if (planes[i] * towards > 0.5) planes[i + 3] = x * towards
  return { ...body, vertices, planes }
}
const xs = (v: Float64Array) => Array.from({ length: v.length / 3 }, (_, i) => v[3 * i])

/** The same pair carried far from the origin. */
export function carried(pair: [Body, Body], by: Vec3): [Body, Body] {
  return [at(pair[0], by), at(pair[1], by)]
}
