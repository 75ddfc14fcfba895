import { useEffect, useState } from 'react'
import { Button } from 'react-aria-components/Button'
import type { LargestAnswer, NothingFits } from '../../../core/largest/largest.ts'
import type { Bay } from '../../../core/bay/schema.ts'
import { Explained } from '../explain/Explained.tsx'
import { fieldText } from '../editors/quantity.ts'
import { keepOutIdOf, keepOutName } from '../ledger/names.ts'
import { useHere, useSearches, useWindow } from '../state/context.ts'
import { largestStanding, type SearchState } from '../state/searches.ts'
import { bayOf, candidateIn } from '../state/windowState.ts'
import type { SearchPoint } from '../../worker/searchProtocol.ts'
import { words } from '../words.ts'
import { adopt } from './adopt.ts'
import { ClosingChart } from './ClosingChart.tsx'
import { DepthTable } from './DepthTable.tsx'
import { boundLitres, boundText, foundLitres, placeGlance, sizeGlance } from './figures.ts'
import { HoldList, type HoldRow } from './HoldList.tsx'
import { LargestFaults } from './LargestFaults.tsx'
import { LargestHolds } from './LargestHolds.tsx'
import { SeatedPart } from './SeatedPart.tsx'

/** The largest core that clears within the limits: its value with the proof, what holds it, and the way to take it. */
export function LargestPanel() {
  const { room } = useHere()
  const search = useSearches(({ largest }) => largest)
  const searches = useSearches((all) => all)
  const standing = useWindow((state) => largestStanding(searches, state))
  const hasCandidate = useWindow((state) => candidateIn(state) !== null)
  const late = useLate(search)
  if (!hasCandidate) return null
  const { found, running } = search
  const answer = found?.outcome.ok ? found.outcome.value : null
  const isFirst = running !== null && running.sought.request.holds === false
  const shown = isFirst && late ? running.trace : (found?.trace ?? [])
  return (
    <section className="largest" aria-label={words.largest.title} data-state={standing}>
      <header className="largest-head">
        <h3>{words.largest.short}</h3>
        <span className="largest-standing" role="status">
          {standing === 'none' ? '' : words.largest[standing]}
        </span>
        {running !== null && late && (
          <Button
            className="small"
            aria-label={words.largest.cancelHint}
            onPress={() => room.searches.cancel('largest')}
          >
            {words.largest.cancel}
          </Button>
        )}
      </header>
      {standing === 'fresh' && <LargestFaults />}
      {isFirst && late && <SoFar point={running.trace.at(-1)} />}
      {answer && (
        <div className="largest-answer">
          <Answer answer={answer} />
        </div>
      )}
      {lastsLong(shown) && <ClosingChart trace={shown} />}
      {answer && answer.stopped !== 'proved' && standing === 'fresh' && running === null && (
        <Button className="small" onPress={() => room.searches.seek('largest', { holds: false })}>
          {words.largest.again}
        </Button>
      )}
      <DepthTable />
      <SeatedPart />
    </section>
  )
}

/** A search that is over at once needs no picture of how it went, ms. */
const patience = 500
const lastsLong = (trace: readonly { milliseconds: number }[]): boolean => (trace.at(-1)?.milliseconds ?? 0) > patience

/** Whether the search has been going on for so long that people want to see how far it is, or to end it. */
function useLate({ running }: SearchState['largest']): boolean {
  const [late, setLate] = useState(false)
  const sought = running?.sought ?? null
  useEffect(() => {
    setLate(false)
    if (sought === null) return
    const timer = setTimeout(() => setLate(true), patience)
    return () => clearTimeout(timer)
  }, [sought])
  return late
}

/** The best while the search goes on. */
function SoFar({ point }: { point: SearchPoint | undefined }) {
  if (!point) return null
  return <p className="largest-so-far">{words.largest.soFar(foundLitres(point.value), boundLitres(point.bound))}</p>
}

function Answer({ answer }: { answer: LargestAnswer | NothingFits }) {
  return answer.answer === 'found' ? <FoundCore answer={answer} /> : <NoCore answer={answer} />
}

function FoundCore({ answer }: { answer: LargestAnswer }) {
  const { room } = useHere()
  const units = useWindow((state) => state.units)
  const { core, at, turn, value } = answer
  const depth = `${fieldText(core.depth, 'length', units)}${units === 'inch' ? ` ${words.field.inch}` : ''}`
  const place = at.map((mm) => placeGlance(mm, units)).join(', ')
  const [deep, wide, high] = [core.depth, core.width, core.height].map((mm) => sizeGlance(mm, units))
  return (
    <>
      <p className="largest-value">
        <strong>
          <Explained name="largest">{words.largest.litres(foundLitres(value))}</Explained>
        </strong>{' '}
        <span className="largest-proof">{boundText(answer)}</span>
      </p>
      <p className="largest-size">
        <Explained name="largestSize">{words.largest.place(deep, wide, high, place)}</Explained>
        {turn[1] !== 0 && words.largest.tilted(fieldText(turn[1], 'angle', units))}
      </p>
      <LargestHolds answer={answer} />
      <Button className="plain" onPress={() => adopt(room.store, answer, depth)}>
        {words.largest.adopt}
      </Button>
    </>
  )
}

function NoCore({ answer }: { answer: NothingFits }) {
  const { room } = useHere()
  const openLimits = () => room.store.setState({ openItem: { side: 'part', key: 'limits' } })
  const bay = useWindow(bayOf)
  const { nothingFits, noneFound, conflict, conflictLimits } = words.largest
  const names = answer.conflict.filter((id) => id !== '')
  return (
    <>
      <p className="largest-none">{answer.answer === 'nothing fits' ? nothingFits : noneFound}</p>
      {names.length > 0 ? (
        <>
          <h4>{conflict}</h4>
          <HoldList label={conflict} rows={names.map((id) => conflictRow(bay, id, openLimits))} />
        </>
      ) : (
        answer.answer === 'nothing fits' && <p>{conflictLimits}</p>
      )}
    </>
  )
}

/** Keep-outs light up; a limit leads to its numbers. */
function conflictRow(bay: Bay | null, id: string, openLimits: () => void): HoldRow {
  if (keepOutIdOf(bay, id) !== null) return { key: id, title: keepOutName(bay, id), lights: [`keepOut ${id}`] }
  return { key: id, title: words.largest.limit(id), lights: [], onPress: openLimits }
}
