import type { Fixing } from '../../../core/bay/mountSchema.ts'
import { candidateWords } from '../candidateWords.ts'
import { EditPicker } from '../editors/EditPicker.tsx'
import { EditSwitch } from '../editors/EditSwitch.tsx'
import { FigureGroups } from '../editors/FigureGroups.tsx'
import { KeepOutPicker } from '../editors/KeepOutPicker.tsx'
import { withField } from '../state/edit.ts'
import { type FixingKind, removeFixing, setFixingKind } from './fixingEdits.ts'
import { fixingGroups } from './mountSpecs.ts'
import { WordsField } from '../editors/WordsField.tsx'
import { RemoveButton } from './RemoveButton.tsx'

const { fixing: text } = candidateWords
const kinds: readonly FixingKind[] = ['hole', 'stud', 'thread', 'slot']
/** Room for a tool to begin with, mm. Common practice, no source. */
const firstTool = { diameter: 20, length: 100 }

/** All of one fixing on the car. @param nth its place among the bay's fixings */
export function FixingEditor({ fixing, nth }: { fixing: Fixing; nth: number }) {
  const { id, name, kind, tool } = fixing
  return (
    <>
      <WordsField
        label={text.name}
        of={name}
        value={name}
        apply={(bay, next) => withField(bay, ['fixings', nth, 'name'], next)}
      />
      <div className="mount-choices">
        <EditPicker
          label={text.kind}
          value={kind}
          choices={kinds.map((each) => ({ id: each, text: text.kinds[each] }))}
          step={(said) => `${name}, ${text.kind}: ${said}`}
          apply={(bay, key) => setFixingKind(bay, id, key as FixingKind)}
        />
        <KeepOutPicker
          label={text.sitsOn}
          none={text.sitsOnNone}
          of={name}
          value={fixing.sitsOn}
          path={['fixings', nth, 'sitsOn']}
        />
      </div>
      <p className="callout-note">{text.axisNote}</p>
      <FigureGroups groups={fixingGroups(nth, fixing)} />
      <EditSwitch
        isOn={tool !== undefined}
        label={(on) => `${name}, ${text.tool}: ${text.toolIs[on ? 'on' : 'off']}`}
        apply={(bay, on) => withField(bay, ['fixings', nth, 'tool'], on ? firstTool : undefined)}
      >
        {text.tool}
      </EditSwitch>
      <div className="candidate-tools">
        <RemoveButton label={text.remove(name)} what={name} removal={(bay) => removeFixing(bay, id)} />
      </div>
    </>
  )
}
