import type { Bounds } from '../../../core/shape/form.ts'
import type { DrawnSolid } from '../../worker/protocol.ts'
import type { Here } from '../state/context.ts'
import { fitted } from '../viewport/camera.ts'

/** Around a solid there has to be seen what it stands among, mm. */
const around = 150

/** Flies to where a solid is seen among its neighbours; what goes on without end is left where it is. */
export function lookAtSolid({ room, eye }: Here, side: DrawnSolid['side'], key: string): void {
  const scene = room.scene.getState()
  const solid = (side === 'part' ? scene.parts : scene.keepOuts).find((each) => each.key === key)
  if (!solid || ![...solid.bounds.min, ...solid.bounds.max].every(Number.isFinite)) return
  const { min, max } = solid.bounds
  const bounds = { min: min.map((x) => x - around), max: max.map((x) => x + around) } as unknown as Bounds
  eye.fly(room.store.getState().view, (rig, frame) => fitted(rig, bounds, frame))
}
