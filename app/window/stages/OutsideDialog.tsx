import { Button } from 'react-aria-components/Button'
import { Heading } from 'react-aria-components/Heading'
import { useHere, useKeeping, useWindow } from '../state/context.ts'
import { isDirty } from '../state/windowState.ts'
import { keepingWords } from '../keepingWords.ts'
import { DialogSheet } from './DialogSheet.tsx'

const words = keepingWords.outside

/** The bay's file is not what was opened: nothing is overwritten before the user has said which of the two counts. */
export function OutsideDialog() {
  const { room } = useHere()
  const { keeping } = room
  const outside = useKeeping((state) => state.outside)
  const name = useWindow((state) => state.file?.name ?? '')
  const dirty = useWindow(isDirty)
  const later = () => keeping.leaveOpen()
  const elsewhere = () => {
    later()
    void room.save('elsewhere')
  }
  const gone = outside === 'gone'
  return (
    <DialogSheet open={outside !== null} onClose={later} role="alertdialog">
      <Heading slot="title">{gone ? words.goneTitle : words.changedTitle}</Heading>
      <p>{gone ? words.gone(name) : words.changed(name)}</p>
      {dirty && !gone && <p>{words.changedDirty}</p>}
      <div className="sheet-buttons">
        {gone ? (
          <Button
            className="main"
            autoFocus
            onPress={() => {
              later()
              void room.save('over')
            }}
          >
            {words.anew}
          </Button>
        ) : (
          <>
            <Button className="main" autoFocus onPress={() => void keeping.keepMine()}>
              {words.keep}
            </Button>
            <Button className="plain" onPress={() => void keeping.takeTheirs(words.step)}>
              {words.take}
            </Button>
          </>
        )}
        <Button className="plain" onPress={elsewhere}>
          {words.elsewhere}
        </Button>
        <Button className="plain" onPress={later}>
          {words.later}
        </Button>
      </div>
    </DialogSheet>
  )
}
