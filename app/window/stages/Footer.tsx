import { Explanations } from '../explain/Explained.tsx'
import { HelpLine } from '../explain/HelpLine.tsx'
import { useWindow } from '../state/context.ts'
import { bayOf, shownLedger } from '../state/windowState.ts'
import { errorFull, largestError } from '../ledger/figures.ts'
import { words } from '../words.ts'

/** The foot of the sheet: the frame in words, how much was computed and how well, and the caution. */
export function Footer() {
  const frame = useWindow((state) => bayOf(state)?.frame ?? null)
  const kept = useWindow(shownLedger)
  const units = useWindow((state) => state.units)
  return (
    <footer className="foot">
      {frame && (
        <span className="foot-frame" title={`${words.footer.frame(frame.origin)}. ${frame.note ?? ''}`}>
          {words.footer.frame(frame.origin)}
          {frame.note && <span className="foot-note"> · {frame.note}</span>}
        </span>
      )}
      {kept && (
        <>
          <span data-testid="timing">
            {words.footer.gaps(kept.ledger.pairs.length, words.footer.milliseconds(kept.milliseconds))}
          </span>
          <span>{words.footer.error(errorFull(largestError(kept.ledger.pairs), units))}</span>
        </>
      )}
      <span className="foot-caution">{words.footer.caution}</span>
      <HelpLine />
      <Explanations />
    </footer>
  )
}
