import { carriedFrom, poseAfter, poseOf } from '../../../core/seat/move.ts'
import type { Bounds } from '../../../core/shape/form.ts'
import { placed, type Pose, type Vec3 } from '../../../core/shape/vec.ts'
import type { Here } from '../state/context.ts'
import { candidateIn } from '../state/windowState.ts'
import { type Frame, fitted, onScreen, type Rig } from '../viewport/camera.ts'

/** Steps back in the drawing where the whole way in is not seen: nobody should play what happens outside of the picture. */
export function seeAll({ room, eye }: Here): void {
  const state = room.store.getState()
  const candidate = candidateIn(state)
  const { motion } = state
  if (!candidate || !motion) return
  const seat = poseOf(candidate)
  const { parts, bounds: whole } = room.scene.getState()
  const moving = parts.filter(({ key }) => motion.moving.includes(key))
  const way = Array.from({ length: motion.path.moves.length + 1 }, (_, n) =>
    carriedFrom(seat, poseAfter(motion.path, n)),
  )
  const corners = way.flatMap((pose) => moving.flatMap(({ bounds }) => cornersOf(bounds, pose)))
  const frame = eye.store.getState().frame
  if (corners.length === 0 || corners.every((corner) => isSeen(corner, eye.rig(state.view), frame))) return
  eye.fly(state.view, (rig) => fitted(rig, around(whole ? [...corners, whole.min, whole.max] : corners), frame))
}

function isSeen(corner: Vec3, rig: Rig, frame: Frame): boolean {
  const [x, y] = onScreen(corner, rig, frame)
  return x > 0 && x < frame.width && y > frame.top / 2 && y < frame.height
}

const cornersOf = ({ min, max }: Bounds, pose: Pose): Vec3[] =>
  [0, 1, 2, 3, 4, 5, 6, 7].map((i) =>
    placed(pose, [i & 1 ? max[0] : min[0], i & 2 ? max[1] : min[1], i & 4 ? max[2] : min[2]]),
  )

function around(points: readonly Vec3[]): Bounds {
  const end = (of: (...xs: number[]) => number) =>
    [0, 1, 2].map((k) => of(...points.map((point) => point[k]))) as unknown as Vec3
  return { min: end(Math.min), max: end(Math.max) }
}
