import type { Polytope } from '../../core/shape/form.ts'
import { along, cross, distance, dot, length, scale, sub, type Vec3 } from '../../core/shape/vec.ts'
import { corner, corners } from './bodies.ts'

/** Slow and plain answers to hold the fast ones to: every feature against every feature, no search, no early end. */
export interface PlainAnswer {
  /** Negative: overlapping by that depth. */
  readonly gap: number
  /** What is nearest where they are apart. */
  readonly kind: 'corner' | 'corner–face' | 'edge–edge' | 'overlap'
}

const pointSegment = (p: Vec3, a: Vec3, b: Vec3): number => {
  const e = sub(b, a)
  const t = Math.min(1, Math.max(0, dot(sub(p, a), e) / dot(e, e)))
  return distance(p, along(a, e, t))
}

/** Both inner points where the lines' nearest points are inside, and the four ends: right for parallel ones too. */
function segmentSegment(a: Vec3, b: Vec3, c: Vec3, d: Vec3): { gap: number; inner: boolean } {
  let gap = Math.min(pointSegment(a, c, d), pointSegment(b, c, d), pointSegment(c, a, b), pointSegment(d, a, b))
  let inner = false
  const e = sub(b, a)
  const f = sub(d, c)
  const n = cross(e, f)
  const nn = dot(n, n)
  if (nn > 0) {
    const r = sub(c, a)
    const s = dot(cross(r, f), n) / nn
    const t = dot(cross(r, e), n) / nn
    if (s >= 0 && s <= 1 && t >= 0 && t <= 1) {
      const g = Math.abs(dot(r, n)) / Math.sqrt(nn)
      if (g <= gap) {
        inner = gap - g > 1e-9 * gap
        gap = g
      }
    }
  }
  return { gap, inner }
}

/** Height over a convex face where the foot lies on it; Infinity beside it (its edges are asked elsewhere). */
function pointFace(p: Vec3, face: readonly Vec3[], n: Vec3): number {
  for (let i = 0; i < face.length; i++) {
    const a = face[i]
    const side = cross(n, sub(face[(i + 1) % face.length], a))
    if (dot(side, sub(p, a)) < 0) return Infinity
  }
  return Math.abs(dot(n, sub(p, face[0])))
}

const edgesOf = (p: Polytope): [Vec3, Vec3][] =>
  p.faces.flatMap((f) =>
    f.flatMap((i, k): [Vec3, Vec3][] => {
      const j = f[(k + 1) % f.length]
      return i < j ? [[corner(p, i), corner(p, j)]] : []
    }),
  )
const normalsOf = (p: Polytope): Vec3[] =>
  p.faces.map((_, i): Vec3 => [p.planes[4 * i], p.planes[4 * i + 1], p.planes[4 * i + 2]])

/** Greatest separation over all face normals and all crossed edges: negative is the exact depth (separating axes, textbook). */
export function plainSeparation(a: Polytope, b: Polytope): number {
  const directions: Vec3[] = [...normalsOf(a), ...normalsOf(b).map((n) => scale(n, -1))]
  for (const [p, q] of edgesOf(a))
    for (const [r, s] of edgesOf(b)) {
      const n = cross(sub(q, p), sub(s, r))
      const l = length(n)
      if (l > 1e-9 * distance(p, q) * distance(r, s)) directions.push(scale(n, 1 / l), scale(n, -1 / l))
    }
  const ca = corners(a)
  const cb = corners(b)
  let best = -Infinity
  for (const n of directions) {
    const top = Math.max(...ca.map((v) => dot(n, v)))
    const low = Math.min(...cb.map((v) => dot(n, v)))
    best = Math.max(best, low - top)
  }
  return best
}

/** Gap or depth of two polytopes. */
export function plainDistance(a: Polytope, b: Polytope): PlainAnswer {
  const separation = plainSeparation(a, b)
  if (separation < 0) return { gap: separation, kind: 'overlap' }
  let gap = Infinity
  let kind: PlainAnswer['kind'] = 'corner'
  for (const [p, q] of [
    [a, b],
    [b, a],
  ])
    normalsOf(q).forEach((n, i) => {
      const face = q.faces[i].map((k) => corner(q, k))
      for (const v of corners(p)) {
        const g = pointFace(v, face, n)
        if (g < gap) {
          gap = g
          kind = 'corner–face'
        }
      }
    })
  for (const [p, q] of edgesOf(a))
    for (const [r, s] of edgesOf(b)) {
      const got = segmentSegment(p, q, r, s)
      if (got.gap < gap) {
        gap = got.gap
        kind = got.inner ? 'edge–edge' : 'corner'
      }
    }
  return { gap, kind }
}
