import { Button } from 'react-aria-components/Button'
import { ToggleButton } from 'react-aria-components/ToggleButton'
import { ToggleButtonGroup } from 'react-aria-components/ToggleButtonGroup'
import { commandNamed } from '../commands/list.ts'
import { OverlaidNote } from '../compare/OverlayChoice.tsx'
import { CandidateMenu } from '../candidate/CandidateMenu.tsx'
import { litresText } from '../editors/litres.ts'
import { useHere, useWindow } from '../state/context.ts'
import { bayOf } from '../state/windowState.ts'
import { words } from '../words.ts'

/** The candidates side by side; one of them is looked at. */
export function CandidateTabs() {
  const here = useHere()
  const { room } = here
  const candidates = useWindow((state) => bayOf(state)?.candidates)
  const candidate = useWindow((state) => state.candidate)
  if (!candidates || candidates.length === 0 || candidate === null) return null
  return (
    <div className="candidates">
      <div className="candidate-bar">
        <ToggleButtonGroup
          aria-label={words.candidates.group}
          className="candidates"
          selectionMode="single"
          disallowEmptySelection
          selectedKeys={[candidate]}
          onSelectionChange={(keys) =>
            room.store.setState({ candidate: String([...keys][0]), selected: null, stopped: false })
          }
        >
          {candidates.map(({ id, name, core }) => (
            <ToggleButton key={id} id={id} className="candidate">
              {name} <span className="candidate-litres">{litresText(core)} L</span>
            </ToggleButton>
          ))}
        </ToggleButtonGroup>
        <CandidateMenu />
        {candidates.length > 1 && (
          <Button
            className="compare-open"
            aria-label={words.compare.open}
            onPress={() => commandNamed('compare').perform(here)}
          >
            {words.compare.short}
          </Button>
        )}
        <OverlaidNote />
      </div>
    </div>
  )
}
