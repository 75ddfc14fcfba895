import { Button } from 'react-aria-components/Button'
import { Dialog } from 'react-aria-components/Dialog'
import { Heading } from 'react-aria-components/Heading'
import { Modal, ModalOverlay } from 'react-aria-components/Modal'
import { Tab, TabList, TabPanel, Tabs } from 'react-aria-components/Tabs'
import { candidateWords } from '../candidateWords.ts'
import { useAids, useHere, useWindow } from '../state/context.ts'
import { bayOf } from '../state/windowState.ts'
import { FlowEditor } from './FlowEditor.tsx'
import { StockItems } from './StockItems.tsx'

const { stock: text } = candidateWords
const lists = ['tubes', 'elbows', 'couplers', 'clamps', 'benders'] as const

/** What the shop has, list by list, and what flows: all of it is kept in the bay. */
export function StockDialog() {
  const { room } = useHere()
  const open = useAids(({ stocking }) => stocking)
  const bay = useWindow(bayOf)
  const close = () => room.aids.setState({ stocking: false })
  return (
    <ModalOverlay className="veil" isOpen={open && bay !== null} isDismissable onOpenChange={(on) => !on && close()}>
      <Modal className="sheet sheet-stock">
        <Dialog className="stock">
          <Heading slot="title">{text.title}</Heading>
          <p>{text.text}</p>
          <Tabs className="stock-tabs">
            <TabList className="pipe-tabs" aria-label={text.title}>
              {[...lists, 'flow' as const].map((list) => (
                <Tab key={list} id={list} className="pipe-tab">
                  {text.tabs[list]}
                </Tab>
              ))}
            </TabList>
            {lists.map((list) => (
              <TabPanel key={list} id={list} className="stock-panel">
                <StockItems list={list} />
              </TabPanel>
            ))}
            <TabPanel id="flow" className="stock-panel stock-flow">
              <FlowEditor />
            </TabPanel>
          </Tabs>
          <div className="sheet-buttons">
            <Button className="main" onPress={close}>
              {text.close}
            </Button>
          </div>
        </Dialog>
      </Modal>
    </ModalOverlay>
  )
}

/** Opens the shop's lists, from wherever something is picked out of them. */
export function StockButton() {
  const { room } = useHere()
  return (
    <div className="candidate-tools">
      <Button className="small" onPress={() => room.aids.setState({ stocking: true })}>
        {text.open}
      </Button>
    </div>
  )
}
