import { useHere, useSearches, useSheets, useWindow } from '../state/context.ts'
import type { SheetsStanding } from '../state/sheets.ts'

/** How the sheets stand to what is shown; it hangs on the window, on what is asked of them, and on what was made. */
export function useSheetsStanding(): SheetsStanding {
  const { room } = useHere()
  useSheets(({ wish }) => wish)
  useSheets(({ held }) => held)
  useSearches(({ sheets }) => sheets)
  return useWindow(() => room.sheets.standing())
}

/** How much of the making is done, in percent; null before anything is told. */
export function useSheetsShare(): number | null {
  return useSearches(({ sheets: { running } }) => {
    const last = running?.trace.at(-1)
    return last ? Math.round(100 * Math.min(1, last.bound)) : null
  })
}
