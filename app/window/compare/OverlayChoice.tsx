import { Button } from 'react-aria-components/Button'
import { ToggleButton } from 'react-aria-components/ToggleButton'
import { ToggleButtonGroup } from 'react-aria-components/ToggleButtonGroup'
import { useAids, useHere, useWindow } from '../state/context.ts'
import { bayOf } from '../state/windowState.ts'
import { words } from '../words.ts'

const { compare: text } = words

/** Which candidate's outlines are laid over the one that is drawn, if any. */
export function OverlayChoice() {
  const { room } = useHere()
  const bay = useWindow(bayOf)
  const shown = useWindow((state) => state.candidate)
  const overlaid = useAids((aids) => aids.overlaid)
  const others = (bay?.candidates ?? []).filter(({ id }) => id !== shown)
  return (
    <div className="compare-overlay">
      <span id="overlay-label">{text.overlay}</span>
      <ToggleButtonGroup
        aria-labelledby="overlay-label"
        className="switch"
        selectionMode="single"
        selectedKeys={overlaid === null ? [] : [overlaid]}
        onSelectionChange={(keys) => room.aids.setState({ overlaid: [...keys].map(String)[0] ?? null })}
      >
        {others.map(({ id, name }) => (
          <ToggleButton key={id} id={id} aria-label={text.overlayOf(name)}>
            {name}
          </ToggleButton>
        ))}
      </ToggleButtonGroup>
    </div>
  )
}

/** In the drawing: whose the dashed outlines are, and the way to take them off. */
export function OverlaidNote() {
  const { room } = useHere()
  const overlaid = useAids((aids) => aids.overlaid)
  const name = useWindow((state) =>
    overlaid === state.candidate ? undefined : bayOf(state)?.candidates.find(({ id }) => id === overlaid)?.name,
  )
  if (name === undefined) return null
  return (
    <span className="overlaid">
      <svg width="26" height="8" viewBox="0 0 26 8" aria-hidden="true">
        <path d="M1 4h24" />
      </svg>
      {text.overlaid(name)}
      <Button
        className="overlaid-off"
        aria-label={text.overlayOff}
        onPress={() => room.aids.setState({ overlaid: null })}
      >
        <svg width="10" height="10" viewBox="0 0 10 10" aria-hidden="true">
          <path d="m1 1 8 8M9 1 1 9" />
        </svg>
      </Button>
    </span>
  )
}
