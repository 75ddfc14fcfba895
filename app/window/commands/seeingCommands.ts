import { changeCut, cutHere, cutShown, cutWay, see } from '../state/seeing.ts'
import { selectedPair } from '../state/windowState.ts'
import { saveDrawing, savePicture } from '../seeing/picturesOut.ts'
import { type CutWay, textSizes, withWithin } from '../seeing/seeing.ts'
import { words } from '../words.ts'
import type { Here } from '../state/context.ts'
import { type Command, commandOf, hasBay } from './command.ts'

const { seeing: text } = words

const drawing = commandOf('drawing')
const hasCut: Command['enabled'] = ({ room }) => cutShown(room.store.getState()) !== null
const ways: readonly CutWay[] = ['along', 'x', 'y', 'z']
const after = <T>(list: readonly T[], now: T): T => list[(list.indexOf(now) + 1) % list.length]

const moved =
  (mm: number): Command['perform'] =>
  ({ room }) =>
    changeCut(room.store, (cut) => ({ ...cut, offset: cut.offset + mm }))

/** From wherever in the window it is asked for: what came of it is told above the drawing. */
const picture = (name: string, label: string, save: (here: Here) => Promise<string | null>): Command =>
  drawing(
    name,
    label,
    [],
    (here) => {
      const tell = (title: string | null) =>
        title !== null && here.room.store.setState({ banner: { title, lines: [], news: true } })
      void save(here).then(tell, () => tell(text.picture.failed))
    },
    hasBay,
  )

/** What is drawn, and how: none of it touches the bay. */
export const seeingCommands: readonly Command[] = [
  drawing(
    'cut',
    text.cut.command,
    ['C'],
    ({ room, eye }) => cutHere(room.store, eye.rig(room.store.getState().view)),
    ({ room }) => selectedPair(room.store.getState()) !== null,
  ),
  drawing(
    'cut-way',
    text.cut.next,
    ['Shift+C'],
    ({ room, eye }) => {
      const { view, seeing } = room.store.getState()
      if (seeing.cut) cutWay(room.store, after(ways, seeing.cut.way), eye.rig(view))
    },
    hasCut,
  ),
  drawing('cut-flip', text.cut.flip, ['X'], ({ room }) => changeCut(room.store, flipped), hasCut),
  drawing('cut-forth', text.cut.forth, [']'], moved(1), hasCut),
  drawing('cut-back', text.cut.back, ['['], moved(-1), hasCut),
  drawing('cut-off', text.cut.off, ['Shift+X'], ({ room }) => see(room.store, (s) => ({ ...s, cut: null })), hasCut),
  drawing('near-only', text.within.toggle, ['N'], ({ room }) =>
    see(room.store, (s) => withWithin(s, s.within === null ? s.withinLast : null)),
  ),
  drawing('tightest-gaps', text.gaps.tightestLong, ['T'], ({ room }) =>
    see(room.store, (s) => ({ ...s, tightest: !s.tightest })),
  ),
  drawing('drawing-dimensions', text.gaps.drawingsLong, ['M'], ({ room }) =>
    see(room.store, (s) => ({ ...s, dimensions: !s.dimensions })),
  ),
  drawing('text-size', text.text.next, ['L'], ({ room }) =>
    see(room.store, (s) => ({ ...s, text: after(textSizes, s.text) })),
  ),
  ...([1, 2, 4] as const).map((times, i) =>
    picture(`picture-${times}`, [text.picture.png1, text.picture.png2, text.picture.png4][i], (here) =>
      savePicture(here, times),
    ),
  ),
  ...(['front', 'side', 'plan'] as const).map((view) =>
    picture(`drawing-${view}`, text.picture.save(text.picture.svg[view]), (here) => saveDrawing(here, view)),
  ),
]

function flipped<C extends { readonly flipped: boolean; readonly offset: number }>(cut: C): C {
  return { ...cut, flipped: !cut.flipped }
}
