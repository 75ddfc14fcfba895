import type { ReactNode } from 'react'
import { Button } from 'react-aria-components/Button'
import type { LedgerPair } from '../../../core/verdict/answer.ts'
import { askedBy } from '../../../core/bay/defaults.ts'
import { litresText } from '../editors/litres.ts'
import { askedGlance } from '../ledger/figures.ts'
import { countOf, Mark, verdicts } from '../ledger/VerdictCounts.tsx'
import { shareText } from '../largest/figures.ts'
import { useHere, useSearches, useWindow } from '../state/context.ts'
import { freshResult } from '../state/searches.ts'
import { bayOf, candidateIn, freshness, shownLedger, type Stage } from '../state/windowState.ts'
import { words } from '../words.ts'

const stages: readonly { readonly id: Stage; readonly Answer: () => ReactNode }[] = [
  { id: 'measure', Answer: MeasureAnswer },
  { id: 'core', Answer: CoreAnswer },
  { id: 'gaps', Answer: GapsAnswer },
]

/** The path of the job along the top edge: each stage with its present answer. Stages with nothing behind them are not here. */
export function StageBar() {
  const { room } = useHere()
  const stage = useWindow((state) => state.stage)
  return (
    <nav className="stages" aria-label={words.stage.list}>
      {stages.map(({ id, Answer }) => (
        <Button
          key={id}
          className={`stage ${stage === id ? 'stage-now' : ''}`}
          aria-current={stage === id ? 'step' : undefined}
          onPress={() => room.store.setState({ stage: id })}
        >
          <span className="stage-name">{words.stage[id]}</span>
          <span className="stage-answer">
            <Answer />
          </span>
        </Button>
      ))}
    </nav>
  )
}

function MeasureAnswer() {
  const bay = useWindow(bayOf)
  const units = useWindow((state) => state.units)
  if (!bay || bay.keepOuts.length === 0) return words.stage.noKeepOuts
  const count = bay.keepOuts.reduce((sum, { mirror }) => sum + (mirror ? 2 : 1), 0)
  const worst = Math.max(...bay.keepOuts.map((keepOut) => askedBy(keepOut).uncertainty))
  return words.stage.keepOuts(
    count,
    `${askedGlance(worst, units)} ${units === 'mm' ? words.field.mm : words.field.inch}`,
  )
}

function CoreAnswer() {
  const candidate = useWindow(candidateIn)
  const search = useSearches(({ largest }) => largest)
  const known = useWindow((state) => freshResult(search, state))
  if (!candidate) return words.stage.noCandidate
  const litres = litresText(candidate.core)
  if (known?.answer !== 'found') return words.stage.litres(litres)
  return words.largest.share(litres, shareText(candidate.core, known.value))
}

function GapsAnswer() {
  const kept = useWindow(shownLedger)
  const fresh = useWindow(freshness)
  if (fresh === 'outOfDate' || fresh === 'stopped')
    return <span className="verdict-unproved">{words.ledger.outOfDate}</span>
  if (!kept) return fresh === 'updating' ? words.stage.waiting : words.stage.noAnswer
  return <Worst pairs={kept.ledger.pairs} />
}

/** The verdicts that matter: all that do not clear, or that all do. */
function Worst({ pairs }: { pairs: readonly LedgerPair[] }) {
  const bad = verdicts.filter((verdict) => verdict !== 'clears' && countOf(pairs, verdict) > 0)
  if (bad.length === 0) {
    return (
      <span className="verdict-clears">
        <Mark verdict="clears" /> {words.stage.allClear(pairs.length)}
      </span>
    )
  }
  return (
    <>
      {bad.map((verdict, i) => {
        const n = countOf(pairs, verdict)
        return (
          <span key={verdict} className={`verdict-${verdict}`}>
            {i > 0 && ', '}
            <Mark verdict={verdict} /> {n} {words.verdict[verdict].many}
          </span>
        )
      })}
    </>
  )
}
