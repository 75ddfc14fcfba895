import type { ReactNode } from 'react'
import { Button } from 'react-aria-components/Button'
import type { LedgerPair } from '../../../core/verdict/answer.ts'
import { askedBy } from '../../../core/bay/defaults.ts'
import { litresText } from '../editors/litres.ts'
import { askedGlance } from '../ledger/figures.ts'
import { countOf, Mark, verdicts } from '../ledger/VerdictCounts.tsx'
import { shareText } from '../largest/figures.ts'
import { useHere, useSearches, useWindow } from '../state/context.ts'
import { SeatStageAnswer } from '../seat/SeatStageAnswer.tsx'
import { bendsOf, bendsStanding, hasStage, pipesIn, shownBends, stageIn } from '../state/pipes.ts'
import { freshResult } from '../state/searches.ts'
import { bayOf, candidateIn, freshness, shownLedger, type Stage } from '../state/windowState.ts'
import { words } from '../words.ts'

const stages: readonly { readonly id: Stage; readonly Answer: () => ReactNode }[] = [
  { id: 'measure', Answer: MeasureAnswer },
  { id: 'core', Answer: CoreAnswer },
  { id: 'gaps', Answer: GapsAnswer },
  { id: 'pipes', Answer: PipesAnswer },
  { id: 'seat', Answer: SeatStageAnswer },
]

/** The path of the job along the top edge: each stage with its present answer. Stages with nothing behind them are not here. */
export function StageBar() {
  const { room } = useHere()
  const stage = useWindow(stageIn)
  const shown = useWindow((state) => stages.flatMap(({ id }) => (hasStage(state, id) ? [id] : [])).join()).split(',')
  return (
    <nav className="stages" aria-label={words.stage.list}>
      {stages
        .filter(({ id }) => shown.includes(id))
        .map(({ id, Answer }) => (
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

/** Every pipe that cannot be made yet, or that all can. */
function PipesAnswer() {
  const pipes = useWindow(pipesIn)
  const answer = useWindow(shownBends)
  const standing = useWindow(bendsStanding)
  const text = words.pipes.stage
  if (standing === 'stopped') return <span className="verdict-unproved">{words.ledger.outOfDate}</span>
  if (!answer) return standing === 'updating' ? words.stage.waiting : text.faulty
  const open = pipes.flatMap((pipe) => {
    if (answer.unrouted.includes(pipe.id)) return [{ pipe, verdict: 'unproved', said: text.unrouted(pipe.name) }]
    const reasons = bendsOf(answer, pipe)?.reasons.length ?? 0
    return reasons > 0 ? [{ pipe, verdict: 'short', said: text.reasons(pipe.name, reasons) }] : []
  })
  if (open.length === 0)
    return (
      <span className="verdict-clears">
        <Mark verdict="clears" /> {text.makeable(pipes.length)}
      </span>
    )
  return open.map(({ pipe, verdict, said }, i) => (
    <span key={pipe.id} className={`verdict-${verdict}`}>
      {i > 0 && ', '}
      <span aria-hidden="true">{words.pipes.mark[verdict === 'short' ? 'bad' : 'open'].mark}</span> {said}
    </span>
  ))
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
