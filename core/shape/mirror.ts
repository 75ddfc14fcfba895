import type { Bounds, Form, Piece, Polytope, Solid } from './form.ts'
import type { Mat3, Vec3 } from './vec.ts'

/** 0 − y: exact, and never −0. */
const flip = ([x, y, z]: Vec3): Vec3 => [x, 0 - y, z]

/** The mirror times a matrix. */
const flipRow = ([a, b, c, d, e, f, g, h, i]: Mat3): Mat3 => [a, b, c, 0 - d, 0 - e, 0 - f, g, h, i]

/** The same solid on the other side of the car: mirrored in the plane Y = 0 of the bay. Exact; twice gives the solid back. */
export function mirroredSolid(solid: Solid): Solid {
  return { ...solid, forms: solid.forms.map(mirroredForm), bounds: mirroredBounds(solid.bounds) }
}

export function mirroredBounds({ min, max }: Bounds): Bounds {
  return { min: [min[0], 0 - max[1], min[2]], max: [max[0], 0 - min[1], max[2]] }
}

export function mirroredForm(form: Form): Form {
  switch (form.form) {
    case 'convex':
      if (form.body.kind === 'polytope') return { ...form, body: mirroredPolytope(form.body) }
      return { ...form, body: { ...form.body, from: flip(form.body.from), to: flip(form.body.to) } }
    case 'round':
      return { ...form, centreline: form.centreline.map(mirroredPiece) }
    case 'halfSpace':
      return { ...form, point: flip(form.point), normal: flip(form.normal) }
    case 'mesh':
      // The same mesh under a mirroring pose: trees built for the mesh serve both sides.
      return { ...form, pose: { turn: flipRow(form.pose.turn), at: flip(form.pose.at) } }
  }
}

function mirroredPolytope({ vertices, faces, planes }: Polytope): Polytope {
  return {
    kind: 'polytope',
    vertices: vertices.map((x, i) => (i % 3 === 1 ? 0 - x : x)),
    // A mirror turns every loop round; the first corner stays first, so that twice is the same.
    faces: faces.map(([first, ...rest]) => [first, ...rest.reverse()]),
    planes: planes.map((x, i) => (i % 4 === 1 ? 0 - x : x)),
  }
}

function mirroredPiece(piece: Piece): Piece {
  if (piece.kind === 'straight') return { ...piece, from: flip(piece.from), to: flip(piece.to) }
  return { ...piece, centre: flip(piece.centre), x: flip(piece.x), y: flip(piece.y) }
}
