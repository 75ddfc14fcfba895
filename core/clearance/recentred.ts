import type { Bounds, Form, Piece, Solid } from '../shape/form.ts'
import { add, sub, type Vec3 } from '../shape/vec.ts'

/** Coordinates below this lose no more than 1e-11 mm to rounding; carrying the solids nearer would gain nothing. */
const nearEnough = 1000

/**
 * Point near which two solids meet or face each other, in whole millimetres, so that most coordinates are carried there
 * without rounding. The origin where that is near enough.
 */
export function meetingPoint(part: Solid, keepOut: Solid): Vec3 {
  const middle = [0, 1, 2].map((k) => Math.round(middleOf(part.bounds, keepOut.bounds, k, fixedPoint(part, keepOut))))
  return middle.every((x) => Math.abs(x) <= nearEnough) ? [0, 0, 0] : [middle[0], middle[1], middle[2]]
}

/** Middle of what the two have in common along an axis, or of the gap; half-spaces reach to infinity and leave it open. */
function middleOf(a: Bounds, b: Bounds, k: number, fixed: Vec3): number {
  const low = Math.max(a.min[k], b.min[k])
  const high = Math.min(a.max[k], b.max[k])
  if (Number.isFinite(low) && Number.isFinite(high)) return low / 2 + high / 2
  if (Number.isFinite(low)) return low
  return Number.isFinite(high) ? high : fixed[k]
}

function fixedPoint(part: Solid, keepOut: Solid): Vec3 {
  for (const form of [...part.forms, ...keepOut.forms]) if (form.form === 'halfSpace') return form.point
  return [0, 0, 0]
}

/** The form as seen from `centre`: every coordinate less the centre's. */
export function recentred(form: Form, centre: Vec3): Form {
  switch (form.form) {
    case 'convex': {
      const { body } = form
      if (body.kind === 'cylinder')
        return { form: 'convex', body: { ...body, from: sub(body.from, centre), to: sub(body.to, centre) } }
      const vertices = shifted(body.vertices, centre)
      return { form: 'convex', body: { ...body, vertices, planes: shiftedPlanes(body.planes, vertices) } }
    }
    case 'round':
      return { ...form, centreline: form.centreline.map((piece) => shiftedPiece(piece, centre)) }
    case 'mesh':
      return { ...form, pose: { turn: form.pose.turn, at: sub(form.pose.at, centre) } }
    case 'halfSpace':
      return { ...form, point: sub(form.point, centre) }
  }
}

function shifted(vertices: Float64Array, [x, y, z]: Vec3): Float64Array {
  const out = new Float64Array(vertices.length)
  for (let i = 0; i < out.length; i += 3) {
    out[i] = vertices[i] - x
    out[i + 1] = vertices[i + 1] - y
    out[i + 2] = vertices[i + 2] - z
  }
  return out
}

/** Offsets measured anew on the vertices: shifted by a scalar product, they would be off by the rounding of far coordinates. */
function shiftedPlanes(planes: Float64Array, vertices: Float64Array): Float64Array {
  const out = planes.slice()
  for (let i = 0; i < out.length; i += 4) {
    let offset = -Infinity
    for (let v = 0; v < vertices.length; v += 3)
      offset = Math.max(offset, out[i] * vertices[v] + out[i + 1] * vertices[v + 1] + out[i + 2] * vertices[v + 2])
    out[i + 3] = offset
  }
  return out
}

function shiftedPiece(piece: Piece, centre: Vec3): Piece {
  if (piece.kind === 'arc') return { ...piece, centre: sub(piece.centre, centre) }
  return { ...piece, from: sub(piece.from, centre), to: sub(piece.to, centre) }
}

export const carriedBack = (point: Vec3, centre: Vec3): Vec3 => add(point, centre)
