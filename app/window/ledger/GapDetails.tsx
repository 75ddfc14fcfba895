import { useState } from 'react'
import { Button } from 'react-aria-components/Button'
import type { Vec3 } from '../../../core/shape/vec.ts'
import { CutButton } from '../seeing/CutBar.tsx'
import { Explained } from '../explain/Explained.tsx'
import type { Explains } from '../explainWords.ts'
import { useHere, useWindow } from '../state/context.ts'
import { openPart } from '../state/openPart.ts'
import { bayOf, candidateIn, selectedPair } from '../state/windowState.ts'
import { words } from '../words.ts'
import { ClearingMoves } from './ClearingMoves.tsx'
import { overlapText, pairText } from './copyText.ts'
import { askedFull, errorFull, gapFull, placeFull } from './figures.ts'
import { keepOutIdOf, pairNames } from './names.ts'
import { Mark } from './VerdictCounts.tsx'

/** All figures of the chosen gap, laid out like the title block of a drawing. */
export function GapDetails() {
  const pair = useWindow(selectedPair)
  const bay = useWindow(bayOf)
  const candidate = useWindow(candidateIn)
  const units = useWindow((state) => state.units)
  const { details } = words
  if (!pair) return <p className="details-none">{details.none}</p>
  const { other, part } = pairNames(bay, candidate, pair)
  const point = (at: Vec3) => at.map((x) => placeFull(x, units)).join('  ')
  const notes = [
    pair.assumed?.includes('clearance') && (pair.between ? details.assumedPipe : details.assumedClearance),
    pair.assumed?.includes('uncertainty') && details.assumedUncertainty,
    pair.open && details.open,
  ].filter((note) => typeof note === 'string')
  return (
    <section className={`details verdict-${pair.verdict}`} aria-label={details.title}>
      <h3>
        <Mark verdict={pair.verdict} /> {other} {words.ledger.to} {part}: {words.verdict[pair.verdict].one}
      </h3>
      <dl>
        <Figure explains="gap" name={details.gap} value={gapFull(pair.gap, units)} />
        <Figure explains="required" name={details.required} value={askedFull(pair.required, units)} />
        <Figure explains="margin" name={details.margin} value={gapFull(pair.margin, units)} strong />
        <Figure explains="tolerance" name={details.tolerance} value={askedFull(pair.tolerance, units)} />
        <Figure explains="uncertainty" name={details.uncertainty} value={askedFull(pair.uncertainty, units)} />
        <Figure
          explains="error"
          name={details.error}
          value={pair.error === 0 ? errorFull(0, units) : details.least(errorFull(pair.error, units))}
        />
        <Figure explains="place" name={details.onPart} value={point(pair.onPart)} wide />
        <Figure
          explains="place"
          name={pair.between ? details.onOther : details.onKeepOut}
          value={point(pair.onKeepOut)}
          wide
        />
        {pair.overlap && (
          <Figure explains="overlap" name={details.overlap} value={overlapText(pair.overlap, units)} wide />
        )}
      </dl>
      <ClearingMoves pair={pair} />
      {notes.map((note) => (
        <p key={note} className="details-note">
          {note}
        </p>
      ))}
      <div className="details-tools">
        <CutButton />
        <EditLinks part={pair.part} keepOut={pair.between ? null : pair.keepOut} names={{ other, part }} />
        <CopyButton text={() => pairText(pair, other, part, units)} />
      </div>
    </section>
  )
}

function Figure({
  name,
  value,
  explains,
  wide,
  strong,
}: {
  name: string
  value: string
  explains: Explains
  wide?: boolean
  strong?: boolean
}) {
  return (
    <div className={`figure ${wide ? 'figure-wide' : ''}`}>
      <dt>{name}</dt>
      <dd className={strong ? 'figure-strong' : ''}>
        <Explained name={explains}>{value}</Explained>
      </dd>
    </div>
  )
}

/** From a gap to the numbers of the two things that make it. */
function EditLinks({
  part,
  keepOut,
  names,
}: {
  part: string
  keepOut: string | null
  names: { other: string; part: string }
}) {
  const { room } = useHere()
  const bay = useWindow(bayOf)
  const id = keepOut && keepOutIdOf(bay, keepOut)
  return (
    <>
      <Button className="small" onPress={() => openPart(room, part)}>
        {words.details.editPart(names.part)}
      </Button>
      {id && (
        <Button
          className="small"
          onPress={() => room.store.setState({ stage: 'measure', openItem: { side: 'keepOut', key: id } })}
        >
          {words.details.editPart(names.other)}
        </Button>
      )}
    </>
  )
}

function CopyButton({ text }: { text: () => string }) {
  const [done, setDone] = useState(false)
  return (
    <Button
      className="small"
      onPress={() => {
        void navigator.clipboard?.writeText(text()).then(() => {
          setDone(true)
          setTimeout(() => setDone(false), 1500)
        })
      }}
    >
      {done ? words.details.copied : words.details.copy}
    </Button>
  )
}
