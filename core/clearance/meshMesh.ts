import type { MeshForm } from '../shape/form.ts'
import { placed, type Vec3 } from '../shape/vec.ts'
import type { Clearance, ClearanceOptions } from './answer.ts'
import { isInside } from './inside.ts'
import { deepestVertex } from './meshMeshDepth.ts'
import { pieceVertices } from './meshPieces.ts'
import { nearestOnMesh } from './meshSearch.ts'
import { type MeshTree, meshTree } from './meshTree.ts'
import { emptyNearest, type Nearest } from './nearest.ts'
import type { PairClearance } from './pair.ts'
import { relativePose } from './relativePose.ts'
import { intoTree, outOfTree, pointSeeker } from './seeker.ts'
import { nearestOfTrees } from './treePair.ts'

/**
 * Gap between two meshes.
 * @param a, b  in one frame near the origin, mm; a closed one is solid, an open one a surface
 * @returns bounds in mm. Where a piece of one lies wholly inside the other, closed one, they overlap; a cavity is not
 * inside. Depth: 'atLeast', the depth of the deepest vertex found of either inside the other, closed one; 0 where none is.
 * Touching to rounding: atLeast 0, atMost the distance of the witnesses, an overlap only if they coincide.
 * Error: ≤ 1e-9 mm + 1e-12 of the largest coordinate unless stopped is 'upTo'.
 * Nearest points may jump between equal triangles; the gap is continuous in the pose.
 * Source: see `treePair.ts`, `inside.ts`.
 */
export const meshMesh: PairClearance<'mesh', 'mesh'> = (a, b, options): Clearance => {
  const treeA = meshTree(a.mesh)
  const treeB = meshTree(b.mesh)
  const pose = relativePose(a, treeA, b, treeB)
  const start = startFrom(options, a, treeA, b, treeB)
  const found = nearestOfTrees(treeA, treeB, pose, options.upTo ?? Infinity, start)
  const answer: Clearance = {
    atLeast: found.atLeast,
    atMost: found.atMost,
    onPart: outOfTree(a, treeA, [found.ax, found.ay, found.az]),
    onKeepOut: outOfTree(a, treeA, [found.bx, found.by, found.bz]),
    stopped: found.stopped,
  }
  const inner = found.contact === 'none' ? (innerPoint(a, b, treeB) ?? innerPoint(b, a, treeA)) : undefined
  if (found.contact === 'none' && !inner) return answer
  const deepest = options.depth === false ? undefined : deepestOf(a, treeA, b, treeB)
  if (!deepest && !inner && answer.atMost > 0) return { ...answer, atLeast: 0, stopped: 'converged' }
  const depthAtLeast = deepest?.depth ?? 0
  const at = deepest?.at ?? inner
  return {
    atLeast: 0,
    atMost: 0,
    onPart: at ?? answer.onPart,
    onKeepOut: at ?? answer.onPart,
    stopped: 'converged',
    overlap: { kind: 'atLeast', depthAtLeast },
  }
}

/** With fewer triangles than this a search from the start is quicker than the two nearest points below. */
const worthStarting = 20_000

/** From a former witness on b to the nearest point of a, and from there to the nearest of b: a pair close to the answer. */
function startFrom(
  { near }: ClearanceOptions,
  a: MeshForm,
  treeA: MeshTree,
  b: MeshForm,
  treeB: MeshTree,
): Nearest | undefined {
  if (!near || treeA.corners.length + treeB.corners.length < 3 * worthStarting) return undefined
  const onA = nearestOnMesh(pointSeeker(intoTree(a, treeA, near.onKeepOut)), treeA, Infinity)
  const from = outOfTree(a, treeA, [onA.bx, onA.by, onA.bz])
  const onB = nearestOnMesh(pointSeeker(intoTree(b, treeB, from)), treeB, Infinity)
  const [bx, by, bz] = intoTree(a, treeA, outOfTree(b, treeB, [onB.bx, onB.by, onB.bz]))
  const { bx: ax, by: ay, bz: az } = onA
  return { ...emptyNearest(), ax, ay, az, bx, by, bz, atMost: Math.hypot(ax - bx, ay - by, az - bz) }
}

/** A point of a piece of `inner` that lies inside `outer`; the surfaces do not cross. */
function innerPoint(inner: MeshForm, outer: MeshForm, tree: MeshTree): Vec3 | undefined {
  if (!outer.mesh.closed) return undefined
  const { positions } = inner.mesh
  for (const vertex of pieceVertices(inner.mesh)) {
    const i = 3 * vertex
    const point = placed(inner.pose, [positions[i], positions[i + 1], positions[i + 2]])
    if (isInside(tree, intoTree(outer, tree, point))) return point
  }
  return undefined
}

function deepestOf(
  a: MeshForm,
  treeA: MeshTree,
  b: MeshForm,
  treeB: MeshTree,
): { depth: number; at: Vec3 } | undefined {
  const inB = b.mesh.closed ? deepestVertex(treeA, treeB, relativePose(b, treeB, a, treeA)) : undefined
  const inA = a.mesh.closed ? deepestVertex(treeB, treeA, relativePose(a, treeA, b, treeB)) : undefined
  const isB = (inB?.depth ?? 0) >= (inA?.depth ?? 0)
  const deepest = isB ? inB : inA
  if (!deepest || deepest.depth === 0) return undefined
  const point: Vec3 = [deepest.x, deepest.y, deepest.z]
  return { depth: deepest.depth, at: isB ? outOfTree(b, treeB, point) : outOfTree(a, treeA, point) }
}
