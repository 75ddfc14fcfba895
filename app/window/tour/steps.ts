import type { Stage } from '../state/windowState.ts'
import type { words } from '../words.ts'

export interface TourStep {
  readonly name: keyof typeof words.tour.steps
  /** The stage that it is told in. */
  readonly stage: Stage
  /** What it points at: the first of these that is there. */
  readonly at: readonly string[]
  readonly placement: 'right top' | 'left top' | 'bottom start'
}

/** From the car to the workshop in four steps. */
export const tourSteps: readonly TourStep[] = [
  { name: 'measure', stage: 'measure', at: ['.side-sheet-measure .side-head', '.side-sheet'], placement: 'right top' },
  { name: 'core', stage: 'core', at: ['.largest', '.side-sheet-core'], placement: 'right top' },
  { name: 'gaps', stage: 'gaps', at: ['.ledger .counts', '.ledger-head'], placement: 'left top' },
  { name: 'hand', stage: 'gaps', at: ['.brand-button'], placement: 'bottom start' },
]
