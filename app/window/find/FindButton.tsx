import { Button } from 'react-aria-components/Button'
import { commandNamed } from '../commands/list.ts'
import { useHere } from '../state/context.ts'
import { words } from '../words.ts'

/** The visible end of the search field, with its key. */
export function FindButton() {
  const here = useHere()
  const command = commandNamed('find')
  return (
    <Button
      className="find-open"
      aria-label={`${words.find.short} ${command.keys[0]}, ${command.label}`}
      onPress={() => command.perform(here)}
    >
      <svg width="16" height="16" viewBox="0 0 16 16" aria-hidden="true">
        <circle cx="6.500" cy="6.500" r="4.500" />
        <path d="m10 10 4.500 4.500" />
      </svg>
      <span className="find-open-text">{words.find.short}</span>
      <kbd>{command.keys[0]}</kbd>
    </Button>
  )
}
