import { useDeferredValue } from 'react'
import { Button } from 'react-aria-components/Button'
import { NoCandidate } from '../candidate/CandidateMenu.tsx'
import { bayOf, type Freshness, freshness, type KeptLedger, shownLedger, troublesNow } from '../state/windowState.ts'
import { useHere, useWindow } from '../state/context.ts'
import { faultTexts } from '../../wording.ts'
import { words } from '../words.ts'
import { GapDetails } from './GapDetails.tsx'
import { GapList } from './GapList.tsx'
import { LedgerNotes } from './LedgerNotes.tsx'
import { VerdictCounts } from './VerdictCounts.tsx'

/** The gap ledger: what it comes to, every gap, and all figures of the chosen one. */
export function Ledger() {
  const fresh = useWindow(freshness)
  const kept = useWindow(shownLedger)
  return (
    <section className={`ledger ledger-${fresh}`} aria-labelledby="ledger-title" data-state={fresh}>
      <header className="ledger-head">
        <h2 id="ledger-title">{words.ledger.title}</h2>
        <Standing fresh={fresh} />
      </header>
      {kept && <VerdictCounts pairs={kept.ledger.pairs} />}
      <LedgerTroubles />
      {kept ? <Gaps kept={kept} /> : <NoLedger fresh={fresh} />}
      <LedgerNotes />
      <GapDetails />
    </section>
  )
}

/** Hundreds of rows must not keep the hand waiting: they follow what stands above them as soon as there is time. */
function Gaps({ kept }: { kept: KeptLedger }) {
  const listed = useDeferredValue<KeptLedger | null>(kept, null)
  return (
    <div className="rows" aria-busy={listed !== kept}>
      {listed && <GapList kept={listed} />}
    </div>
  )
}

/** A bay without a candidate: the way to its first one. */
function NoLedger({ fresh }: { fresh: Freshness }) {
  const isEmpty = useWindow((state) => bayOf(state)?.candidates.length === 0)
  if (isEmpty) return <NoCandidate />
  return <p className="ledger-none">{fresh === 'none' ? words.ledger.none : ''}</p>
}

/** How the ledger stands to the bay as it is now; quick answers never get as far as being seen 'updating'. */
function Standing({ fresh }: { fresh: Freshness }) {
  const { room } = useHere()
  const computing = useWindow((state) => state.computing)
  const text: Record<Freshness, string> = {
    fresh: words.ledger.order,
    none: '',
    updating: words.ledger.updating,
    outOfDate: words.ledger.outOfDate,
    stopped: `${words.ledger.outOfDate}, ${words.ledger.stopped}`,
  }
  const done = computing?.progress?.what
  return (
    <div className="standing">
      <span className={`standing-text standing-${fresh}`} role="status">
        {text[fresh]}
      </span>
      {fresh === 'updating' && done !== undefined && (
        <>
          <span className="standing-done">{words.ledger.gapsDone(done)}</span>
          <Button className="small" onPress={() => room.stop()}>
            {words.ledger.stop}
          </Button>
        </>
      )}
      {fresh === 'stopped' && (
        <Button className="small" onPress={() => room.computeAgain()}>
          {words.ledger.again}
        </Button>
      )}
    </div>
  )
}

/** Why there is no ledger of the bay as it is now: the last good one stays below. */
function LedgerTroubles() {
  const troubles = useWindow(troublesNow)
  if (troubles.length === 0) return null
  return (
    <div className="ledger-troubles" role="alert">
      <p>{words.ledger.why}</p>
      <ul>
        {faultTexts(troubles).map((text) => (
          <li key={text}>{text}</li>
        ))}
      </ul>
    </div>
  )
}
