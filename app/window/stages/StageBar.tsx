import type { ReactNode } from 'react'
import { Button } from 'react-aria-components/Button'
import type { LedgerPair } from '../../../core/verdict/answer.ts'
import { askedBy } from '../../../core/bay/defaults.ts'
import { explanationId } from '../explain/Explained.tsx'
import type { Explains } from '../explainWords.ts'
import { litresText } from '../editors/litres.ts'
import { askedGlance } from '../ledger/figures.ts'
import { countOf, Mark, verdicts } from '../ledger/VerdictCounts.tsx'
import { shareText } from '../largest/figures.ts'
import { useHere, useSearches, useWindow } from '../state/context.ts'
import { SeatStageAnswer } from '../seat/SeatStageAnswer.tsx'
import { SheetsStageAnswer } from '../sheets/SheetsStageAnswer.tsx'
import { useSheetsStanding } from '../sheets/useSheetsStanding.ts'
import { bendsOf, bendsStanding, hasStage, pipesIn, shownBends, stageIn } from '../state/pipes.ts'
import { freshResult, largestStanding } from '../state/searches.ts'
import { bringUpToDate, isStale } from '../state/stale.ts'
import { bayOf, candidateIn, freshness, shownLedger, type Stage } from '../state/windowState.ts'
import { words } from '../words.ts'

const stages: readonly { readonly id: Stage; readonly Answer: () => ReactNode }[] = [
  { id: 'measure', Answer: MeasureAnswer },
  { id: 'core', Answer: CoreAnswer },
  { id: 'gaps', Answer: GapsAnswer },
  { id: 'pipes', Answer: PipesAnswer },
  { id: 'seat', Answer: SeatStageAnswer },
  { id: 'sheets', Answer: SheetsStageAnswer },
]

const explains: Record<Stage, Explains> = {
  measure: 'stageMeasure',
  core: 'stageCore',
  gaps: 'stageGaps',
  pipes: 'stagePipes',
  seat: 'stageSeat',
  sheets: 'stageSheets',
}

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
          <div key={id} className={`stage-slot ${stage === id ? 'stage-now' : ''}`}>
            <Button
              className="stage"
              aria-current={stage === id ? 'step' : undefined}
              aria-describedby={explanationId(explains[id])}
              data-explains={explains[id]}
              onPress={() => room.store.setState({ stage: id })}
            >
              <span id={`stage-${id}`} className="stage-name">
                {words.stage[id]}
              </span>
              <span className="stage-answer">
                <Answer />
              </span>
            </Button>
            <Again stage={id} />
          </div>
        ))}
    </nav>
  )
}

/** Where the answer is out of date, and nothing is under way: the way to compute it anew. */
function Again({ stage }: { stage: Stage }) {
  const { room } = useHere()
  const searches = useSearches((all) => all)
  const sheets = useSheetsStanding()
  const stale = useWindow((state) => isStale(state, searches, stage))
  if (!stale && !(stage === 'sheets' && sheets === 'outOfDate')) return null
  return (
    <Button
      className="stage-again"
      aria-label={words.stage.again}
      aria-describedby={`stage-${stage}`}
      onPress={() => bringUpToDate(room, stage)}
    >
      <svg width="16" height="16" viewBox="0 0 16 16" aria-hidden="true">
        <path d="M13 8a5 5 0 1 1-1.500-3.600M13 1.500v3.500H9.500" />
      </svg>
    </Button>
  )
}

/** Mark and word: what is shown, if anything is, is of a bay that is no more. */
function OutOfDate() {
  return (
    <span className="verdict-unproved">
      <Mark verdict="unproved" /> {words.ledger.outOfDate}
    </span>
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
    // Number and unit stay on one line.
    `${askedGlance(worst, units)}\u00a0${units === 'mm' ? words.field.mm : words.field.inch}`,
  )
}

function CoreAnswer() {
  const candidate = useWindow(candidateIn)
  const search = useSearches(({ largest }) => largest)
  const known = useWindow((state) => freshResult(search, state))
  const searches = useSearches((all) => all)
  const standing = useWindow((state) => largestStanding(searches, state))
  const stale = useWindow((state) => isStale(state, searches, 'core'))
  if (!candidate) return words.stage.noCandidate
  const litres = litresText(candidate.core)
  if (stale)
    return (
      <>
        {words.stage.largestOld(litres)} <OutOfDate />
      </>
    )
  if (standing === 'working') return words.stage.largestWaiting(litres)
  if (known?.answer !== 'found') return words.stage.litres(litres)
  return words.largest.share(litres, shareText(candidate.core, known.value))
}

function GapsAnswer() {
  const kept = useWindow(shownLedger)
  const fresh = useWindow(freshness)
  if (fresh === 'outOfDate' || fresh === 'stopped') return <OutOfDate />
  if (!kept) return fresh === 'updating' ? words.stage.waiting : words.stage.noAnswer
  return <Worst pairs={kept.ledger.pairs} />
}

/** Every pipe that cannot be made yet, or that all can. */
function PipesAnswer() {
  const pipes = useWindow(pipesIn)
  const answer = useWindow(shownBends)
  const standing = useWindow(bendsStanding)
  const text = words.pipes.stage
  if (standing === 'stopped') return <OutOfDate />
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
