import type { ArcPiece, Piece, RoundForm } from '../../core/shape/form.ts'
import {
  add,
  along,
  cross,
  distance,
  dot,
  length,
  type Pose,
  placed,
  scale,
  sub,
  turned,
  unit,
  type Vec3,
} from '../../core/shape/vec.ts'
import type { Random } from './random.ts'

/** Round sweeps for tests, laid piece by piece from a frame that is carried along, so that tangents always agree. */
export class TubeLayer {
  readonly pieces: Piece[] = []
  private at: Vec3
  private heading: Vec3
  private side: Vec3

  constructor(at: Vec3, heading: Vec3, side: Vec3) {
    this.at = at
    this.heading = unit(heading)
    this.side = unit(along(side, this.heading, -dot(side, this.heading)))
  }

  straight(by: number): this {
    const to = along(this.at, this.heading, by)
    this.pieces.push({ kind: 'straight', from: this.at, to })
    this.at = to
    return this
  }

  /** Turns the plane of the next bend about the heading. */
  roll(by: number): this {
    this.side = add(scale(this.side, Math.cos(by)), scale(cross(this.heading, this.side), Math.sin(by)))
    return this
  }

  bend(radius: number, by: number): this {
    const centre = along(this.at, this.side, radius)
    const x = scale(this.side, -1)
    const y = this.heading
    this.pieces.push({ kind: 'arc', centre, x, y, radius, angle: by })
    const out = add(scale(x, Math.cos(by)), scale(y, Math.sin(by)))
    this.at = along(centre, out, radius)
    this.heading = add(scale(x, -Math.sin(by)), scale(y, Math.cos(by)))
    this.side = scale(out, -1)
    return this
  }

  tube(radius: number): RoundForm {
    return { form: 'round', centreline: this.pieces, radius }
  }
}

/** Straight tube. */
export const rod = (from: Vec3, to: Vec3, radius: number): RoundForm => ({
  form: 'round',
  centreline: [{ kind: 'straight', from, to }],
  radius,
})

/** Tubes of zero to four bends: radius at its limit, no end straights, short ones, half turns among them. */
export function anyTube(random: Random, half: number): RoundForm {
  const radius = random.real(0.05, 0.4) * half
  const layer = new TubeLayer(random.point(half), random.unit(), random.unit())
  const bends = random.int(5)
  const stretch = () =>
    random.chance(0.3) ? 0 : random.chance(0.3) ? random.real(0, 0.5) * radius : random.real(0, half)
  if (bends === 0) return layer.straight(random.real(0.05, 2) * half).tube(radius)
  layer.straight(stretch())
  for (let i = 0; i < bends; i++) {
    const bend = random.chance(0.3) ? radius : radius * random.real(1, 3)
    const by = random.chance(0.1) ? Math.PI : random.chance(0.1) ? random.real(0.001, 0.05) : random.real(0.05, Math.PI)
    layer
      .roll(random.real(0, 2 * Math.PI))
      .bend(bend, by)
      .straight(stretch())
  }
  return layer.tube(radius)
}

export interface Disc {
  readonly centre: Vec3
  readonly normal: Vec3
  readonly radius: number
}

export const arcPoint = (arc: ArcPiece, a: number): Vec3 =>
  add(arc.centre, add(scale(arc.x, arc.radius * Math.cos(a)), scale(arc.y, arc.radius * Math.sin(a))))

/** Disc at a share 0 … 1 of a piece. */
export function discAt(form: RoundForm, piece: number, share: number): Disc {
  const p = form.centreline[piece]
  if (p.kind === 'straight') {
    const run = sub(p.to, p.from)
    const normal = length(run) > 0 ? unit(run) : neighbourNormal(form, piece)
    return { centre: along(p.from, run, share), normal, radius: form.radius }
  }
  const a = share * p.angle
  const normal = add(scale(p.x, -Math.sin(a)), scale(p.y, Math.cos(a)))
  return { centre: arcPoint(p, a), normal, radius: form.radius }
}

function neighbourNormal(form: RoundForm, piece: number): Vec3 {
  return piece + 1 < form.centreline.length ? discAt(form, piece + 1, 0).normal : discAt(form, piece - 1, 1).normal
}

export function squareTo(n: Vec3): [Vec3, Vec3] {
  const u = unit(cross(n, Math.abs(n[0]) < 0.6 ? [1, 0, 0] : [0, 1, 0]))
  return [u, cross(n, u)]
}

/** Point of a disc by its share of the radius and an angle. */
export function discPoint(disc: Disc, share: number, angle: number): Vec3 {
  const [u, v] = squareTo(disc.normal)
  const r = share * disc.radius
  return add(disc.centre, add(scale(u, r * Math.cos(angle)), scale(v, r * Math.sin(angle))))
}

/** Distance of a point to a flat disc, from the definition. */
export function toDisc(disc: Disc, q: Vec3): number {
  const g = sub(q, disc.centre)
  const h = dot(g, disc.normal)
  const across = length(along(g, disc.normal, -h))
  return Math.hypot(h, Math.max(0, across - disc.radius))
}

