import type { ReactNode } from 'react'
import { Button } from 'react-aria-components/Button'
import { Keyboard } from 'react-aria-components/Keyboard'
import { Menu, MenuItem, MenuTrigger } from 'react-aria-components/Menu'
import { Popover } from 'react-aria-components/Popover'
import { Text } from 'react-aria-components/Text'
import { ToggleButton } from 'react-aria-components/ToggleButton'
import { ToggleButtonGroup } from 'react-aria-components/ToggleButtonGroup'
import type { PeopleUnits } from '../../../core/units/lengthText.ts'
import { commandNamed } from '../commands/list.ts'
import { FindButton } from '../find/FindButton.tsx'
import { useHere, useWindow } from '../state/context.ts'
import { bayOf, isDirty } from '../state/windowState.ts'
import { words } from '../words.ts'
import { StageBar } from './StageBar.tsx'

/** The top edge: whose bay this is, the stages, undo and redo, units and paper. */
export function Header() {
  const loaded = useWindow((state) => bayOf(state) !== null)
  return (
    <header className="top">
      <Brand />
      {loaded ? <StageBar /> : <div className="stages" />}
      <div className="top-tools">
        <FindButton />
        {loaded && <UndoRedo />}
        {loaded && <Units />}
        <Paper />
      </div>
    </header>
  )
}

const fileCommands = ['new', 'open', 'recent', 'save', 'save-as', 'undo', 'redo', 'history', 'help'].map(commandNamed)

function Brand() {
  const here = useHere()
  const name = useWindow((state) => bayOf(state)?.name ?? '')
  const dirty = useWindow(isDirty)
  const canDragOut = here.room.host.dragOut !== undefined && name !== ''
  // Which commands can be done now, as text: the menu is drawn anew only when that changes.
  const off = useWindow(() =>
    fileCommands
      .filter(({ enabled }) => enabled && !enabled(here))
      .map((c) => c.name)
      .join(),
  )
  return (
    <div className="brand">
      <MenuTrigger>
        <Button className="brand-button" aria-label={words.file.menuOf(words.program)}>
          <span className="brand-name">{words.program}</span>
          <span className="brand-arrow" aria-hidden="true">
            ▾
          </span>
        </Button>
        <Popover className="popover" placement="bottom start">
          <Menu className="choices" aria-label={words.file.menu} disabledKeys={off.split(',')}>
            {fileCommands.map((command) => (
              <MenuItem key={command.name} id={command.name} className="choice" onAction={() => command.perform(here)}>
                <Text slot="label">{command.label}</Text>
                <Keyboard>{command.keys[0]}</Keyboard>
              </MenuItem>
            ))}
          </Menu>
        </Popover>
      </MenuTrigger>
      {/* biome-ignore lint/a11y/noStaticElementInteractions: saving does the same by keyboard */}
      <div
        className="brand-bay"
        title={canDragOut ? words.file.dragOut : undefined}
        draggable={canDragOut}
        onDragStart={(event) => {
          // The shell drags a file of its own; the page's dragging would carry text only.
          event.preventDefault()
          here.room.dragBayOut()
        }}
      >
        {name !== '' && (
          <h1 className="brand-title" title={name}>
            {name}
          </h1>
        )}
        {dirty && <span className="brand-unsaved">{words.file.unsaved}</span>}
      </div>
    </div>
  )
}

function UndoRedo() {
  const undoLabel = useWindow((state) => state.history?.past.at(-1)?.label ?? null)
  const redoLabel = useWindow((state) => state.history?.future[0]?.label ?? null)
  return (
    <div className="undo-redo">
      <StepButton
        name="undo"
        label={undoLabel === null ? words.edit.undo : words.edit.undoOf(undoLabel)}
        off={undoLabel === null}
      >
        <path d="M7 4 3 8l4 4M3.5 8H11a4 4 0 0 1 0 8H8" />
      </StepButton>
      <StepButton
        name="redo"
        label={redoLabel === null ? words.edit.redo : words.edit.redoOf(redoLabel)}
        off={redoLabel === null}
      >
        <path d="m11 4 4 4-4 4m3.500-4H7a4 4 0 0 0 0 8h3" />
      </StepButton>
    </div>
  )
}

function StepButton({
  name,
  label,
  off,
  children,
}: {
  name: string
  label: string
  off: boolean
  children: ReactNode
}) {
  const here = useHere()
  return (
    <span title={off ? undefined : label}>
      <Button className="icon" aria-label={label} isDisabled={off} onPress={() => commandNamed(name).perform(here)}>
        <svg width="18" height="18" viewBox="0 0 18 18" aria-hidden="true">
          {children}
        </svg>
      </Button>
    </span>
  )
}

function Units() {
  const { room } = useHere()
  const units = useWindow((state) => state.units)
  return (
    <ToggleButtonGroup
      aria-label={words.units.group}
      className="switch"
      selectionMode="single"
      disallowEmptySelection
      selectedKeys={[units]}
      onSelectionChange={(keys) => room.store.setState({ units: [...keys][0] as PeopleUnits })}
    >
      <ToggleButton id="mm">{words.units.mm}</ToggleButton>
      <ToggleButton id="inch">{words.units.inch}</ToggleButton>
    </ToggleButtonGroup>
  )
}

function Paper() {
  const { room } = useHere()
  const theme = useWindow((state) => state.theme)
  const other = theme === 'light' ? 'dark' : 'light'
  return (
    <Button
      className="icon"
      aria-label={other === 'dark' ? words.theme.toDark : words.theme.toLight}
      onPress={() => room.store.setState({ theme: other })}
    >
      <svg width="18" height="18" viewBox="0 0 18 18" aria-hidden="true">
        <circle cx="9" cy="9" r="6" />
        <path className="icon-solid" d="M9 3a6 6 0 0 1 0 12Z" />
      </svg>
    </Button>
  )
}
