import type { Cylinder, Polytope } from '../../core/shape/form.ts'
import { add, along, cross, dot, type Pose, placed, scale, sub, unit, type Vec3 } from '../../core/shape/vec.ts'
import type { Random } from './random.ts'

/** Convex bodies for tests, made without the project's own shapes, so that a fault there cannot hide one here. */
export type Body = Polytope | Cylinder

export const corner = (p: Polytope, i: number): Vec3 => [
  p.vertices[3 * i],
  p.vertices[3 * i + 1],
  p.vertices[3 * i + 2],
]
export const corners = (p: Polytope): Vec3[] => Array.from({ length: p.vertices.length / 3 }, (_, i) => corner(p, i))
export const centreOf = (points: readonly Vec3[]): Vec3 => scale(points.reduce(add), 1 / points.length)

/** Faces are turned outward here; each must be planar and in order round. */
export function polytope(points: readonly Vec3[], loops: readonly (readonly number[])[]): Polytope {
  const middle = centreOf(points)
  const faces: number[][] = []
  const planes: number[] = []
  for (const loop of loops) {
    let n: Vec3 = [0, 0, 0]
    for (let i = 1; i + 1 < loop.length; i++)
      n = add(n, cross(sub(points[loop[i]], points[loop[0]]), sub(points[loop[i + 1]], points[loop[0]])))
    const outward = dot(n, sub(points[loop[0]], middle)) > 0
    const normal = unit(outward ? n : scale(n, -1))
    faces.push(outward ? [...loop] : [...loop].reverse())
    planes.push(...normal, Math.max(...loop.map((i) => dot(normal, points[i]))))
  }
  return { kind: 'polytope', vertices: Float64Array.from(points.flat()), faces, planes: Float64Array.from(planes) }
}

/** Two loops of equal count, bottom and top, joined by quadrilaterals (planar only where the loops are similar and parallel). */
export function frustum(bottom: readonly Vec3[], top: readonly Vec3[]): Polytope {
  const n = bottom.length
  const round = bottom.map((_, i) => i)
  const sides = round.map((i) => [i, (i + 1) % n, n + ((i + 1) % n), n + i])
  return polytope([...bottom, ...top], [round, round.map((i) => n + i), ...sides])
}

const rectangle = (x: number, y: number, z: number): Vec3[] => [
  [-x, -y, z],
  [x, -y, z],
  [x, y, z],
  [-x, y, z],
]
/** Box of half sizes about the origin. */
export const boxBody = (x: number, y: number, z: number): Polytope => frustum(rectangle(x, y, -z), rectangle(x, y, z))
/** An end tank: rectangular foot, far end scaled. */
export const tankBody = (x: number, y: number, z: number, taperX: number, taperY: number): Polytope =>
  frustum(rectangle(x, y, -z), rectangle(x * taperX, y * taperY, z))

/** Convex hull of few points by trying every triple: slow, plain, no degenerate input. */
export function hullBody(points: readonly Vec3[]): Polytope {
  const loops: number[][] = []
  for (let i = 0; i < points.length; i++)
    for (let j = i + 1; j < points.length; j++)
      for (let k = j + 1; k < points.length; k++) {
        const n = cross(sub(points[j], points[i]), sub(points[k], points[i]))
        const sides = points.map((p, m) => (m === i || m === j || m === k ? 0 : dot(n, sub(p, points[i]))))
        if (sides.every((s) => s <= 0) || sides.every((s) => s >= 0)) loops.push([i, j, k])
      }
  const used = [...new Set(loops.flat())]
  return polytope(
    used.map((i) => points[i]),
    loops.map((loop) => loop.map((i) => used.indexOf(i))),
  )
}

/** Any body of about this half size about the origin. */
export function anyBody(random: Random, half: number): Body {
  return random.chance(0.3) ? anyCylinder(random, half) : anyPolytope(random, half)
}
export function anyCylinder(random: Random, half: number): Cylinder {
  const axis = scale(random.unit(), half * random.real(0.05, 1))
  return { kind: 'cylinder', from: scale(axis, -1), to: axis, radius: half * random.real(0.05, 0.8) }
}
export function anyPolytope(random: Random, half: number): Polytope {
  const side = () => half * random.real(0.1, 1)
  const pose: Pose = { turn: random.turn(), at: [0, 0, 0] }
  const kind = random.int(4)
  if (kind === 0) return movedBody(boxBody(side(), side(), side()), pose)
  if (kind === 1) return movedBody(tankBody(side(), side(), side(), random.real(0.3, 1), random.real(0.3, 1)), pose)
  return hullBody(Array.from({ length: 4 + random.int(9) }, () => scale(random.unit(), side())))
}

/** The same solid, one coordinate in three squeezed along a random direction: a sliver. */
export function squeezed(p: Polytope, along3: Vec3, factor: number): Polytope {
  return mapped(p, (v) => along(v, along3, (factor - 1) * dot(v, along3)))
}

/** Faces of affine images stay planar; planes are made anew. */
export function mapped(p: Polytope, f: (v: Vec3) => Vec3): Polytope {
  return polytope(corners(p).map(f), p.faces)
}

export function movedBody<B extends Body>(body: B, pose: Pose): B
export function movedBody(body: Body, pose: Pose): Body {
  if (body.kind === 'polytope') return mapped(body, (v) => placed(pose, v))
  return { ...body, from: placed(pose, body.from), to: placed(pose, body.to) }
}

export function scaledBody(body: Body, s: number): Body {
  if (body.kind === 'polytope') return mapped(body, (v) => scale(v, s))
  return { kind: 'cylinder', from: scale(body.from, s), to: scale(body.to, s), radius: body.radius * s }
}

/** A body that holds this one and no point farther than `by` from it. */
export function grownBody(body: Body, by: number): Body {
  if (body.kind === 'polytope') {
    const middle = centreOf(corners(body))
    const reach = Math.max(...corners(body).map((v) => Math.hypot(...sub(v, middle))))
    return mapped(body, (v) => along(v, sub(v, middle), by / reach))
  }
  const axis = unit(sub(body.to, body.from))
  const part = by / Math.SQRT2
  return { ...body, from: along(body.from, axis, -part), to: along(body.to, axis, part), radius: body.radius + part }
}

/** How far a point lies outside a body, mm, at most: 0 or negative inside; exact beside a face, an upper bound nowhere needed. */
export function outsideBy(body: Body, point: Vec3): number {
  if (body.kind === 'polytope') {
    let worst = -Infinity
    for (let i = 0; i < body.planes.length; i += 4) {
      const n: Vec3 = [body.planes[i], body.planes[i + 1], body.planes[i + 2]]
      worst = Math.max(worst, dot(n, point) - body.planes[i + 3])
    }
    return worst
  }
  const axis = unit(sub(body.to, body.from))
  const t = dot(axis, sub(point, body.from))
  const l = dot(axis, sub(body.to, body.from))
  return Math.max(-t, t - l, Math.hypot(...sub(along(point, axis, -t), body.from)) - body.radius)
}

/** Largest n·x over a body, n unit: written apart from the project's support function. */
export function farthest(body: Body, n: Vec3): number {
  if (body.kind === 'polytope') return Math.max(...corners(body).map((v) => dot(n, v)))
  const axis = unit(sub(body.to, body.from))
  const square = cross(axis, n)
  return Math.max(dot(n, body.from), dot(n, body.to)) + body.radius * Math.hypot(...square)
}
