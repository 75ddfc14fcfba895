import { useCallback, useEffect } from 'react'
import type { Pointing } from '../editors/Callouts.tsx'
import { useHere } from '../state/context.ts'
import type { Workroom } from '../state/workroom.ts'
import { useMeasure } from './useMeasure.ts'

/**
 * Points at something that has a row and a mark, for as long as either is hovered or focused.
 * @param key as `open` names it: `port turbo`
 */
export function point({ store, measure }: Workroom, key: string, on: boolean): void {
  if (!on && measure.store.getState().pointed !== key) return
  measure.store.setState({ pointed: on ? key : null })
  // A mount is drawn as a part: the part itself stands out.
  if (key.startsWith('mount ')) store.setState({ lit: on ? [`part ${key.replace(' ', '-')}`] : [] })
}

/** How a row points at its mark in the drawing. */
export function usePointing(key: string): Pointing {
  const { room } = useHere()
  const isPointed = useMeasure((state) => state.pointed === key)
  const onPoint = useCallback((on: boolean) => point(room, key, on), [room, key])
  // A row that goes away is told of no leaving.
  useEffect(() => () => point(room, key, false), [room, key])
  return { key, isPointed, onPoint }
}
