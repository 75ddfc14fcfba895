import { Button } from 'react-aria-components/Button'
import { Heading } from 'react-aria-components/Heading'
import { commands } from '../commands/list.ts'
import { MeshDialog } from '../measure/MeshDialog.tsx'
import { NewBayDialog } from '../measure/NewBayDialog.tsx'
import { StockDialog } from '../candidate/StockDialog.tsx'
import { CompareDialog } from '../compare/CompareDialog.tsx'
import { FindDialog } from '../find/FindDialog.tsx'
import { useHere, useWindow } from '../state/context.ts'
import { bayOf } from '../state/windowState.ts'
import { words } from '../words.ts'
import { DialogSheet } from './DialogSheet.tsx'
import { LostWorkDialog } from './LostWorkDialog.tsx'
import { OutsideDialog } from './OutsideDialog.tsx'
import { RecentDialog } from './RecentDialog.tsx'
import { StepsDialog } from './StepsDialog.tsx'

/** Questions and help that stand over the window. */
export function Dialogs() {
  return (
    <>
      <LostWorkDialog />
      <OutsideDialog />
      <UnsavedDialog />
      <StepsDialog />
      <RecentDialog />
      <FindDialog />
      <CompareDialog />
      <StockDialog />
      <HelpDialog />
      <NewBayDialog />
      <MeshDialog />
    </>
  )
}

/** Before something takes the place of unsaved work. */
function UnsavedDialog() {
  const { room } = useHere()
  const question = useWindow((state) => state.question)
  const name = useWindow((state) => bayOf(state)?.name ?? '')
  const close = () => room.store.setState({ question: null })
  const discard = () => {
    close()
    question?.goOn()
  }
  const save = async () => {
    close()
    if (await room.save('in-place')) question?.goOn()
  }
  return (
    <DialogSheet open={question !== null} onClose={close} role="alertdialog">
      <Heading slot="title">{words.unsaved.title}</Heading>
      <p>{words.unsaved.text(name)}</p>
      <div className="sheet-buttons">
        <Button className="main" autoFocus onPress={() => void save()}>
          {words.unsaved.save}
        </Button>
        <Button className="plain" onPress={discard}>
          {words.unsaved.discard}
        </Button>
        <Button className="plain" onPress={close}>
          {words.unsaved.cancel}
        </Button>
      </div>
    </DialogSheet>
  )
}

function HelpDialog() {
  const { room } = useHere()
  const open = useWindow((state) => state.help)
  const close = () => room.store.setState({ help: false })
  const { help } = words
  const keysOf = (group: 'file' | 'drawing') =>
    commands
      .filter((command) => command.group === group && command.keys.length > 0)
      .map(({ keys, label }) => [keys.join(', '), label] as const)
  return (
    <DialogSheet open={open} onClose={close} role="dialog">
      <Heading slot="title">{help.title}</Heading>
      <div className="help-groups">
        <KeyList title={help.groups.file} rows={keysOf('file')} />
        <KeyList
          title={help.groups.drawing}
          rows={[
            [help.keys.arrows, help.orbit],
            [help.keys.shiftArrows, help.pan],
            ...keysOf('drawing'),
            [help.keys.drag, help.drag],
            [help.keys.rightDrag, help.dragPan],
            [help.keys.wheel, help.wheel],
          ]}
        />
        <KeyList
          title={help.groups.ledger}
          rows={[
            [help.keys.upDown, help.pick],
            [help.keys.copy, help.copyRow],
            [help.keys.enter, help.enter],
            [help.keys.escape, help.leave],
            [help.keys.upDown, help.step],
          ]}
        />
        <KeyList
          title={help.groups.pipes}
          rows={[
            [help.keys.arrows, help.cornerMove],
            [help.keys.pages, help.cornerThird],
            [help.keys.insert, help.cornerAdd],
            [help.keys.remove, help.cornerRemove],
            [help.keys.drag, help.cornerDrag],
            [help.keys.escape, help.cornerEscape],
          ]}
        />
      </div>
      <p className="help-lengths">{help.lengths}</p>
      <p className="help-lengths">{help.together}</p>
      <div className="sheet-buttons">
        <Button className="main" autoFocus onPress={close}>
          {help.close}
        </Button>
      </div>
    </DialogSheet>
  )
}

function KeyList({ title, rows }: { title: string; rows: readonly (readonly [string, string])[] }) {
  return (
    <section>
      <h3>{title}</h3>
      <dl className="keys">
        {rows.map(([keys, text]) => (
          <div key={keys + text}>
            <dt>
              <kbd>{keys}</kbd>
            </dt>
            <dd>{text}</dd>
          </div>
        ))}
      </dl>
    </section>
  )
}
