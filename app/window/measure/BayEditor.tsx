import { Picker } from '../editors/Picker.tsx'
import { useHere, useWindow } from '../state/context.ts'
import { withField } from '../state/edit.ts'
import { bayOf, doEdit } from '../state/windowState.ts'
import { words } from '../words.ts'
import { ItemText } from './ItemText.tsx'

const text = words.measure

/** The bay's own words: what it is, where its frame stands on the car, and how its lengths are shown at first. */
export function BayEditor() {
  const { room } = useHere()
  const bay = useWindow(bayOf)
  if (!bay) return null
  const of = text.sections.bay
  return (
    <>
      <ItemText label={text.item.name} path={['name']} of={of} />
      <ItemText label={text.item.origin} path={['frame', 'origin']} of={of} />
      <ItemText label={text.item.axes} path={['frame', 'note']} of={of} optional lines={2} />
      <Picker
        label={text.item.units}
        value={bay.units}
        choices={(['mm', 'inch'] as const).map((id) => ({ id, text: words.units[id] }))}
        onChange={(id) => {
          doEdit(room.store, {
            name: 'bay-units',
            label: text.changed(of, text.item.units.toLowerCase(), words.units[id as 'mm' | 'inch']),
            undo: 'step',
            apply: (whole) => withField(whole, ['units'], id),
          })
          room.store.setState({ units: id as 'mm' | 'inch' })
        }}
      />
    </>
  )
}
