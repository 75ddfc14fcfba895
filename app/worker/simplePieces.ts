import type { Form, Piece, Polytope, Solid } from '../../core/shape/form.ts'
import { distance, dot, sub, unit, type Vec3 } from '../../core/shape/vec.ts'
import { mostPlanes, type SimplePiece } from './protocol.ts'

/** The pieces of a solid for the drawing of overlaps; none where one of its forms is too complicated for a shader. */
export function simplePieces(solid: Solid, origin: Vec3): SimplePiece[] {
  const pieces = solid.forms.map((form) => piecesOf(form, origin))
  return pieces.every((some) => some.length > 0) ? pieces.flat() : []
}

function piecesOf(form: Form, origin: Vec3): SimplePiece[] {
  switch (form.form) {
    case 'mesh':
      return []
    case 'halfSpace':
      return [planesPiece([[...form.normal, dot(form.normal, sub(form.point, origin))]])]
    case 'round':
      return form.centreline.map((piece) => roundPiece(piece, form.radius, origin))
    case 'convex':
      return form.body.kind === 'cylinder'
        ? [straightPiece(form.body.from, form.body.to, form.body.radius, origin)]
        : polytopePieces(form.body, origin)
  }
}

function polytopePieces({ planes }: Polytope, origin: Vec3): SimplePiece[] {
  if (planes.length / 4 > mostPlanes) return []
  const shifted = Array.from({ length: planes.length / 4 }, (_, i) => {
    const normal: Vec3 = [planes[4 * i], planes[4 * i + 1], planes[4 * i + 2]]
    return [...normal, planes[4 * i + 3] - dot(normal, origin)]
  })
  return [planesPiece(shifted)]
}

const planesPiece = (planes: readonly (readonly number[])[]): SimplePiece => ({
  kind: 'planes',
  numbers: Float32Array.from(planes.flat()),
})

function roundPiece(piece: Piece, radius: number, origin: Vec3): SimplePiece {
  if (piece.kind === 'straight') return straightPiece(piece.from, piece.to, radius, origin)
  const numbers = [...sub(piece.centre, origin), ...piece.x, ...piece.y, piece.radius, piece.angle, radius]
  return { kind: 'arc', numbers: Float32Array.from(numbers) }
}

const straightPiece = (from: Vec3, to: Vec3, radius: number, origin: Vec3): SimplePiece => ({
  kind: 'straight',
  numbers: Float32Array.from([...sub(from, origin), ...unit(sub(to, from)), distance(from, to), radius]),
})
