import type { Candidate } from '../../../core/bay/schema.ts'
import type { SeatPath } from '../../../core/seat/answer.ts'
import { type GrippedMove, gripped } from '../../../core/seat/edited.ts'
import { type Grip, gripAt, gripsOf } from '../../../core/seat/grips.ts'
import { gripText } from '../../wording/seatWords.ts'
import { FigureField } from '../editors/FigureField.tsx'
import { FigureGroups } from '../editors/FigureGroups.tsx'
import { Picker } from '../editors/Picker.tsx'
import { useHere, useWindow } from '../state/context.ts'
import { candidateIndex } from '../state/windowState.ts'
import { words } from '../words.ts'
import { changeMove, withMove } from './offeringEdits.ts'
import { axisOf, mainAxisOf, unitAxes } from './turning.ts'

const { moves: text } = words.seat
const other = 'other'

/** One move by number: how far it goes along each axis, how far it turns, as what, and about which edge. */
export function MoveEditor({ path, n, candidate }: { path: SeatPath; n: number; candidate: Candidate }) {
  const { store } = useHere().room
  const index = useWindow(candidateIndex)
  const move = gripped(path)[n]
  if (!move) return null
  const of = text.name(n + 1)
  const field = ['candidates', index, 'offering', 'moves', n]
  const axis = axisOf(move.axis)
  const grips = gripsOf(candidate.core, mainAxisOf(move.axis))
  const grip = gripAt(grips, mainAxisOf(move.axis), move.grip)
  const axisChoices = text.axes.map((label, k) => ({ id: String(k), text: label }))
  const gripChoices = grips.map((each) => ({ id: idOf(each), text: gripText(each) }))
  return (
    <fieldset className="seat-move-editor" aria-label={of}>
      <FigureGroups
        groups={[
          {
            title: text.shifts,
            figures: text.shift.map((label, k) => ({
              of,
              label,
              path: [...field, 'shift', k],
              quantity: 'length',
              apply: (bay, mm) => withMove(bay, index, n, (before) => shifted(before, k, mm)),
            })),
            together: true,
          },
        ]}
      />
      <div className="seat-turn">
        <FigureField
          spec={{
            of,
            label: text.angle,
            path: [...field, 'angle'],
            quantity: 'angle',
            apply: (bay, angle) => withMove(bay, index, n, (before) => ({ ...before, angle })),
          }}
        />
        <Picker
          label={text.axis}
          value={axis === null ? other : String(axis)}
          choices={axis === null ? [...axisChoices, { id: other, text: text.otherAxis }] : axisChoices}
          onChange={(id) => {
            const chosen = unitAxes[Number(id)]
            if (chosen) changeMove(store, n, text.axis, { axis: chosen })
          }}
        />
        <Picker
          label={text.about}
          value={grip ? idOf(grip) : other}
          choices={grip ? gripChoices : [...gripChoices, { id: other, text: text.otherLine }]}
          onChange={(id) => {
            const chosen = grips.find((each) => idOf(each) === id)
            if (chosen) changeMove(store, n, text.about, { grip: chosen.at })
          }}
        />
      </div>
    </fieldset>
  )
}

const idOf = ({ side }: Grip): string => side.join()

function shifted(move: GrippedMove, k: number, mm: number): GrippedMove {
  const [x, y, z] = move.shift.map((before, i) => (i === k ? mm : before))
  return { ...move, shift: [x, y, z] }
}
