import type { Bounds } from '../../../core/shape/form.ts'
import type { Here } from '../state/context.ts'
import { bayOf, candidateIn } from '../state/windowState.ts'
import { fitted } from '../viewport/camera.ts'
import { pointsOf } from './run.ts'

/** Around a pipe there has to be seen what it passes: so many of its diameters on each side. */
const around = 2.5

/** Flies to where all of a pipe is seen from near by, as choosing a row of the ledger flies to its gap. */
export function lookAt({ room, eye }: Here, pipeId: string): void {
  const state = room.store.getState()
  const [bay, candidate] = [bayOf(state), candidateIn(state)]
  const pipe = candidate?.pipes?.find(({ id }) => id === pipeId)
  const points = bay && candidate && pipe && pointsOf(bay, candidate, pipe)
  if (!points || !pipe) return
  const margin = around * pipe.outsideDiameter
  const end = (of: (...xs: number[]) => number, by: number) =>
    [0, 1, 2].map((k) => of(...points.map((point) => point[k])) + by) as unknown as Bounds['min']
  const bounds: Bounds = { min: end(Math.min, -margin), max: end(Math.max, margin) }
  eye.fly(state.view, (rig, frame) => fitted(rig, bounds, frame))
}
