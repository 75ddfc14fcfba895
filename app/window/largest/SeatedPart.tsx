import { Button } from 'react-aria-components/Button'
import { leftOutIds } from '../../../core/bay/keepOuts.ts'
import type { SeatedAnswer, SeatedCore } from '../../../core/seat/seated.ts'
import { faultTexts } from '../../wording.ts'
import { fieldText } from '../editors/quantity.ts'
import { Explained } from '../explain/Explained.tsx'
import { keepOutName } from '../ledger/names.ts'
import { leastOf } from '../seat/figures.ts'
import { useHere, useSearches, useWindow } from '../state/context.ts'
import { type SearchState, type SearchStanding, standingOf } from '../state/searches.ts'
import { bayOf, type WindowState } from '../state/windowState.ts'
import { words } from '../words.ts'
import { adoptSeated } from './adopt.ts'
import { boundLitres, foundLitres, percentUp, placeGlance, sizeGlance } from './figures.ts'

const { seated: text } = words.largest
type Search = SearchState['seated']

/** On demand: the largest core that clears at its seat and has a proved way to it. */
export function SeatedPart() {
  const { room } = useHere()
  const search = useSearches(({ seated }) => seated)
  const standing = useWindow((state) => seatedStanding(search, state))
  const need = useWindow((state) => state.seatNeed)
  const outcome = search.found?.outcome
  return (
    <section className={`depths depths-${standing} seated`} aria-label={text.title} data-state={standing}>
      <div className="depths-head">
        <h4>{text.title}</h4>
        {standing === 'outOfDate' && <span role="status">{words.largest.outOfDate}</span>}
      </div>
      {standing === 'none' && <p className="seated-note">{text.note}</p>}
      {search.running ? (
        <Working running={search.running} />
      ) : (
        standing !== 'fresh' && (
          <Button className="small" onPress={() => room.searches.seek('seated', { need })}>
            {standing === 'none' ? text.ask : text.again}
          </Button>
        )
      )}
      {outcome?.ok === false && !search.running && (
        <div className="largest-faults" role="alert">
          {faultTexts(outcome.faults).map((fault) => (
            <p key={fault}>{fault}</p>
          ))}
        </div>
      )}
      {outcome?.ok && !search.running && (
        <div className="seated-answer" role="status">
          <Answer answer={outcome.value} isFresh={standing === 'fresh'} />
        </div>
      )}
    </section>
  )
}

/** As for any search; another clearance wanted on the way is another question. */
function seatedStanding(search: Search, state: WindowState): SearchStanding {
  const standing = standingOf(search, state)
  return standing === 'fresh' && search.found?.sought.request.need !== state.seatNeed ? 'outOfDate' : standing
}

/** What is known while it goes on, and the way to end it with that. */
function Working({ running }: { running: NonNullable<Search['running']> }) {
  const { room } = useHere()
  const last = running.trace.at(-1)
  return (
    <div className="seated-working">
      <p role="status">{text.searching} …</p>
      <p className="largest-so-far">
        {last ? text.soFar(foundLitres(last.value), boundLitres(last.bound)) : text.noneYet}
      </p>
      <Button className="small" aria-label={text.cancelHint} onPress={() => room.searches.cancel('seated')}>
        {words.largest.cancel}
      </Button>
    </div>
  )
}

function Answer({ answer, isFresh }: { answer: SeatedAnswer; isFresh: boolean }) {
  const bay = useWindow(bayOf)
  const leftOut = bay !== null && leftOutIds(bay).length > 0
  const { best, stopped, within } = answer
  return (
    <>
      {best ? (
        <Found best={best} answer={answer} isFresh={isFresh} />
      ) : (
        <p className="largest-none">{answer.answer === 'nothing fits' ? text.nothingFits : text.noneFound}</p>
      )}
      {best && <p className="seated-note">{stopped === 'proved' ? text.proved(percentUp(within)) : text.notProved}</p>}
      {(stopped === 'cancelled' || stopped === 'time') && <p className="seated-note">{text.ended}</p>}
      {leftOut && <p className="seated-note">{text.leftOut}</p>}
    </>
  )
}

function Found({ best, answer, isFresh }: { best: SeatedCore; answer: SeatedAnswer; isFresh: boolean }) {
  const { room } = useHere()
  const bay = useWindow(bayOf)
  const units = useWindow((state) => state.units)
  const { core, at, turn } = best.candidate
  const [deep, wide, high] = [core.depth, core.width, core.height].map((mm) => sizeGlance(mm, units))
  const depth = `${fieldText(core.depth, 'length', units)}${units === 'inch' ? ` ${words.field.inch}` : ''}`
  const bounds = boundTexts(answer, (id) => keepOutName(bay, id))
  const { moves, least } = best.path
  return (
    <>
      <p className="largest-value">
        <strong>
          <Explained name="seated">{words.largest.litres(foundLitres(best.value))}</Explained>
        </strong>
        {bounds.map((said) => (
          <span key={said} className="largest-proof">
            {said}
          </span>
        ))}
      </p>
      <p className="largest-size">
        {words.largest.place(deep, wide, high, at.map((mm) => placeGlance(mm, units)).join(', '))}
        {turn[1] !== 0 && words.largest.tilted(fieldText(turn[1], 'angle', units))}
      </p>
      <p className="seated-note">
        <Explained name="seatLeast">{text.moves(moves.length, leastOf(least.atLeast, units))}</Explained>
      </p>
      <Button
        className="plain"
        isDisabled={!isFresh}
        onPress={() => adoptSeated(room.store, best, depth, bounds.join('; '))}
      >
        {text.adopt}
      </Button>
    </>
  )
}

/** What nothing exceeds: by the moves that were found, and by any. */
function boundTexts({ upperBoundPath, notCounted, atSeat }: SeatedAnswer, nameOf: (id: string) => string): string[] {
  const byWay =
    upperBoundPath === null
      ? text.byWayOpen
      : notCounted.length > 0
        ? text.byWayWithout(boundLitres(upperBoundPath), notCounted.map(nameOf).join(', '))
        : text.byWay(boundLitres(upperBoundPath))
  const anyWay = Number.isFinite(atSeat.upperBound) ? text.anyWay(boundLitres(atSeat.upperBound)) : text.anyWayOpen
  return [byWay, anyWay]
}
