import { useStore } from 'zustand'
import { useHere } from '../state/context.ts'
import type { MeasureState } from '../state/measure.ts'

/** Part of what the Measure stage has in hand. */
export function useMeasure<T>(pick: (state: MeasureState) => T): T {
  return useStore(useHere().room.measure.store, pick)
}
