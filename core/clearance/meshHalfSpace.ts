import type { Clearance } from './answer.ts'
import { meshTree } from './meshTree.ts'
import { epsilon } from './nearest.ts'
import type { PairClearance } from './pair.ts'
import { intoTree, outOfTree } from './seeker.ts'
import { along, dot, turnedBack, type Vec3 } from '../shape/vec.ts'

/**
 * Gap or depth of a mesh against a half-space: the mesh's lowest vertex along the normal decides both.
 * @param mesh, halfSpace  in one frame near the origin, mm
 * @returns bounds in mm; overlapping: the exact depth, for the shortest way out of a half-space is along its normal.
 * Error: rounding of one scalar product, counted.
 */
export const meshHalfSpace: PairClearance<'mesh', 'halfSpace'> = (mesh, halfSpace): Clearance => {
  const tree = meshTree(mesh.mesh)
  const n = turnedBack(mesh.pose.turn, halfSpace.normal)
  const offset = dot(n, intoTree(mesh, tree, halfSpace.point))
  const { positions } = tree
  let least = Infinity
  let at = 0
  for (let i = 0; i < positions.length; i += 3) {
    const d = n[0] * positions[i] + n[1] * positions[i + 1] + n[2] * positions[i + 2]
    if (d < least) {
      least = d
      at = i
    }
  }
  const onPart = outOfTree(mesh, tree, [positions[at], positions[at + 1], positions[at + 2]])
  const gap = least - offset
  const slack = 16 * epsilon * (tree.reach + Math.abs(offset))
  const onKeepOut: Vec3 = along(onPart, halfSpace.normal, -gap)
  if (gap > 0) return { atLeast: Math.max(0, gap - slack), atMost: gap + slack, onPart, onKeepOut, stopped: 'converged' }
  const overlap = {
    kind: 'exact',
    depthAtLeast: Math.max(0, -gap - slack),
    depthAtMost: -gap + slack,
    direction: halfSpace.normal,
  } as const
  return { atLeast: 0, atMost: 0, onPart, onKeepOut, stopped: 'converged', overlap }
}
