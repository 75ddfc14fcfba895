import { Switch } from 'react-aria-components/Switch'
import type { Fixing } from '../../../core/bay/mountSchema.ts'
import { mirrorId } from '../../../core/bay/sense.ts'
import { candidateWords } from '../candidateWords.ts'
import { FigureGroups } from '../editors/FigureGroups.tsx'
import { Picker } from '../editors/Picker.tsx'
import { useWindow } from '../state/context.ts'
import { withField } from '../state/edit.ts'
import { bayOf } from '../state/windowState.ts'
import { words } from '../words.ts'
import { type FixingKind, removeFixing, setFixingKind } from './fixingEdits.ts'
import { fixingGroups } from './mountSpecs.ts'
import { NameField } from './NameField.tsx'
import { RemoveButton } from './RemoveButton.tsx'
import { useSteps } from './useSteps.tsx'

const { fixing: text } = candidateWords
const kinds: readonly FixingKind[] = ['hole', 'stud', 'thread', 'slot']
const nothing = ' '
/** Room for a tool to begin with, mm. Common practice, no source. */
const firstTool = { diameter: 20, length: 100 }

/** All of one fixing on the car. @param nth its place among the bay's fixings */
export function FixingEditor({ fixing, nth }: { fixing: Fixing; nth: number }) {
  const { go, told } = useSteps()
  const { id, name, kind, tool } = fixing
  return (
    <>
      <NameField
        label={text.name}
        of={name}
        value={name}
        apply={(bay, next) => withField(bay, ['fixings', nth, 'name'], next)}
      />
      <div className="mount-choices">
        <Picker
          label={text.kind}
          value={kind}
          choices={kinds.map((each) => ({ id: each, text: text.kinds[each] }))}
          onChange={(key) => {
            const next = key as FixingKind
            go(`${name}, ${text.kind}: ${text.kinds[next]}`, (bay) => setFixingKind(bay, id, next))
          }}
        />
        <SitsOn fixing={fixing} nth={nth} />
        {told}
      </div>
      <p className="callout-note">{text.axisNote}</p>
      <FigureGroups groups={fixingGroups(nth, fixing)} />
      <Switch
        className="in-place"
        isSelected={tool !== undefined}
        onChange={(on) =>
          go(`${name}, ${text.tool}: ${text.toolIs[on ? 'on' : 'off']}`, (bay) =>
            withField(bay, ['fixings', nth, 'tool'], on ? firstTool : undefined),
          )
        }
      >
        <span className="switch-box" aria-hidden="true" />
        {text.tool}
      </Switch>
      <div className="candidate-tools">
        <RemoveButton label={text.remove(name)} what={name} removal={(bay) => removeFixing(bay, id)} />
      </div>
    </>
  )
}

/** The keep-out that it is part of: mounts on it are not held against that. */
function SitsOn({ fixing, nth }: { fixing: Fixing; nth: number }) {
  const { go, told } = useSteps()
  const bay = useWindow(bayOf)
  const choices = [
    { id: nothing, text: text.sitsOnNone },
    ...(bay?.keepOuts ?? []).flatMap(({ id, name, mirror }) => [
      { id, text: name },
      ...(mirror ? [{ id: mirrorId(id), text: words.keepOut.mirrored(name) }] : []),
    ]),
  ]
  return (
    <>
      <Picker
        label={text.sitsOn}
        value={fixing.sitsOn ?? nothing}
        choices={choices}
        onChange={(key) =>
          go(`${fixing.name}, ${text.sitsOn}: ${choices.find(({ id }) => id === key)?.text ?? key}`, (whole) =>
            withField(whole, ['fixings', nth, 'sitsOn'], key === nothing ? undefined : key),
          )
        }
      />
      {told}
    </>
  )
}
