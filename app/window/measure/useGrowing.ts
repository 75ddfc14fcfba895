import { useEffect } from 'react'
import type { Bounds } from '../../../core/shape/form.ts'
import { useHere } from '../state/context.ts'

/** Less than this is not worth a flight, mm. */
const noticed = 1

/**
 * While something is typed into the sheet, the drawing keeps all of the bay in sight: what is measured next often lies
 * beyond what was. Nothing moves under a hand that drags in the drawing itself.
 */
export function useGrowing(): void {
  const { room, eye } = useHere()
  useEffect(
    () =>
      room.scene.subscribe(({ bounds, opened }, before) => {
        if (!bounds || opened !== before.opened || !isTypedInto()) return
        if (before.bounds === null || reachesBeyond(bounds, before.bounds))
          eye.flyToAll(room.store.getState().view, bounds)
      }),
    [room, eye],
  )
}

const isTypedInto = (): boolean => document.activeElement?.closest('.side-sheet, .popover') !== null

const reachesBeyond = (now: Bounds, before: Bounds): boolean =>
  now.min.some((x, k) => x < before.min[k] - noticed) || now.max.some((x, k) => x > before.max[k] + noticed)
