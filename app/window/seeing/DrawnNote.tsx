import { useStore } from 'zustand'
import { useHere, useWindow } from '../state/context.ts'
import { bayOf, shownLedger } from '../state/windowState.ts'
import { besideSmallDrawings } from '../viewport/insets.ts'
import { words } from '../words.ts'
import { keysWith } from './shown.ts'

const text = words.seeing.left

/** What the drawing leaves out, where that is anything: a picture must not be taken for all there is. */
export function DrawnNote() {
  const { eye } = useHere()
  const lighter = useStore(eye.store, (state) => state.lighter)
  const frame = useStore(eye.store, (state) => state.frame)
  const hidden = useWindow(
    (state) => keysWith('hidden', bayOf(state), state.seeing, shownLedger(state)?.ledger ?? null).length,
  )
  const said = [...(hidden > 0 ? [text.hidden(hidden)] : []), ...(lighter ? [text.lighter] : [])]
  if (said.length === 0) return null
  return (
    <p
      className="drawn-note"
      role="status"
      // Above the axes.
      style={{ bottom: besideSmallDrawings(frame.width) ? 94 : frame.bottom + 78 }}
    >
      {said.join('. ')}
    </p>
  )
}
