import { Button } from 'react-aria-components/Button'
import { Checkbox } from 'react-aria-components/Checkbox'
import { Dialog, DialogTrigger } from 'react-aria-components/Dialog'
import { Heading } from 'react-aria-components/Heading'
import { Popover } from 'react-aria-components/Popover'
import { ToggleButton } from 'react-aria-components/ToggleButton'
import { ToggleButtonGroup } from 'react-aria-components/ToggleButtonGroup'
import { type Role, roles } from '../../../core/bay/schema.ts'
import { LengthField } from '../editors/LengthField.tsx'
import { useHere, useWindow } from '../state/context.ts'
import { see } from '../state/seeing.ts'
import { bayOf } from '../state/windowState.ts'
import { words } from '../words.ts'
import { PictureTools } from './PictureTools.tsx'
import {
  isSelective,
  type RoleLook,
  type Seeing,
  startSeeing,
  type TextSize,
  textSizes,
  withRole,
  withWithin,
} from './seeing.ts'

const { seeing: text } = words
const looks: readonly RoleLook[] = ['drawn', 'ghosted', 'hidden']

/** What of the bay is drawn, and how; pictures of it. Opened from the drawing's tools. */
export function LookPanel() {
  const selective = useWindow((state) => isSelective(state.seeing))
  return (
    <DialogTrigger>
      <Button className={`tool ${selective ? 'tool-on' : ''}`} aria-label={text.open}>
        {text.openShort} <span aria-hidden="true">▾</span>
      </Button>
      <Popover className="popover look-popover" placement="bottom end">
        <Dialog className="look-panel" aria-label={text.open}>
          <Roles />
          <Near />
          <Dimensioned />
          <TextSizes />
          <PictureTools />
        </Dialog>
      </Popover>
    </DialogTrigger>
  )
}

function useSeeing() {
  const { room } = useHere()
  const seeing = useWindow((state) => state.seeing)
  return [seeing, (step: (seeing: Seeing) => Seeing) => see(room.store, step)] as const
}

/** One switch for each role that the bay has. */
function Roles() {
  const [seeing, change] = useSeeing()
  const bay = useWindow(bayOf)
  const there = new Set(bay?.keepOuts.map(({ role }) => role))
  return (
    <section className="look-group">
      <Heading level={3}>{text.roles.title}</Heading>
      {roles
        .filter((role) => there.has(role))
        .map((role) => (
          <RoleRow
            key={role}
            role={role}
            look={seeing.roles[role] ?? 'drawn'}
            onLook={(look) => change((now) => withRole(now, role, look))}
          />
        ))}
      <p className="look-note">
        {text.roles.note}{' '}
        {isSelective(seeing) && (
          <Button
            className="small"
            onPress={() => change((now) => ({ ...withWithin(now, null), roles: startSeeing.roles }))}
          >
            {text.roles.all}
          </Button>
        )}
      </p>
    </section>
  )
}

function RoleRow({ role, look, onLook }: { role: Role; look: RoleLook; onLook: (look: RoleLook) => void }) {
  const name = words.role[role]
  return (
    <div className="look-row">
      <span aria-hidden="true">{name}</span>
      <ToggleButtonGroup
        className="switch"
        aria-label={text.roles.group(name)}
        selectionMode="single"
        disallowEmptySelection
        selectedKeys={[look]}
        onSelectionChange={(keys) => onLook([...keys][0] as RoleLook)}
      >
        {looks.map((each) => (
          <ToggleButton key={each} id={each}>
            {text.roles.looks[each]}
          </ToggleButton>
        ))}
      </ToggleButtonGroup>
    </div>
  )
}

function Near() {
  const [{ within, withinLast }, change] = useSeeing()
  return (
    <section className="look-group">
      <Heading level={3}>{text.within.title}</Heading>
      <div className="look-row">
        <Check
          on={within !== null}
          label={text.within.on}
          onChange={(on) => change((now) => withWithin(now, on ? withinLast : null))}
        />
        <LengthField
          label={text.within.field}
          value={within ?? withinLast}
          mayBeZero
          onChange={(mm) => change((now) => withWithin(now, mm))}
        />
      </div>
    </section>
  )
}

function Dimensioned() {
  const [{ tightest, dimensions }, change] = useSeeing()
  return (
    <section className="look-group">
      <Heading level={3}>{text.gaps.title}</Heading>
      <Check on={tightest} label={text.gaps.tightest} onChange={(on) => change((now) => ({ ...now, tightest: on }))} />
      <Check
        on={dimensions}
        label={text.gaps.drawings}
        onChange={(on) => change((now) => ({ ...now, dimensions: on }))}
      />
    </section>
  )
}

function TextSizes() {
  const [seeing, change] = useSeeing()
  return (
    <section className="look-group look-row">
      <Heading level={3}>{text.text.title}</Heading>
      <ToggleButtonGroup
        className="switch"
        aria-label={text.text.title}
        selectionMode="single"
        disallowEmptySelection
        selectedKeys={[seeing.text]}
        onSelectionChange={(keys) => change((now) => ({ ...now, text: [...keys][0] as TextSize }))}
      >
        {textSizes.map((size) => (
          <ToggleButton key={size} id={size}>
            {text.text.sizes[size]}
          </ToggleButton>
        ))}
      </ToggleButtonGroup>
    </section>
  )
}

function Check({ on, label, onChange }: { on: boolean; label: string; onChange: (on: boolean) => void }) {
  return (
    <Checkbox className="check" isSelected={on} onChange={onChange}>
      <span className="check-box" aria-hidden="true" />
      {label}
    </Checkbox>
  )
}
