import { addOfKind, addOpening, addPort, typedKinds } from '../measure/adding.ts'
import { words } from '../words.ts'
import { type Command, commandOf, hasBay } from './command.ts'

const text = words.measure

const command = commandOf('file')

export const newBay: Command = command('new', text.begin.command, ['Ctrl+Alt+N'], ({ room }) =>
  room.guarded(() => room.measure.store.setState({ beginning: true })),
)

/** What begins something in the Measure stage. */
export const measureCommands: readonly Command[] = [
  command(
    'add-keep-out',
    text.add.button,
    ['A'],
    ({ room }) => {
      room.store.setState({ stage: 'measure' })
      room.measure.store.setState(({ kinds }) => ({ kinds: kinds + 1 }))
    },
    hasBay,
  ),
  ...typedKinds.map((kind) =>
    command(
      `add-${kind}`,
      text.add.command(text.add.of[kind].toLowerCase()),
      [],
      ({ room }) => addOfKind(room, kind),
      hasBay,
    ),
  ),
  command(
    'add-mesh',
    text.add.command(text.add.mesh.toLowerCase()),
    [],
    ({ room }) => room.measure.askForMesh(),
    hasBay,
  ),
  command(
    'add-opening',
    text.add.opening,
    [],
    ({ room }) => {
      room.store.setState({ stage: 'measure' })
      addOpening(room)
    },
    hasBay,
  ),
  command(
    'add-port',
    text.add.port,
    [],
    ({ room }) => {
      room.store.setState({ stage: 'measure' })
      addPort(room)
    },
    hasBay,
  ),
]
