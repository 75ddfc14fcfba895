import { type PointerEvent, useEffect, useRef } from 'react'
import type { Grip } from '../../../core/bay/grips/grip.ts'
import { useHere } from '../state/context.ts'
import { stepOf } from '../editors/quantity.ts'
import type { Rig } from '../viewport/camera.ts'
import { dragged } from '../viewport/cornerWays.ts'
import { giveValue, type GripValue, isSameValue, newVisit } from './giving.ts'
import { PacedDrag } from './pacedDrag.ts'
import { untilReleased } from './untilReleased.ts'
import { slideBy, turnBy } from './pull.ts'
import { ruleOf } from './rules.ts'
import { type Snapped, snapped, type SnappedTo } from './snapping.ts'
import type { Thing } from './thing.ts'

/** What is in the hand, and what it came to rest at. */
export interface InHand {
  readonly id: string
  readonly value: GripValue
  readonly to: SnappedTo | null
}

/** Follows the pointer from press to release; Escape gives the drag up. @param thing as it is now, whenever it is asked */
export function useGripDrag(thing: () => Thing | null, rig: Rig, show: (hand: InHand | null) => void) {
  const { room } = useHere()
  const { store } = room
  const end = useRef<(() => void) | null>(null)
  useEffect(() => () => end.current?.(), [])
  return (event: PointerEvent<HTMLElement>, grip: Grip<unknown>) => {
    const held = thing()
    if (event.button !== 0 || end.current || !held) return
    const { currentTarget: element, pointerId, clientX, clientY } = event
    const visit = newVisit()
    let to: SnappedTo | null = null
    const drag = new PacedDrag<GripValue>({
      store,
      from: grip.value,
      before: store.getState().history,
      isSame: isSameValue,
      give: (value) => {
        const now = thing()
        return now !== null && giveValue(store, now, grip.id, value, grip.value, visit).ok
      },
      shown: (value) => show(value === null ? null : { id: grip.id, value, to }),
    })
    store.setState({ held: held.item })
    const move = (moved: globalThis.PointerEvent) => {
      const by = [moved.clientX - clientX, moved.clientY - clientY] as const
      const pulled = pulledTo(grip, by, rig, moved, held, store.getState())
      to = pulled.to
      drag.move(pulled.value)
    }
    end.current = untilReleased(element, pointerId, move, (how) => {
      end.current = null
      store.setState({ held: null })
      drag[how]()
    })
  }
}

type Keys = Pick<globalThis.PointerEvent, 'altKey' | 'shiftKey'>

/** Where a pull takes a grip, and what it comes to rest at. Alt lets go of all but the finest step. */
function pulledTo(
  grip: Grip<unknown>,
  by: readonly [number, number],
  rig: Rig,
  { altKey, shiftKey }: Keys,
  thing: Thing,
  state: Parameters<typeof ruleOf>[0],
): { readonly value: GripValue; readonly to: SnappedTo | null } {
  const size = altKey ? 'fine' : 'plain'
  if (grip.kind === 'place') {
    const step = stepOf('length', state.units, size)
    return { value: dragged(grip.value, by, rig, { oneAxis: shiftKey, step }), to: null }
  }
  const value = grip.value + (grip.kind === 'turn' ? turnBy(grip, by, rig) : slideBy(grip.way, by, rig))
  const rest: Snapped = snapped(value, ruleOf(state, thing, grip, size, rig.scale))
  const least = grip.kind === 'slide' ? (grip.least ?? Number.NEGATIVE_INFINITY) : Number.NEGATIVE_INFINITY
  return { value: Math.max(least, rest.value), to: rest.to }
}