/** How far a point is from the tube at most: the nearest of many discs, then of closer and closer ones. Plain and slow. */
export function outsideTube(form: RoundForm, q: Vec3, steps = 24): number {
  let best = Number.POSITIVE_INFINITY
  form.centreline.forEach((p, piece) => {
    // No point of a disc moves farther from one step to the next than this: a piece too far off need not be closed in on.
    const spacing = (p.kind === 'arc' ? (p.radius + form.radius) * p.angle : distance(p.from, p.to)) / steps
    let at = 0
    let here = Number.POSITIVE_INFINITY
    for (let i = 0; i <= steps; i++) {
      const d = toDisc(discAt(form, piece, i / steps), q)
      if (d < here) {
        here = d
        at = i / steps
      }
    }
    if (here - spacing >= best) return
    for (let step = 1 / steps; step > 1e-13; step *= 0.5)
      for (const next of [Math.max(0, at - step), Math.min(1, at + step)]) {
        const d = toDisc(discAt(form, piece, next), q)
        if (d < here) {
          here = d
          at = next
        }
      }
    best = Math.min(best, here)
  })
  return best
}

/**
 * Least value of `f` over points of the tube: a grid over its discs' faces and rims, then a closing search from the best
 * few. Always the value at a real point of the tube, so it is never less than the true least.
 * @param closing how many of the best grid points are closed in from; 0: the grid alone
 */
export function leastOverTube(form: RoundForm, f: (p: Vec3) => number, closing = 2, grid = 6): number {
  const starts: { value: number; at: [number, number, number, number] }[] = []
  const value = (piece: number, share: number, out: number, angle: number) =>
    f(discPoint(discAt(form, piece, share), out, angle))
  form.centreline.forEach((_, piece) => {
    for (let i = 0; i <= grid; i++)
      for (const out of i === 0 || i === grid ? [0, 0.5, 1] : [1])
        for (let k = 0; k < (out === 0 ? 1 : 8); k++) {
          const at: [number, number, number, number] = [piece, i / grid, out, (k * Math.PI) / 4]
          starts.push({ value: value(...at), at })
        }
  })
  starts.sort((a, b) => a.value - b.value)
  if (closing === 0) return starts[0].value
  return Math.min(...starts.slice(0, closing).map((s) => closeIn(value, s.at, s.value)))
}

function closeIn(
  value: (piece: number, share: number, out: number, angle: number) => number,
  start: [number, number, number, number],
  from: number,
): number {
  let [piece, share, out, angle] = start
  let best = from
  for (let step = 0.25; step > 1e-9; step *= 0.5) {
    for (let round = 0; round < 4; round++) {
      let better = false
      for (const [a, b, c] of [
        [1, 0, 0],
        [0, 1, 0],
        [0, 0, 1],
        [1, 0, 1],
        [1, 0, -1],
      ])
        for (const sign of [-1, 1]) {
          const s = Math.min(1, Math.max(0, share + sign * a * step))
          const o = Math.min(1, Math.max(0, out + sign * b * step))
          const g = angle + sign * c * step * 3
          const d = value(piece, s, o, g)
          if (d < best) {
            best = d
            share = s
            out = o
            angle = g
            better = true
          }
        }
      if (!better) break
    }
  }
  return best
}

export function movedTube(form: RoundForm, pose: Pose): RoundForm {
  const centreline = form.centreline.map(
    (p): Piece =>
      p.kind === 'straight'
        ? { kind: 'straight', from: placed(pose, p.from), to: placed(pose, p.to) }
        : { ...p, centre: placed(pose, p.centre), x: turned(pose.turn, p.x), y: turned(pose.turn, p.y) },
  )
  return { ...form, centreline }
}

export function scaledTube(form: RoundForm, s: number): RoundForm {
  const centreline = form.centreline.map(
    (p): Piece =>
      p.kind === 'straight'
        ? { kind: 'straight', from: scale(p.from, s), to: scale(p.to, s) }
        : { ...p, centre: scale(p.centre, s), radius: p.radius * s },
  )
  return { ...form, centreline, radius: form.radius * s }
}

/** Slow and plain: distance of a point to a triangle. */
export function toTriangle(p: Vec3, a: Vec3, b: Vec3, c: Vec3): number {
  const n = cross(sub(b, a), sub(c, a))
  const inside = [
    [a, b],
    [b, c],
    [c, a],
  ].every(([u, v]) => dot(cross(n, sub(v, u)), sub(p, u)) >= 0)
  if (inside && dot(n, n) > 0) return Math.abs(dot(unit(n), sub(p, a)))
  return Math.min(toSegment(p, a, b), toSegment(p, b, c), toSegment(p, c, a))
}

export function toSegment(p: Vec3, a: Vec3, b: Vec3): number {
  const e = sub(b, a)
  const ee = dot(e, e)
  const t = ee > 0 ? Math.min(1, Math.max(0, dot(sub(p, a), e) / ee)) : 0
  return distance(p, along(a, e, t))
}
