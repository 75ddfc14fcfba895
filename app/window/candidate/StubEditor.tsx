import type { TankPort } from '../../../core/bay/schema.ts'
import type { Side } from '../../../core/bay/tankPort.ts'
import { candidateWords } from '../candidateWords.ts'
import { BeadFields } from '../editors/BeadFields.tsx'
import { EditPicker } from '../editors/EditPicker.tsx'
import { EditSwitch } from '../editors/EditSwitch.tsx'
import { FigureGroups } from '../editors/FigureGroups.tsx'
import { stubGroups } from '../editors/specs.ts'
import { directionGroup } from '../measure/shapeGroups.ts'
import { withField } from '../state/edit.ts'
import { words } from '../words.ts'
import { WordsField } from '../editors/WordsField.tsx'
import { RemoveButton } from './RemoveButton.tsx'
import { removeTankPort, renameTankPort, setOwnDirection } from './tankEdits.ts'

const { tank: text } = candidateWords
const faces = Object.entries(text.faces).map(([id, said]) => ({ id, text: said }))

interface Props {
  readonly port: TankPort
  /** Its place among the tank's stubs. */
  readonly nth: number
  readonly index: number
  readonly side: Side
}

/** All of one stub: its face and its place there, its sizes, the way it leaves, its bead. */
export function StubEditor({ port, nth, index, side }: Props) {
  const { id, face, direction, bead } = port
  const path = ['candidates', index, 'tanks', side, 'ports', nth]
  const title = text.port(id)
  const of = `${words.part.tank[side]}, ${title.toLowerCase()}`
  return (
    <fieldset className="stub">
      <legend>{title}</legend>
      <div className="stub-about">
        <WordsField
          label={text.portName}
          of={title}
          value={id}
          apply={(bay, next) => renameTankPort(bay, index, side, id, next)}
        />
        <EditPicker
          label={text.face}
          value={face}
          choices={faces}
          step={(said) => words.measure.changed(of, text.face.toLowerCase(), said)}
          apply={(bay, key) => withField(bay, [...path, 'face'], key)}
        />
      </div>
      <FigureGroups groups={stubGroups(index, side, nth, of)} />
      <EditSwitch
        isOn={direction !== undefined}
        label={(on) => text.directed(of, on)}
        apply={(bay, on) => setOwnDirection(bay, index, side, nth, on)}
      >
        {text.own}
      </EditSwitch>
      {direction && <FigureGroups groups={[directionGroup({ of, path }, text.direction, 'direction')]} />}
      <BeadFields of={of} bead={bead} path={[...path, 'bead']} />
      <div className="candidate-tools">
        <RemoveButton
          label={text.removePort(id)}
          what={text.stubOf(id, text.what[side])}
          removal={(bay) => removeTankPort(bay, index, side, id)}
        />
      </div>
    </fieldset>
  )
}
