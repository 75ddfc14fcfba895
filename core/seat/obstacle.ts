import { type MeshTree, meshTree } from '../clearance/meshTree.ts'
import { type ConvexSet, setOf } from '../clearance/support.ts'
import { boundsOf } from '../shape/bounds.ts'
import type { Form, HalfSpaceForm, MeshForm, RoundForm, Solid } from '../shape/form.ts'

/** One form of a keep-out, ready to be asked again and again; bay frame, mm. */
export type Obstacle = { /** Least x, y, z, greatest x, y, z. */ readonly box: Float64Array } & (
  | { readonly kind: 'convex'; readonly set: ConvexSet }
  | { readonly kind: 'halfSpace'; readonly form: HalfSpaceForm }
  | { readonly kind: 'round'; readonly form: RoundForm }
  | { readonly kind: 'mesh'; readonly form: MeshForm; readonly tree: MeshTree }
)

export const obstaclesOf = (solid: Solid): Obstacle[] => solid.forms.flatMap(byPiece).map(obstacleOf)

function obstacleOf(form: Form): Obstacle {
  const { min, max } = boundsOf(form)
  const box = Float64Array.of(...min, ...max)
  switch (form.form) {
    case 'convex':
      return { kind: 'convex', box, set: setOf(form.body) }
    case 'halfSpace':
      return { kind: 'halfSpace', box, form }
    case 'mesh':
      return { kind: 'mesh', box, form, tree: meshTree(form.mesh) }
    case 'round': {
      const [piece] = form.centreline
      if (form.centreline.length > 1 || piece.kind === 'arc') return { kind: 'round', box, form }
      const { from, to } = piece
      return { kind: 'convex', box, set: setOf({ kind: 'cylinder', from, to, radius: form.radius }) }
    }
  }
}

/** Long tubes piece by piece: most of them are kept away by their boxes. Pieces too short to have a direction stay joined. */
function byPiece(form: Form): Form[] {
  if (form.form !== 'round' || form.centreline.length === 1) return [form]
  const short = form.centreline.some(
    (piece) => piece.kind === 'straight' && Math.hypot(...piece.from.map((x, k) => piece.to[k] - x)) < 1e-3,
  )
  return short ? [form] : form.centreline.map((piece) => ({ ...form, centreline: [piece] }))
}
