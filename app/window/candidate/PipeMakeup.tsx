import type { Pipe } from '../../../core/bay/schema.ts'
import { candidateWords } from '../candidateWords.ts'
import { EditPicker } from '../editors/EditPicker.tsx'
import { sizeOf } from '../pipes/figures.ts'
import { portName } from '../pipes/names.ts'
import { useWindow } from '../state/context.ts'
import { bayOf, candidateIn, candidateIndex } from '../state/windowState.ts'
import { WordsField } from '../editors/WordsField.tsx'
import { pipeEndsIn, setElbow, setPipeEnd, withPipe } from './pipeEdits.ts'
import { withFields } from './removal.ts'

const { pipe: text, elbows: elbowText } = candidateWords
/** Stands for leaving a field out; ids are never empty. */
const none = '-'
const fittings = ['with-part', 'after'] as const

/** A pipe's name, what it runs between, and when it goes in. */
export function PipeAbout({ pipe }: { pipe: Pipe }) {
  const bay = useWindow(bayOf)
  const candidate = useWindow(candidateIn)
  const index = useWindow(candidateIndex)
  if (!bay || !candidate) return null
  const choices = pipeEndsIn(bay, candidate).map((id) => ({ id, text: portName(bay, id) }))
  const fittingName = (id: string) => (id === none ? text.fittingDefault : text.fittings[id as 'after'])
  return (
    <>
      <WordsField
        label={text.name}
        of={pipe.name}
        value={pipe.name}
        apply={(whole, name) => withPipe(whole, index, pipe.id, (before) => ({ ...before, name }))}
      />
      {(['from', 'to'] as const).map((end) => (
        <EditPicker
          key={end}
          label={text[end]}
          value={pipe[end]}
          choices={choices.filter(({ id }) => id !== pipe[end === 'from' ? 'to' : 'from'])}
          step={(said) => `${pipe.name}, ${text[end]}: ${said}`}
          apply={(whole, id) => setPipeEnd(whole, index, pipe.id, end, id)}
        />
      ))}
      <EditPicker
        label={text.fitting}
        value={pipe.fitting ?? none}
        choices={[none, ...fittings].map((id) => ({ id, text: fittingName(id) }))}
        step={(said) => `${pipe.name}, ${text.fitting}: ${said}`}
        apply={(whole, id) =>
          withPipe(whole, index, pipe.id, (before) =>
            withFields(before, { fitting: id === none ? undefined : (id as (typeof fittings)[number]) }),
          )
        }
      />
    </>
  )
}

/** What makes each corner of a pipe: a bend, or an elbow of stock that is welded in. */
export function PipeElbows({ pipe }: { pipe: Pipe }) {
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
        <EditPicker
          // Corners have no name but their number.
          // biome-ignore lint/suspicious/noArrayIndexKey: see above
          key={corner}
          label={elbowText.corner(corner + 1)}
          value={named.find((each) => each.corner === corner)?.elbow ?? none}
          choices={choices}
          step={(said) => elbowText.changed(pipe.name, corner + 1, said)}
          apply={(whole, id) => setElbow(whole, index, pipe.id, corner, id === none ? undefined : id)}
        />
      ))}
    </>
  )
}
