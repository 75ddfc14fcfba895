import { useState } from 'react'
import { Button } from 'react-aria-components/Button'
import { Dialog } from 'react-aria-components/Dialog'
import { Heading } from 'react-aria-components/Heading'
import { Modal, ModalOverlay } from 'react-aria-components/Modal'
import { candidateWords } from '../candidateWords.ts'
import { useWindow } from '../state/context.ts'
import type { Bay } from '../../../core/bay/schema.ts'
import { bayOf } from '../state/windowState.ts'
import { useSteps } from '../editors/useSteps.tsx'
import type { AlsoGone, Removal } from './removal.ts'

const { removal: text } = candidateWords

/** Takes something out; where something else goes with it, it says what and asks first. */
export function RemoveButton({
  label,
  what,
  removal,
}: {
  label: string
  what: string
  removal: (bay: Bay) => Removal
}) {
  const { go, told } = useSteps()
  const bay = useWindow(bayOf)
  const [asking, setAsking] = useState<readonly AlsoGone[] | null>(null)
  if (!bay) return null
  const takeOut = () => {
    setAsking(null)
    go(text.done(what), (whole) => removal(whole).bay)
  }
  const press = () => {
    const { also } = removal(bay)
    if (also.length > 0) setAsking(also)
    else takeOut()
  }
  const close = () => setAsking(null)
  return (
    <>
      <Button className="small" onPress={press}>
        {label}
      </Button>
      {told}
      <ModalOverlay className="veil" isOpen={asking !== null} onOpenChange={(on) => !on && close()}>
        <Modal className="sheet">
          <Dialog role="alertdialog" className="sheet-inside">
            <Heading slot="title">{text.title(what)}</Heading>
            <p>{text.alsoTitle}</p>
            <ul>
              {asking?.map(({ kind, name, of }) => {
                const said = text.also[kind](name)
                return <li key={said + of}>{of === undefined ? said : text.ofCandidate(said, of)}</li>
              })}
            </ul>
            <p>{text.undoable}</p>
            <div className="sheet-buttons">
              <Button className="main" autoFocus onPress={takeOut}>
                {text.goes}
              </Button>
              <Button className="plain" onPress={close}>
                {text.cancel}
              </Button>
            </div>
          </Dialog>
        </Modal>
      </ModalOverlay>
    </>
  )
}
