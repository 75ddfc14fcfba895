import type { Cylinder, Polytope } from '../shape/form.ts'
import { add, along, scale, sub, type Vec3 } from '../shape/vec.ts'
import { isInside } from './inside.ts'
import { nearestOnMesh } from './meshSearch.ts'
import type { MeshTree } from './meshTree.ts'
import { Seeker } from './seeker.ts'
import { emptySet, setDiscFrame } from './support.ts'

/** So many corners and so many faces of a body are looked at, spread over all; a body has a handful as a rule. */
const most = 24

/**
 * Deepest of some points of a convex body inside a closed mesh, and its distance to the surface, mm: to part the two, that
 * point has to leave the mesh, so no shorter shift than its depth separates them. Depth 0 where none is inside, and of an
 * open mesh.
 * @param body, tree  in the tree's frame, mm
 */
export function deepestOfBody(
  body: Polytope | Cylinder,
  tree: MeshTree,
): { readonly depth: number; readonly at: Vec3 } {
  let best: { depth: number; at: Vec3 } = { depth: 0, at: [0, 0, 0] }
  if (!tree.mesh.closed) return best
  for (const point of body.kind === 'polytope' ? pointsOfPolytope(body) : pointsOfCylinder(body)) {
    const [x, y, z] = point
    if (!isInside(tree, [x, y, z])) continue
    const { atLeast } = nearestOnMesh(seeker.fillPoint(x, y, z), tree, Infinity)
    if (atLeast > best.depth) best = { depth: atLeast, at: point }
  }
  return best
}

const seeker = new Seeker()

/** Corners, points halfway from them to the middle, middles of faces: a body may poke into a mesh with any of them. */
function pointsOfPolytope({ vertices, faces }: Polytope): Vec3[] {
  const corner = (i: number): Vec3 => [vertices[3 * i], vertices[3 * i + 1], vertices[3 * i + 2]]
  const corners = spread(vertices.length / 3).map(corner)
  const middle = middleOf(corners)
  return [
    middle,
    ...corners,
    ...corners.map((p) => middleOf([p, middle])),
    ...spread(faces.length).map((f) => middleOf(faces[f].map(corner))),
  ]
}

/** Middle, ends, eight points of each rim. */
function pointsOfCylinder({ from, to, radius }: Cylinder): Vec3[] {
  const axis = sub(to, from)
  const set = emptySet()
  setDiscFrame(set, radius, axis[0], axis[1], axis[2])
  const rim = Array.from({ length: 8 }, (_, i): Vec3 => {
    const [c, s] = [radius * Math.cos((i * Math.PI) / 4), radius * Math.sin((i * Math.PI) / 4)]
    return [c * set.ux + s * set.vx, c * set.uy + s * set.vy, c * set.uz + s * set.vz]
  })
  // A hair within, so that rounding does not lay them outside of the body.
  const within = 1 - 1e-12
  return [
    along(from, axis, 0.5),
    from,
    to,
    ...rim.flatMap((out): Vec3[] => [along(from, out, within), along(to, out, within)]),
  ]
}

/** Up to `most` of the numbers below n, evenly. */
const spread = (n: number): number[] =>
  n <= most
    ? Array.from({ length: n }, (_, i) => i)
    : Array.from({ length: most }, (_, i) => Math.floor((i * n) / most))

const middleOf = (points: readonly Vec3[]): Vec3 => scale(points.reduce(add), 1 / points.length)
