import { printSheets, saveAllSheets, saveSheetsPdf } from '../sheets/sheetsOut.ts'
import { bayOf, candidateIn } from '../state/windowState.ts'
import { words } from '../words.ts'
import { type Command, commandOf } from './command.ts'

const text = words.sheets

const command = commandOf('file')
const hasSet: Command['enabled'] = ({ room }) =>
  bayOf(room.store.getState()) !== null && room.sheets.freshSet() !== null

/** What is printed and handed over. */
export const sheetsCommands: readonly Command[] = [
  command(
    'sheets',
    text.open,
    ['P'],
    ({ room }) => room.store.setState({ stage: 'sheets', openItem: null }),
    ({ room }) => candidateIn(room.store.getState()) !== null,
  ),
  command('sheets-pdf', text.out.commandPdf, ['Ctrl+E'], (here) => void saveSheetsPdf(here), hasSet),
  command('sheets-all', text.out.commandAll, ['Ctrl+Shift+E'], (here) => void saveAllSheets(here), hasSet),
  command('sheets-print', text.out.commandPrint, ['Ctrl+P'], (here) => void printSheets(here), hasSet),
]
