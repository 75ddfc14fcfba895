import { redo, undo, type ViewName } from '../state/windowState.ts'
import { zoomed } from '../viewport/camera.ts'
import { keepingWords } from '../keepingWords.ts'
import { words } from '../words.ts'
import { aidCommands } from './aidCommands.ts'
import { type Command, commandOf, hasBay } from './command.ts'
import { measureCommands, newBay } from './measureCommands.ts'
import { seeingCommands } from './seeingCommands.ts'
import { sheetsCommands } from './sheetsCommands.ts'
import type { Here } from '../state/context.ts'
import { stageIn } from '../state/pipes.ts'

const state = ({ room }: Here) => room.store.getState()

const file = commandOf('file')
const drawing = commandOf('drawing')

const view = (name: ViewName, key: string): Command =>
  drawing(`view-${name}`, words.view.choose(words.view[name]), [key], ({ room }) => room.store.setState({ view: name }))

const zoomStep = 1.25

/** In the Sheets stage the pages stand where the drawing was, and the same keys are theirs. */
const onPaper = (room: Here['room']): boolean => stageIn(room.store.getState()) === 'sheets'

function zoomBy({ room, eye }: Here, factor: number): void {
  if (onPaper(room)) room.sheets.zoomBy(factor)
  else eye.move(room.store.getState().view, (rig) => zoomed(rig, factor))
}

/** Every command of the window, in the order in which the help lists them. */
export const commands: readonly Command[] = [
  newBay,
  file('open', words.file.open, ['Ctrl+O'], ({ room }) => void room.openAsked()),
  file('recent', keepingWords.recent.open, ['Ctrl+Alt+O'], ({ room }) => void room.keeping.showRecent()),
  file('save', words.file.save, ['Ctrl+S'], ({ room }) => void room.save('in-place'), hasBay),
  file('save-as', words.file.saveAs, ['Ctrl+Shift+S'], ({ room }) => void room.save('elsewhere'), hasBay),
  file(
    'undo',
    words.edit.undo,
    ['Ctrl+Z'],
    ({ room }) => undo(room.store),
    (here) => (state(here).history?.past.length ?? 0) > 0,
  ),
  file(
    'redo',
    words.edit.redo,
    ['Ctrl+Shift+Z', 'Ctrl+Y'],
    ({ room }) => redo(room.store),
    (here) => (state(here).history?.future.length ?? 0) > 0,
  ),
  file(
    'history',
    keepingWords.steps.open,
    ['Ctrl+Alt+Z'],
    ({ room }) => room.keeping.store.setState({ steps: true }),
    hasBay,
  ),
  ...measureCommands,
  ...sheetsCommands,
  ...aidCommands,
  file('help', words.help.open, ['F1', '?'], ({ room }) => room.store.setState({ help: true })),
  drawing('fit', words.help.fit, ['F'], ({ room, eye }) => {
    if (onPaper(room)) return room.sheets.store.setState({ zoom: 'page' })
    const { bounds } = room.scene.getState()
    if (bounds) eye.flyToAll(room.store.getState().view, bounds)
  }),
  drawing('zoom-in', words.help.zoomIn, ['+', '='], (here) => zoomBy(here, zoomStep)),
  drawing('zoom-out', words.help.zoomOut, ['−', '-'], (here) => zoomBy(here, 1 / zoomStep)),
  view('space', '0'),
  view('front', '1'),
  view('side', '2'),
  view('plan', '3'),
  drawing('ghost', words.view.ghost, ['G'], ({ room }) =>
    room.store.setState(({ ghosted }) => ({ ghosted: !ghosted })),
  ),
  ...seeingCommands,
  drawing('units', words.help.units, ['U'], ({ room }) =>
    room.store.setState(({ units }) => ({ units: units === 'mm' ? 'inch' : 'mm' })),
  ),
  drawing('theme', words.help.theme, ['D'], ({ room }) =>
    room.store.setState(({ theme }) => ({ theme: theme === 'light' ? 'dark' : 'light' })),
  ),
]

export function commandNamed(name: string): Command {
  const found = commands.find((command) => command.name === name)
  if (!found) throw new Error(`no command is called ${name}`)
  return found
}
