import { bayOf } from '../state/windowState.ts'
import { candidateWords } from '../candidateWords.ts'
import { words } from '../words.ts'
import { type Command, commandOf, hasBay } from './command.ts'

const aid = commandOf('file')

/** Finding, comparing and being shown round. */
export const aidCommands: readonly Command[] = [
  aid('find', words.find.open, ['Ctrl+K', '/'], ({ room }) => room.aids.setState({ finding: true })),
  aid(
    'compare',
    words.compare.open,
    ['V'],
    ({ room }) => room.aids.setState({ comparing: true }),
    ({ room }) => (bayOf(room.store.getState())?.candidates.length ?? 0) > 1,
  ),
  aid('stock', candidateWords.stock.open, [], ({ room }) => room.aids.setState({ stocking: true }), hasBay),
  aid('tour', words.tour.open, ['Shift+F1'], ({ room }) => room.aids.setState({ tour: 0 }), hasBay),
]
