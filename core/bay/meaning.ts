import type { BayView } from './bayView.ts'
import { senseTroubles } from './sense.ts'
import { outlineTroubles, shapeTroubles } from './shapeTroubles.ts'
import { textTroubles } from './textSense.ts'
import type { Trouble } from './trouble.ts'

/**
 * What is wrong with a bay beyond its schema: texts, how its items go together, and the geometry of every shape without a
 * mesh.
 * @param looked what is looked at by itself: the bay, or the bay with only some of its items
 * @param view   of what is looked at
 * @param whole  of the bay, since items go together with all others
 */
export function meaningTroubles(looked: unknown, view: BayView, whole: BayView): Trouble[] {
  return [
    ...textTroubles(looked),
    ...senseTroubles(whole),
    ...view.keepOuts.flatMap(shapeTroubles),
    ...view.openings.flatMap(outlineTroubles),
  ]
}
