import type { Bay } from '../../../core/bay/schema.ts'
import type { DrawnSolid } from '../../worker/protocol.ts'
import type { AidStore } from './aids.ts'
import type { SceneStore } from './scene.ts'
import { bayOf, type WindowStore } from './windowState.ts'

const nothing: readonly DrawnSolid[] = []

/**
 * Keeps the outlines of the candidate that is laid over the drawing in step with the bay. The newest wish counts; nothing is laid
 * over itself, and a candidate that has no solids leaves its former outlines to no one.
 * @param outlines of a candidate's parts, as the worker draws them
 */
export function followOverlaid(
  store: WindowStore,
  aids: AidStore,
  scene: SceneStore,
  outlines: (bay: Bay, candidate: string) => Promise<readonly DrawnSolid[]>,
): void {
  let wishes = 0
  let drawn: readonly [Bay, string] | null = null
  const follow = async () => {
    const state = store.getState()
    const [bay, { overlaid }] = [bayOf(state), aids.getState()]
    const wanted = bay && overlaid !== null && overlaid !== state.candidate ? overlaid : null
    if (!bay || wanted === null || !bay.candidates.some(({ id }) => id === wanted)) {
      wishes++
      drawn = null
      if (scene.getState().other.length > 0) scene.setState({ other: nothing })
      return
    }
    if (drawn?.[0] === bay && drawn[1] === wanted) return
    drawn = [bay, wanted]
    const own = ++wishes
    const other = await outlines(bay, wanted)
    if (own === wishes) scene.setState({ other })
  }
  aids.subscribe(({ overlaid }, before) => overlaid !== before.overlaid && void follow())
  store.subscribe((state, before) => {
    if (bayOf(state) !== bayOf(before) || state.candidate !== before.candidate) void follow()
  })
}
