import type { ArcPiece, Piece, RoundForm } from '../../core/shape/form.ts'
import type { Mesh } from '../../core/shape/mesh.ts'
import { add, along, cross, distance, dot, scale, sub, unit, type Vec3 } from '../../core/shape/vec.ts'
import { arcPoint, type Disc, discAt, squareTo } from './tubes.ts'

/** Tube through corner points, each rounded to one bend radius; written apart from the project's own rounding. */
export function tubeThrough(corners: readonly Vec3[], bendRadius: number, radius: number): RoundForm {
  const pieces: Piece[] = []
  let from = corners[0]
  for (let i = 1; i + 1 < corners.length; i++) {
    const into = unit(sub(corners[i], corners[i - 1]))
    const out = unit(sub(corners[i + 1], corners[i]))
    const angle = Math.acos(dot(into, out))
    const start = along(corners[i], into, -bendRadius * Math.tan(angle / 2))
    const inward = unit(along(out, into, -dot(into, out)))
    const arc: ArcPiece = {
      kind: 'arc',
      centre: along(start, inward, bendRadius),
      x: scale(inward, -1),
      y: into,
      radius: bendRadius,
      angle,
    }
    pieces.push({ kind: 'straight', from, to: start }, arc)
    from = arcPoint(arc, angle)
  }
  pieces.push({ kind: 'straight', from, to: corners[corners.length - 1] })
  return { form: 'round', centreline: pieces, radius }
}

/**
 * Inscribed tessellation: rings of `sides` points on the tube's discs, one ring every `ringAngle` along arcs and every
 * `step` along straights, flat fans at both ends. Closed, outside out. Every vertex is a point of the tube.
 */
export function tessellated(form: RoundForm, sides: number, ringAngle: number, step: number): Mesh {
  const rings: { disc: Disc; u: Vec3 }[] = []
  let u: Vec3 | undefined
  form.centreline.forEach((piece, k) => {
    const size = piece.kind === 'arc' ? piece.angle / ringAngle : distance(piece.from, piece.to) / step
    const count = Math.max(1, Math.ceil(size - 1e-9))
    for (let i = k === 0 ? 0 : 1; i <= count; i++) {
      const disc = discAt(form, k, i / count)
      const carried: Vec3 = u ?? squareTo(disc.normal)[0]
      u = unit(along(carried, disc.normal, -dot(carried, disc.normal)))
      rings.push({ disc, u })
    }
  })
  const positions: number[] = []
  for (const { disc, u: across } of rings) {
    const v = cross(disc.normal, across)
    for (let i = 0; i < sides; i++) {
      const a = (2 * Math.PI * i) / sides
      positions.push(
        ...add(disc.centre, add(scale(across, form.radius * Math.cos(a)), scale(v, form.radius * Math.sin(a)))),
      )
    }
  }
  const last = rings.length - 1
  positions.push(...rings[0].disc.centre, ...rings[last].disc.centre)
  const triangles: number[] = []
  for (let k = 0; k < last; k++)
    for (let i = 0; i < sides; i++) {
      const a = k * sides + i
      const b = k * sides + ((i + 1) % sides)
      triangles.push(a, b, b + sides, a, b + sides, a + sides)
    }
  const middle = rings.length * sides
  for (let i = 0; i < sides; i++) {
    const j = (i + 1) % sides
    triangles.push(middle, j, i, middle + 1, last * sides + i, last * sides + j)
  }
  return { positions: Float64Array.from(positions), triangles: Uint32Array.from(triangles), closed: true }
}
