import { Button } from 'react-aria-components/Button'
import { ToggleButton } from 'react-aria-components/ToggleButton'
import { ToggleButtonGroup } from 'react-aria-components/ToggleButtonGroup'
import { commandNamed } from '../commands/list.ts'
import { useHere, useWindow } from '../state/context.ts'
import type { ViewName } from '../state/windowState.ts'
import { LookPanel } from '../seeing/LookPanel.tsx'
import { words } from '../words.ts'

const views: readonly ViewName[] = ['space', 'front', 'side', 'plan']

/** Views, fit and ghosting: the buttons for what keys do too. */
export function ViewTools() {
  const { room, eye } = useHere()
  const view = useWindow((state) => state.view)
  const ghosted = useWindow((state) => state.ghosted)
  const fit = commandNamed('fit')
  return (
    <div className="view-tools">
      <ToggleButtonGroup
        aria-label={words.view.group}
        className="switch"
        selectionMode="single"
        disallowEmptySelection
        selectedKeys={[view]}
        onSelectionChange={(keys) => room.store.setState({ view: [...keys][0] as ViewName })}
      >
        {views.map((name) => (
          <ToggleButton key={name} id={name}>
            {words.view[name]}
          </ToggleButton>
        ))}
      </ToggleButtonGroup>
      <Button className="tool" aria-label={fit.label} onPress={() => fit.perform({ room, eye })}>
        {words.view.fit}
      </Button>
      <ToggleButton
        className="tool"
        aria-label={words.view.ghost}
        isSelected={ghosted}
        onChange={(on) => room.store.setState({ ghosted: on })}
      >
        {words.view.ghostShort}
      </ToggleButton>
      <LookPanel />
    </div>
  )
}
