import type { ReactNode } from 'react'
import { Dialog } from 'react-aria-components/Dialog'
import { Modal, ModalOverlay } from 'react-aria-components/Modal'

/** A sheet over the window: a question that has to be answered (`alertdialog`), or something to read or choose from. */
export function DialogSheet({
  open,
  onClose,
  role,
  children,
}: {
  open: boolean
  onClose: () => void
  role: 'dialog' | 'alertdialog'
  children: ReactNode
}) {
  return (
    <ModalOverlay
      className="veil"
      isOpen={open}
      onOpenChange={(on) => !on && onClose()}
      isDismissable={role === 'dialog'}
    >
      <Modal className="sheet">
        <Dialog role={role} className="sheet-inside">
          {children}
        </Dialog>
      </Modal>
    </ModalOverlay>
  )
}
