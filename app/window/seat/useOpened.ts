import { useEffect, useState } from 'react'
import { focusSoon } from '../measure/useFresh.ts'

/**
 * Which one of a list is open. A new one is opened with the focus on it; where the open one goes, the focus that went
 * with it comes to the list's "add".
 */
export function useOpened(ids: readonly string[], kind: 'mount' | 'fixing') {
  const [open, setOpen] = useState<string | null>(null)
  const isGone = open !== null && !ids.includes(open)
  useEffect(() => {
    if (!isGone) return
    setOpen(null)
    if (document.activeElement === document.body) focusSoon(`.add-${kind}`)
  }, [isGone, kind])
  const openFresh = (id: string) => {
    setOpen(id)
    focusSoon(`[data-${kind}="${id}"] .callout-button`)
  }
  return { open, setOpen, openFresh }
}
