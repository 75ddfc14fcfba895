import type { ConvexForm, Cylinder, MeshForm, Polytope } from '../shape/form.ts'
import { distance, type Vec3 } from '../shape/vec.ts'
import type { Clearance, ClearanceOptions } from './answer.ts'
import { deepestOfBody } from './bodyInMesh.ts'
import { isInside } from './inside.ts'
import { deepestInside } from './meshDepth.ts'
import { type MeshNearest, nearestOfAll, nearestOnMesh } from './meshSearch.ts'
import { type MeshTree, meshTree } from './meshTree.ts'
import type { PairClearance } from './pair.ts'
import { bodyInTree, outOfTree, Seeker } from './seeker.ts'

/**
 * Gap between a convex solid and a triangle mesh.
 * @param part  polytope or cylinder, frame near the origin, mm
 * @param mesh  closed: solid; open: surface only, nothing is inside of it
 * @returns bounds in mm. A part wholly inside a closed mesh overlaps it; one in a cavity of it does not; a piece of mesh
 * wholly inside the part overlaps. Overlaps are 'atLeast': the greatest depth found of a mesh point inside the part, or of
 * a part point inside the closed mesh.
 * Error: ≤ 1e-9 mm + 1e-12 of the largest coordinate unless stopped is not 'converged'.
 * Nearest points may jump between equal triangles; the gap is continuous in the pose.
 */
export const convexMesh: PairClearance<'convex', 'mesh'> = (part, mesh, options): Clearance => {
  const tree = meshTree(mesh.mesh)
  const found = nearestOnMesh(seekers[0].fill(part.body, mesh, tree), tree, options.upTo ?? Infinity)
  const answer = inCommonFrame(found, mesh, tree)
  if (found.contact !== 'none') return met(part.body, mesh, tree, answer, options)
  if (isInside(tree, [found.ax, found.ay, found.az])) return met(part.body, mesh, tree, answer, options)
  return answer
}

/**
 * Gap between several convex solids together and a triangle mesh, in one search: as `convexMesh` of the nearest of them.
 * @returns undefined where one of them meets the mesh: what is proved of the depth is to be asked one by one.
 */
export function convexesMesh(
  parts: readonly ConvexForm[],
  mesh: MeshForm,
  { upTo = Infinity }: ClearanceOptions,
): Clearance | undefined {
  const tree = meshTree(mesh.mesh)
  while (seekers.length < parts.length) seekers.push(new Seeker())
  for (let k = 0; k < parts.length; k++) seekers[k].fill(parts[k].body, mesh, tree)
  const found = nearestOfAll(seekers, parts.length, tree, upTo)
  if (found.contact !== 'none') return undefined
  for (let k = 0; k < parts.length; k++) {
    const { points } = seekers[k].set
    if (isInside(tree, [points[0], points[1], points[2]])) return undefined
  }
  return inCommonFrame(found, mesh, tree)
}

function inCommonFrame(found: MeshNearest, mesh: MeshForm, tree: MeshTree): Clearance {
  const { atLeast, atMost, stopped } = found
  return {
    atLeast,
    atMost,
    onPart: outOfTree(mesh, tree, [found.ax, found.ay, found.az]),
    onKeepOut: outOfTree(mesh, tree, [found.bx, found.by, found.bz]),
    stopped,
  }
}

// Room for one call, which does not call itself: no state survives it.
const seekers = [new Seeker()]

/** The answer where the two meet: 0, and the depth that is proved. */
function met(
  body: Polytope | Cylinder,
  mesh: MeshForm,
  tree: MeshTree,
  answer: Clearance,
  { depth }: ClearanceOptions,
): Clearance {
  if (depth === false)
    return { ...answer, atLeast: 0, atMost: 0, onKeepOut: answer.onPart, overlap: { kind: 'atLeast', depthAtLeast: 0 } }
  const inTree = bodyInTree(body, mesh, tree)
  const meshPoint = deepestInside(inTree, tree)
  const partPoint = deepestOfBody(inTree, tree)
  const meshDepth = Math.max(0, meshPoint.depth)
  const deepest = Math.max(meshDepth, partPoint.depth)
  if (deepest === 0) {
    // A touch: told apart from a gap or an overlap of rounding size by nobody.
    const touch = { ...answer, atLeast: 0, stopped: 'converged' as const }
    return touch.atMost > 0 ? touch : { ...touch, overlap: { kind: 'atLeast', depthAtLeast: 0 } }
  }
  const at = meshDepth >= partPoint.depth ? ([meshPoint.x, meshPoint.y, meshPoint.z] as Vec3) : partPoint.at
  const point = outOfTree(mesh, tree, at)
  return {
    atLeast: 0,
    atMost: 0,
    onPart: point,
    onKeepOut: point,
    stopped: 'converged',
    overlap: { kind: 'atLeast', depthAtLeast: lessRounding(deepest, tree, inTree) },
  }
}

function lessRounding(depth: number, tree: MeshTree, body: Polytope | Cylinder): number {
  const reach = body.kind === 'cylinder' ? distance(body.from, [0, 0, 0]) + distance(body.to, body.from) : tree.reach
  return Math.max(0, depth - 1e-14 * (reach + tree.reach))
}
