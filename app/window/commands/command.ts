import type { Here } from '../state/context.ts'
import { bayOf } from '../state/windowState.ts'

/**
 * Something that people can do, with one name wherever it is met: menu, key, button, test.
 * Edits of the bay are values of their own (`state/edit.ts`) and go through `doEdit`.
 */
export interface Command {
  readonly name: string
  readonly label: string
  /** As shown: 'Ctrl+Shift+Z'; further keys that do the same. */
  readonly keys: readonly string[]
  /** How it counts for undo: looking around and files never do. */
  readonly undo: 'none'
  readonly group: 'file' | 'drawing'
  readonly perform: (here: Here) => void
  readonly enabled?: (here: Here) => boolean
}

/** What makes commands of one group. */
export const commandOf =
  (group: Command['group']) =>
  (
    name: string,
    label: string,
    keys: readonly string[],
    perform: Command['perform'],
    enabled?: Command['enabled'],
  ): Command => ({ name, label, keys, perform, enabled, undo: 'none', group })

export const hasBay: Command['enabled'] = ({ room }) => bayOf(room.store.getState()) !== null
