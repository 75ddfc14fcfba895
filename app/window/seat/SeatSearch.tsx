import { Button } from 'react-aria-components/Button'
import type { SeatAnswer } from '../../../core/seat/answer.ts'
import { faultTexts } from '../../wording.ts'
import { LengthField } from '../editors/LengthField.tsx'
import { keepOutName, partName } from '../ledger/names.ts'
import { Explained } from '../explain/Explained.tsx'
import { useHere, useSearches, useWindow } from '../state/context.ts'
import { foundAnswer, foundStanding } from '../state/seat.ts'
import type { SearchState } from '../state/searches.ts'
import { bayOf, candidateIn } from '../state/windowState.ts'
import { words } from '../words.ts'
import { leastOf, mostOf } from './figures.ts'
import { beginWay } from './offeringEdits.ts'

const { search: text, outcome: said } = words.seat

/** A way in, found when asked: how far the search is, what it found, and what that proves. */
export function SeatSearch({ hasOwn }: { hasOwn: boolean }) {
  const { room } = useHere()
  const search = useSearches(({ seat }) => seat)
  const standing = useWindow((state) => foundStanding(search, state))
  const answer = useWindow((state) => foundAnswer(search, state))
  const need = useWindow((state) => state.seatNeed)
  const outcome = search.found?.outcome
  const isShown = standing === 'fresh' || standing === 'outOfDate'
  return (
    <section className="seat-search" aria-label={text.title} data-state={standing}>
      <header className="pipe-part-head">
        <h3>{text.title}</h3>
        {standing === 'outOfDate' && <span className="routes-old">{text.outOfDate}</span>}
      </header>
      <div className="seat-need">
        <LengthField
          label={text.need}
          value={need}
          mayBeZero
          onChange={(mm) => room.store.setState({ seatNeed: mm })}
        />
        <p className="pipe-small">{text.needNote}</p>
      </div>
      {search.running ? (
        <Working running={search.running} />
      ) : (
        <div className="routes-ask">
          <Button className="plain" onPress={() => room.searches.seek('seat', { need })}>
            {answer ? text.again : text.find}
          </Button>
          {!hasOwn && (
            <Button className="plain" onPress={() => beginWay(room.store)}>
              {text.own}
            </Button>
          )}
        </div>
      )}
      {isShown && outcome?.ok === false && (
        <div className="pipe-faults" role="alert">
          {faultTexts(outcome.faults).map((fault) => (
            <p key={fault}>{fault}</p>
          ))}
        </div>
      )}
      {isShown && answer && <Outcome answer={answer} isOld={standing === 'outOfDate'} />}
    </section>
  )
}

/** What is known while the search goes on, and the way to end it with that. */
function Working({ running }: { running: NonNullable<SearchState['seat']['running']> }) {
  const { room } = useHere()
  const units = useWindow((state) => state.units)
  const last = running.trace.at(-1)
  const percent = Math.round(100 * Math.min(1, last?.bound ?? 0))
  return (
    <div className="routes-working">
      <progress className="seat-progress" max={100} value={percent} aria-label={text.share(percent)} />
      <p>
        <span role="status">{text.searching}</span>
        <span className="routes-best">
          {' · '}
          {last && Number.isFinite(last.value) ? text.best(leastOf(last.value, units)) : text.noneYet}
          {' · '}
          {text.share(percent)}
        </span>
      </p>
      <Button className="small" aria-label={text.cancelHint} onPress={() => room.searches.cancel('seat')}>
        {text.cancel}
      </Button>
    </div>
  )
}

/** The answer in a sentence that says no more than is proved. */
function Outcome({ answer, isOld }: { answer: SeatAnswer; isOld: boolean }) {
  const bay = useWindow(bayOf)
  const candidate = useWindow(candidateIn)
  const units = useWindow((state) => state.units)
  const { miss, stopped } = answer
  const names = (part: string, keepOut: string) => [partName(candidate, part), keepOutName(bay, keepOut)] as const
  return (
    <div className={`seat-outcome ${isOld ? 'routes-found-old' : ''}`} data-answer={answer.answer} role="status">
      <p className="route-told">{outcomeText(answer, names, (mm) => leastOf(mm, units))}</p>
      {miss && (
        <p className="route-told">
          <Explained name="seatMiss">{said.miss(mostOf(miss.by, units), ...names(miss.part, miss.keepOut))}</Explained>
        </p>
      )}
      {stopped !== 'done' && answer.path && <p className="pipe-small">{text.stopped}</p>}
    </div>
  )
}

function outcomeText(
  { answer, atSeat, path, queries, leftOut }: SeatAnswer,
  names: (part: string, keepOut: string) => readonly [string, string],
  length: (mm: number) => string,
): string {
  if (atSeat) return said.atSeat(...names(atSeat.part, atSeat.keepOut), length(atSeat.margin))
  if (answer === 'proved' && path) return said.proved(path.moves.length)
  if (answer === 'closed') return said.closed
  if (answer === 'cancelled') return said.cancelled
  return path && leftOut.length > 0 ? said.leftOut : said.noneFound(queries)
}
