import { Button } from 'react-aria-components/Button'
import { Label } from 'react-aria-components/Label'
import { ListBox, ListBoxItem } from 'react-aria-components/ListBox'
import { Popover } from 'react-aria-components/Popover'
import { Select, SelectValue } from 'react-aria-components/Select'
import { type KeepOut, type Role, roles } from '../../../core/bay/schema.ts'
import { useHere } from '../state/context.ts'
import { withField } from '../state/edit.ts'
import { doEdit } from '../state/windowState.ts'
import { words } from '../words.ts'

/** Of these roles nothing is ever taken off, not even for offering up. */
export const alwaysStays = (role: Role): boolean => role === 'safety' || role === 'lamp'

/** A role's hatch, as in the drawing. */
export function RoleSwatch({ role }: { role: Role }) {
  return <span className={`swatch swatch-${role}`} role="img" aria-label={words.role[role]} title={words.role[role]} />
}

export function RoleSelect({ keepOut, index }: { keepOut: KeepOut; index: number }) {
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
          apply: (bay) => {
            const path = ['keepOuts', index]
            const staying = alwaysStays(key as Role) ? withField(bay, [...path, 'fitting'], undefined) : bay
            return withField(staying, [...path, 'role'], key)
          },
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
