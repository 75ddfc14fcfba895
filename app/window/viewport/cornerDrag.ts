import type { Vec3 } from '../../../core/shape/vec.ts'
import { PacedDrag } from '../handles/pacedDrag.ts'
import { moveCorner, newVisit } from '../pipes/cornerEdits.ts'
import type { History } from '../state/history.ts'
import type { WindowStore } from '../state/windowState.ts'
import type { Rig } from './camera.ts'
import { dragged } from './cornerWays.ts'

export interface Held {
  readonly oneAxis: boolean
  readonly step: number
}

/** One drag of a corner of the pipe that is looked at, from press to release. */
export class CornerDrag {
  private readonly from: Vec3
  private readonly rig: Rig
  private readonly start: readonly [number, number]
  private readonly drag: PacedDrag<Vec3>

  /**
   * @param start where the pointer went down, pixels
   * @param before the history from before anything was done for this drag
   * @param shown is told where the corner is in the hand; null when the drag is over
   * @param visit of an edit that this drag goes on with: a corner that was just put in
   */
  constructor(
    { store, corner, from, rig }: { store: WindowStore; corner: number; from: Vec3; rig: Rig },
    start: readonly [number, number],
    before: History | null,
    shown: (at: Vec3 | null) => void,
    visit = newVisit(),
  ) {
    this.from = from
    this.rig = rig
    this.start = start
    // A place that the bay refuses (on another corner) is passed over.
    const give = (at: Vec3) => moveCorner(store, corner, at, visit)
    this.drag = new PacedDrag({ store, from, before, isSame, give, shown })
  }

  move(x: number, y: number, held: Held): void {
    this.drag.move(dragged(this.from, [x - this.start[0], y - this.start[1]], this.rig, held))
  }

  end(): void {
    this.drag.end()
  }

  cancel(): void {
    this.drag.cancel()
  }
}

const isSame = (one: Vec3, other: Vec3): boolean => one.every((x, k) => x === other[k])
