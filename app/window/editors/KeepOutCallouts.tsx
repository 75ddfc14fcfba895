import { Button } from 'react-aria-components/Button'
import { Label } from 'react-aria-components/Label'
import { ListBox, ListBoxItem } from 'react-aria-components/ListBox'
import { Popover } from 'react-aria-components/Popover'
import { Select, SelectValue } from 'react-aria-components/Select'
import { Switch } from 'react-aria-components/Switch'
import { askedBy } from '../../../core/bay/defaults.ts'
import { type KeepOut, type Role, roles } from '../../../core/bay/schema.ts'
import { useHere, useWindow } from '../state/context.ts'
import { withField } from '../state/edit.ts'
import { bayOf, doEdit } from '../state/windowState.ts'
import { words } from '../words.ts'
import { Callout } from './Callouts.tsx'
import { FigureGroups } from './FigureGroups.tsx'
import { fieldText } from './quantity.ts'
import { keepOutGroups } from './specs.ts'

/** Every keep-out with what it asks; opened, its role, clearance and uncertainty, and whether it is in place. */
export function KeepOutCallouts() {
  const { room } = useHere()
  const bay = useWindow(bayOf)
  const units = useWindow((state) => state.units)
  const openItem = useWindow((state) => state.openItem)
  if (!bay || bay.keepOuts.length === 0) return <p className="callouts-none">{words.keepOut.none}</p>
  return (
    <section className="callouts" aria-label={words.keepOut.list}>
      {bay.keepOuts.map((keepOut, index) => {
        const { id, name, role, enabled, mirror } = keepOut
        const { required, uncertainty } = askedBy(keepOut)
        const brief =
          enabled === false
            ? words.keepOut.leftOut
            : words.keepOut.allowances(fieldText(required, 'length', units), fieldText(uncertainty, 'length', units))
        return (
          <Callout
            key={id}
            title={mirror ? `${name}, ${words.keepOut.both}` : name}
            brief={brief}
            mark={<RoleSwatch role={role} />}
            muted={enabled === false}
            open={openItem?.side === 'keepOut' && openItem.key === id}
            onOpen={(on) => room.store.setState({ openItem: on ? { side: 'keepOut', key: id } : null })}
          >
            <KeepOutEditor keepOut={keepOut} index={index} />
          </Callout>
        )
      })}
    </section>
  )
}

/** A role's hatch, as in the drawing. */
function RoleSwatch({ role }: { role: Role }) {
  return <span className={`swatch swatch-${role}`} role="img" aria-label={words.role[role]} title={words.role[role]} />
}

function KeepOutEditor({ keepOut, index }: { keepOut: KeepOut; index: number }) {
  const { room } = useHere()
  const bay = useWindow(bayOf)
  const note = useWindow((state) => (keepOut.shape.kind === 'mesh' ? state.meshes.get(keepOut.shape.file) : undefined))
  if (!bay) return null
  const { name, enabled, role, shape } = keepOut
  const inPlace = enabled !== false
  return (
    <>
      <div className="callout-row">
        <RoleSelect keepOut={keepOut} index={index} />
        <Switch
          className="in-place"
          isSelected={inPlace}
          onChange={(on) =>
            doEdit(room.store, {
              name: 'in-place',
              label: `${name}: ${on ? words.keepOut.shown : words.keepOut.leftOut}`,
              undo: 'step',
              apply: (whole) => withField(whole, ['keepOuts', index, 'enabled'], on ? undefined : false),
            })
          }
        >
          <span className="switch-box" aria-hidden="true" />
          {words.keepOut.shown}
        </Switch>
      </div>
      <FigureGroups groups={keepOutGroups(bay, index)} />
      {!inPlace && (role === 'safety' || role === 'lamp') && (
        <p className="callout-caution">{words.keepOut.safetyCaution}</p>
      )}
      <p className="callout-note">
        {words.keepOut.kind[shape.kind]}
        {keepOut.note ? `. ${keepOut.note}` : ''}
      </p>
      {shape.kind === 'mesh' && note && (
        <p className="callout-note">
          {[
            words.keepOut.meshNote(note.triangles, note.closed, shape.file),
            note.dropped > 0 && words.keepOut.meshDropped(note.dropped),
            note.turnedBack > 0 && words.keepOut.meshTurned(note.turnedBack),
          ]
            .filter((text) => typeof text === 'string')
            .join('; ')}
        </p>
      )}
    </>
  )
}

function RoleSelect({ keepOut, index }: { keepOut: KeepOut; index: number }) {
  const { room } = useHere()
  return (
    <Select
      className="role-select"
      value={keepOut.role}
      onChange={(key) =>
        doEdit(room.store, {
          name: 'role',
          label: `${keepOut.name}, ${words.keepOut.role}: ${words.role[key as Role]}`,
          undo: 'step',
          apply: (bay) => withField(bay, ['keepOuts', index, 'role'], key),
        })
      }
    >
      <Label>{words.keepOut.role}</Label>
      <Button>
        <SelectValue />
        <span aria-hidden="true">▾</span>
      </Button>
      <Popover className="popover">
        <ListBox className="choices">
          {roles.map((role) => (
            <ListBoxItem key={role} id={role} textValue={words.role[role]} className="choice">
              <RoleSwatch role={role} /> {words.role[role]}
            </ListBoxItem>
          ))}
        </ListBox>
      </Popover>
    </Select>
  )
}
