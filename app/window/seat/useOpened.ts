import { useCallback, useEffect } from 'react'
import { focusSoon } from '../measure/useFresh.ts'
import { useMeasure } from '../measure/useMeasure.ts'
import { useHere } from '../state/context.ts'

/**
 * Which one of a list is open. A new one is opened with the focus on it; where the open one goes, the focus that went
 * with it comes to the list's "add".
 */
export function useOpened(ids: readonly string[], kind: 'mount' | 'fixing') {
  const { room } = useHere()
  // Kept with what is open in other lists, so that the search field and the drawing can open one too.
  const key = useMeasure((state) => state.open)
  const open = key?.startsWith(`${kind} `) ? key.slice(kind.length + 1) : null
  const setOpen = useCallback(
    (id: string | null) => room.measure.store.setState({ open: id === null ? null : `${kind} ${id}` }),
    [room, kind],
  )
  const isGone = open !== null && !ids.includes(open)
  useEffect(() => {
    if (!isGone) return
    setOpen(null)
    if (document.activeElement === document.body) focusSoon(`.add-${kind}`)
  }, [isGone, kind, setOpen])
  const openFresh = (id: string) => {
    setOpen(id)
    focusSoon(`[data-${kind}="${id}"] .callout-button`)
  }
  return { open, setOpen, openFresh }
}
