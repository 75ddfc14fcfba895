import type { Clearance } from './answer.ts'
import { type MeshTree, meshTree } from './meshTree.ts'
import { epsilon } from './nearest.ts'
import type { PairClearance } from './pair.ts'
import { intoTree, outOfTree } from './seeker.ts'
import { along, dot, turnedBack, type Vec3 } from '../shape/vec.ts'

/**
 * Gap or depth of a mesh against a half-space: the mesh's lowest vertex along the normal decides both.
 * @param mesh, halfSpace  in one frame near the origin, mm
 * @returns bounds in mm; overlapping: the exact depth, for the shortest way out of a half-space is along its normal.
 * Error: rounding of two scalar products, counted.
 */
export const meshHalfSpace: PairClearance<'mesh', 'halfSpace'> = (mesh, halfSpace): Clearance => {
  const tree = meshTree(mesh.mesh)
  const n = turnedBack(mesh.pose.turn, halfSpace.normal)
  const offset = dot(n, intoTree(mesh, tree, halfSpace.point))
  const { positions } = tree
  const at = lowestVertex(tree, n)
  const least = dot(n, [positions[at], positions[at + 1], positions[at + 2]])
  const onPart = outOfTree(mesh, tree, [positions[at], positions[at + 1], positions[at + 2]])
  const gap = least - offset
  const slack =
    32 * epsilon * (tree.reach + Math.abs(offset) + size(mesh.pose.at) + size(tree.centre) + size(halfSpace.point))
  const onKeepOut: Vec3 = along(onPart, halfSpace.normal, -gap)
  if (gap > 0)
    return { atLeast: Math.max(0, gap - slack), atMost: gap + slack, onPart, onKeepOut, stopped: 'converged' }
  const overlap = {
    kind: 'exact',
    depthAtLeast: Math.max(0, -gap - slack),
    depthAtMost: -gap + slack,
    direction: halfSpace.normal,
  } as const
  return { atLeast: 0, atMost: 0, onPart, onKeepOut, stopped: 'converged', overlap }
}

const size = (v: Vec3): number => Math.abs(v[0]) + Math.abs(v[1]) + Math.abs(v[2])

/** Where in `positions` the vertex of least n·x begins, but for rounding: the lower child first, no box above the lowest. */
function lowestVertex({ boxes, right, first, count, corners, positions }: MeshTree, [nx, ny, nz]: Vec3): number {
  const lowest = (node: number): number => {
    const at = 6 * node
    return (
      nx * boxes[nx > 0 ? at : at + 3] + ny * boxes[ny > 0 ? at + 1 : at + 4] + nz * boxes[nz > 0 ? at + 2 : at + 5]
    )
  }
  let least = Infinity
  let found = 3 * corners[0]
  const stack = [0]
  while (stack.length > 0) {
    const node = stack.pop() as number
    if (lowest(node) >= least) continue
    if (right[node] >= 0) {
      const isLeft = lowest(node + 1) <= lowest(right[node])
      stack.push(isLeft ? right[node] : node + 1, isLeft ? node + 1 : right[node])
      continue
    }
    for (let i = 3 * first[node]; i < 3 * (first[node] + count[node]); i++) {
      const at = 3 * corners[i]
      const d = nx * positions[at] + ny * positions[at + 1] + nz * positions[at + 2]
      if (d >= least) continue
      least = d
      found = at
    }
  }
  return found
}
