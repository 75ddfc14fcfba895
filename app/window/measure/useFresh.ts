import { useEffect } from 'react'
import { useHere } from '../state/context.ts'
import { useMeasure } from './useMeasure.ts'

/** Whether something was added just now, so that its name is typed next; true for one drawing only. */
export function useFresh(key: string): boolean {
  const { room } = useHere()
  const isFresh = useMeasure((state) => state.fresh === key)
  useEffect(() => {
    if (isFresh) room.measure.store.setState({ fresh: null })
  }, [isFresh, room])
  return isFresh
}

/** Gives the focus to a button once what had it is gone from the page. */
export const focusSoon = (selector: string): void => {
  requestAnimationFrame(() => document.querySelector<HTMLButtonElement>(selector)?.focus())
}
