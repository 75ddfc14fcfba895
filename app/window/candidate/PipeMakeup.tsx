import type { Pipe } from '../../../core/bay/schema.ts'
import { candidateWords } from '../candidateWords.ts'
import { Picker } from '../editors/Picker.tsx'
import { sizeOf } from '../pipes/figures.ts'
import { portName } from '../pipes/names.ts'
import { useHere, useWindow } from '../state/context.ts'
import { bayOf, candidateIn, candidateIndex } from '../state/windowState.ts'
import { step } from '../editors/doing.ts'
import { NameField } from './NameField.tsx'
import { pipeEndsIn, setElbow, setPipeEnd, withPipe } from './pipeEdits.ts'
import { withFields } from './removal.ts'

const { pipe: text, elbows: elbowText } = candidateWords
/** Stands for leaving a field out; ids are never empty. */
const none = '-'
const fittings = ['with-part', 'after'] as const

/** A pipe's name, what it runs between, and when it goes in. */
export function PipeAbout({ pipe }: { pipe: Pipe }) {
  const { room } = useHere()
  const bay = useWindow(bayOf)
  const candidate = useWindow(candidateIn)
  const index = useWindow(candidateIndex)
  if (!bay || !candidate) return null
  const choices = pipeEndsIn(bay, candidate).map((id) => ({ id, text: portName(bay, id) }))
  const fittingName = (id: string) => (id === none ? text.fittingDefault : text.fittings[id as 'after'])
  return (
    <>
      <NameField
        label={text.name}
        of={pipe.name}
        value={pipe.name}
        apply={(whole, name) => withPipe(whole, index, pipe.id, (before) => ({ ...before, name }))}
      />
      {(['from', 'to'] as const).map((end) => (
        <Picker
          key={end}
          label={text[end]}
          value={pipe[end]}
          choices={choices.filter(({ id }) => id !== pipe[end === 'from' ? 'to' : 'from'])}
          onChange={(id) =>
            step(room.store, `${pipe.name}, ${text[end]}: ${portName(bay, id)}`, (whole) =>
              setPipeEnd(whole, index, pipe.id, end, id),
            )
          }
        />
      ))}
      <Picker
        label={text.fitting}
        value={pipe.fitting ?? none}
        choices={[none, ...fittings].map((id) => ({ id, text: fittingName(id) }))}
        onChange={(id) =>
          step(room.store, `${pipe.name}, ${text.fitting}: ${fittingName(id)}`, (whole) =>
            withPipe(whole, index, pipe.id, (before) =>
              withFields(before, { fitting: id === none ? undefined : (id as (typeof fittings)[number]) }),
            ),
          )
        }
      />
    </>
  )
}

/** What makes each corner of a pipe: a bend, or an elbow of stock that is welded in. */
export function PipeElbows({ pipe }: { pipe: Pipe }) {
  const { room } = useHere()
  const bay = useWindow(bayOf)
  const index = useWindow(candidateIndex)
  const units = useWindow((state) => state.units)
  if (!bay) return null
  const stock = bay.stock?.elbows ?? []
  const named = pipe.elbows ?? []
  const fit = stock.filter(
    ({ id, outsideDiameter }) => outsideDiameter === pipe.outsideDiameter || named.some(({ elbow }) => elbow === id),
  )
  const choices = [
    { id: none, text: elbowText.bent },
    ...fit.map(({ id, name, angle }) => ({ id, text: elbowText.item(name, String(angle)) })),
  ]
  if (pipe.path.length === 0) return <p className="callout-note">{elbowText.noCorners}</p>
  if (fit.length === 0) return <p className="callout-note">{elbowText.noStock(sizeOf(pipe.outsideDiameter, units))}</p>
  return (
    <>
      <p className="callout-note">{elbowText.note}</p>
      {pipe.path.map((_, corner) => (
        <Picker
          // Corners have no name but their number.
          // biome-ignore lint/suspicious/noArrayIndexKey: see above
          key={corner}
          label={elbowText.corner(corner + 1)}
          value={named.find((each) => each.corner === corner)?.elbow ?? none}
          choices={choices}
          onChange={(id) => {
            const said = choices.find((each) => each.id === id)?.text ?? id
            step(room.store, elbowText.changed(pipe.name, corner + 1, said), (whole) =>
              setElbow(whole, index, pipe.id, corner, id === none ? undefined : id),
            )
          }}
        />
      ))}
    </>
  )
}
