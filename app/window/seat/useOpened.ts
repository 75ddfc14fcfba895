import { useCallback, useEffect, useState } from 'react'
import { focusSoon } from '../measure/useFresh.ts'
import { useMeasure } from '../measure/useMeasure.ts'
import { useHere } from '../state/context.ts'

/**
 * Which one of a list is open. A new one is opened with the focus on it; where the open one goes, the focus that went
 * with it comes to the list's "add".
 */
export function useOpened(ids: readonly string[], kind: 'mount' | 'fixing') {
  const { room } = useHere()
  // What was opened last in any list, so that the search field and the drawing can open one of this list too.
  const key = useMeasure((state) => state.open)
  const named = key?.startsWith(`${kind} `) ? key.slice(kind.length + 1) : null
  const [open, setOwn] = useState(named)
  // Another list's leaves this one as it is: a mount is fitted with its fixing open beside it.
  useEffect(() => {
    if (named !== null) setOwn(named)
  }, [named])
  const setOpen = useCallback(
    (id: string | null) => {
      setOwn(id)
      room.measure.store.setState(({ open: last }) => ({
        open: id !== null ? `${kind} ${id}` : last?.startsWith(`${kind} `) ? null : last,
      }))
    },
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
