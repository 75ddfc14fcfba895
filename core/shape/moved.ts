import type { Form, Piece, Polytope, Solid } from './form.ts'
import { polytopeOf, vertexAt } from './polytope.ts'
import { solidFrom } from './solid.ts'
import { placed, type Pose, product, turned, type Vec3 } from './vec.ts'

/**
 * The same solid carried along: every point x goes to turn·x + at.
 * @param pose a proper turn; mirror images are made by `mirroredSolid`
 * Error: rounding, a few units in the last place of the coordinates.
 */
export const movedSolid = ({ forms }: Solid, pose: Pose): Solid => solidFrom(forms.map((form) => movedForm(form, pose)))

function movedForm(form: Form, pose: Pose): Form {
  switch (form.form) {
    case 'convex': {
      const { body } = form
      if (body.kind === 'polytope') return { ...form, body: movedPolytope(body, pose) }
      return { ...form, body: { ...body, from: placed(pose, body.from), to: placed(pose, body.to) } }
    }
    case 'round':
      return { ...form, centreline: form.centreline.map((piece) => movedPiece(piece, pose)) }
    case 'halfSpace':
      return { ...form, point: placed(pose, form.point), normal: turned(pose.turn, form.normal) }
    case 'mesh':
      return { ...form, pose: { turn: product(pose.turn, form.pose.turn), at: placed(pose, form.pose.at) } }
  }
}

function movedPolytope(body: Polytope, pose: Pose): Polytope {
  const vertices = new Float64Array(body.vertices.length)
  for (let i = 0; 3 * i < vertices.length; i++) vertices.set(placed(pose, vertexAt(body, i)), 3 * i)
  const normals = body.faces.map((_, f): Vec3 => {
    const [x, y, z] = body.planes.subarray(4 * f)
    return turned(pose.turn, [x, y, z])
  })
  return polytopeOf(vertices, body.faces, normals)
}

function movedPiece(piece: Piece, pose: Pose): Piece {
  if (piece.kind === 'straight') return { ...piece, from: placed(pose, piece.from), to: placed(pose, piece.to) }
  const { centre, x, y } = piece
  return { ...piece, centre: placed(pose, centre), x: turned(pose.turn, x), y: turned(pose.turn, y) }
}
