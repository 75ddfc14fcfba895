import { Button } from 'react-aria-components/Button'
import { copyOf, withMirror, withoutKeepOut } from '../../../core/bay/freshKeepOut.ts'
import type { KeepOut } from '../../../core/bay/schema.ts'
import { ItemText } from '../measure/ItemText.tsx'
import { ShapeEditor } from '../measure/ShapeEditor.tsx'
import { focusSoon, useFresh } from '../measure/useFresh.ts'
import { useMeasure } from '../measure/useMeasure.ts'
import { useHere, useWindow } from '../state/context.ts'
import { withField } from '../state/edit.ts'
import { bayOf, doEdit } from '../state/windowState.ts'
import { words } from '../words.ts'
import { EditSwitch } from './EditSwitch.tsx'
import { FigureGroups } from './FigureGroups.tsx'
import { alwaysStays, RoleSelect } from './KeepOutRole.tsx'
import { keepOutGroups } from './specs.ts'

const text = words.measure.item

interface Props {
  readonly keepOut: KeepOut
  readonly index: number
}

/** All of one keep-out: what it is called and why it is there, its shape by numbers, what it asks, and what can be done with it. */
export function KeepOutEditor({ keepOut, index }: Props) {
  const bay = useWindow(bayOf)
  const isFresh = useFresh(keepOut.id)
  if (!bay) return null
  const { name, shape } = keepOut
  const path = ['keepOuts', index]
  return (
    <>
      <ItemText label={text.name} path={[...path, 'name']} of={name} focused={isFresh} />
      <div className="callout-row">
        <RoleSelect keepOut={keepOut} index={index} />
        <Standing keepOut={keepOut} index={index} />
      </div>
      <FigureGroups groups={keepOutGroups(bay, index)} />
      {keepOut.enabled === false && alwaysStays(keepOut.role) && (
        <p className="callout-caution">{words.keepOut.safetyCaution}</p>
      )}
      <h3 className="item-kind">{words.keepOut.kind[shape.kind]}</h3>
      <ShapeEditor keepOut={keepOut} index={index} />
      {shape.kind === 'mesh' && <MeshTold file={shape.file} />}
      <ItemText label={text.note} path={[...path, 'note']} of={name} optional lines={2} />
      <ItemText label={text.photo} path={[...path, 'photo']} of={name} optional placeholder={text.photoHint} />
      <Actions keepOut={keepOut} />
    </>
  )
}

/** In place, on both sides, and whether it comes off: what is there or not. */
function Standing({ keepOut, index }: Props) {
  const { name, id, role, enabled, mirror, fitting } = keepOut
  const labelOf = (yes: string, no: string) => (on: boolean) => `${name}: ${on ? yes : no}`
  const field = (field: string) => ['keepOuts', index, field]
  return (
    <div className="item-switches">
      <EditSwitch
        isOn={enabled !== false}
        label={labelOf(words.keepOut.shown, words.keepOut.leftOut)}
        apply={(bay, on) => withField(bay, field('enabled'), on ? undefined : false)}
      >
        {words.keepOut.shown}
      </EditSwitch>
      <EditSwitch
        isOn={mirror === true}
        label={labelOf(words.keepOut.both, text.oneSide)}
        apply={(bay, on) => withMirror(bay, id, on)}
      >
        {text.both}
      </EditSwitch>
      {alwaysStays(role) ? (
        <p className="callout-note">{text.alwaysStays}</p>
      ) : (
        <EditSwitch
          isOn={fitting === 'comes-off'}
          label={labelOf(text.comesOff, text.stays)}
          apply={(bay, on) => withField(bay, field('fitting'), on ? 'comes-off' : undefined)}
        >
          {text.comesOff}
        </EditSwitch>
      )}
    </div>
  )
}

function Actions({ keepOut }: { keepOut: KeepOut }) {
  const { room } = useHere()
  const remove = () => {
    const bay = bayOf(room.store.getState())
    const sat = bay ? withoutKeepOut(bay, keepOut.id).sat : []
    const done = doEdit(room.store, {
      name: 'remove-keep-out',
      label: words.measure.removed(keepOut.name),
      undo: 'step',
      apply: (whole) => withoutKeepOut(whole, keepOut.id).bay,
    })
    if (!done.ok) return
    room.store.setState({
      openItem: null,
      ...(sat.length > 0 && {
        banner: { title: words.measure.removed(keepOut.name), lines: [text.sat(sat.join(', '))], news: true },
      }),
    })
    // What had the focus is gone; the next thing to do is most likely another keep-out.
    focusSoon('.add-keep-out')
  }
  return (
    <div className="item-actions">
      <Button className="small" onPress={() => void room.measure.add((bay) => copyOf(bay, keepOut))}>
        {text.copy}
      </Button>
      <Button className="small" onPress={remove}>
        {text.remove}
      </Button>
    </div>
  )
}

function MeshTold({ file }: { file: string }) {
  const note = useWindow((state) => state.meshes.get(file))
  const isLoose = useMeasure(({ loose }) => loose.has(file))
  if (!note) return null
  return (
    <>
      {isLoose && <p className="callout-caution">{words.measure.mesh.loose}</p>}
      <p className="callout-note">
        {[
          words.keepOut.meshNote(note.triangles, note.closed, file),
          note.dropped > 0 && words.keepOut.meshDropped(note.dropped),
          note.turnedBack > 0 && words.keepOut.meshTurned(note.turnedBack),
        ]
          .filter((said) => typeof said === 'string')
          .join('; ')}
      </p>
    </>
  )
}
