import { useState } from 'react'
import { Button } from 'react-aria-components/Button'
import { ToggleButton } from 'react-aria-components/ToggleButton'
import type { Candidate } from '../../../core/bay/schema.ts'
import type { SeatPath } from '../../../core/seat/answer.ts'
import type { PeopleUnits } from '../../../core/units/lengthText.ts'
import { gripsOfPath } from '../../../core/seat/grips.ts'
import { moveWords, pointText } from '../../wording/seatWords.ts'
import { useHere, useWindow } from '../state/context.ts'
import type { Way } from '../state/seat.ts'
import { words } from '../words.ts'
import { MoveEditor } from './MoveEditor.tsx'
import { addMove, earlier, removeMove } from './offeringEdits.ts'

const { moves: text } = words.seat

/** The moves in words, from outside to the seat; those of the candidate's own way can be changed one by one. */
export function MoveList({ way, candidate }: { way: Way; candidate: Candidate }) {
  const { store } = useHere().room
  const units = useWindow((state) => state.units)
  const [open, setOpen] = useState<number | null>(null)
  const { path, kind } = way
  const count = path.moves.length
  const grips = gripsOfPath(path, candidate.core)
  const isOwn = kind === 'own'
  return (
    <section className="seat-moves" aria-label={text.title}>
      <header className="pipe-part-head">
        <h3>{text.title}</h3>
      </header>
      <p className="pipe-small seat-start">{startText(path, units)}</p>
      {isOwn && (
        <Button
          className="small"
          onPress={() => {
            addMove(store, 0)
            setOpen(0)
          }}
        >
          {text.addFirst}
        </Button>
      )}
      <ol className="seat-move-list">
        {path.moves.map((move, n) => (
          // Moves have no name but their number.
          // biome-ignore lint/suspicious/noArrayIndexKey: see above
          <li key={n} className={`seat-move ${isOwn && open === n ? 'seat-move-open' : ''}`}>
            <span className="route-number">{n + 1}</span>
            <span className="seat-move-words">{moveWords(move, grips[n] ?? null, units)}</span>
            {isOwn && (
              <span className="seat-move-tools">
                <ToggleButton
                  className="small tool"
                  isSelected={open === n}
                  onChange={(on) => setOpen(on ? n : null)}
                  aria-label={text.editOne(n + 1)}
                >
                  {text.edit}
                </ToggleButton>
                <Tool
                  label={text.earlier(n + 1)}
                  sign="↑"
                  isOff={n === 0}
                  onPress={() => {
                    earlier(store, n)
                    if (open === n) setOpen(n - 1)
                  }}
                />
                <Tool
                  label={text.later(n + 1)}
                  sign="↓"
                  isOff={n === count - 1}
                  onPress={() => {
                    earlier(store, n + 1)
                    if (open === n) setOpen(n + 1)
                  }}
                />
                <Tool
                  label={text.add(n + 1)}
                  sign="+"
                  onPress={() => {
                    addMove(store, n + 1)
                    setOpen(n + 1)
                  }}
                />
                <Tool
                  label={text.remove(n + 1)}
                  sign="−"
                  onPress={() => {
                    removeMove(store, n)
                    setOpen(null)
                  }}
                />
              </span>
            )}
            {isOwn && open === n && <MoveEditor path={path} n={n} candidate={candidate} />}
          </li>
        ))}
      </ol>
    </section>
  )
}

function Tool(props: { label: string; sign: string; isOff?: boolean; onPress: () => void }) {
  return (
    <Button className="small" aria-label={props.label} isDisabled={props.isOff ?? false} onPress={props.onPress}>
      <span aria-hidden="true">{props.sign}</span>
    </Button>
  )
}

function startText({ start }: SeatPath, units: PeopleUnits): string {
  const place = pointText(start.at, units)
  const turned = start.turn.some((degrees) => Math.abs(degrees) >= 0.05)
  return turned
    ? text.startTurned(place, start.turn.map((degrees) => `${degrees.toFixed(1)}°`).join(', '))
    : text.start(place)
}
