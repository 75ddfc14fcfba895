import { Button } from 'react-aria-components/Button'
import { Heading } from 'react-aria-components/Heading'
import { ListBox, ListBoxItem } from 'react-aria-components/ListBox'
import { Text } from 'react-aria-components/Text'
import { useHere, useKeeping, useWindow } from '../state/context.ts'
import { mostSteps, stepLabels } from '../state/history.ts'
import { goToStep } from '../state/windowState.ts'
import { keepingWords } from '../keepingWords.ts'
import { DialogSheet } from './DialogSheet.tsx'

const words = keepingWords.steps

/** All steps by name, done and taken back: choosing one goes there, and the others stay. */
export function StepsDialog() {
  const { room } = useHere()
  const open = useKeeping((state) => state.steps)
  const history = useWindow((state) => state.history)
  const close = () => room.keeping.store.setState({ steps: false })
  const done = history?.past.length ?? 0
  const labels = history ? stepLabels(history) : []
  const start = labels.length >= mostSteps ? words.older : words.start
  const rows = [start, ...labels].map((label, number) => ({ id: number, label }))
  return (
    <DialogSheet open={open && history !== null} onClose={close} role="dialog">
      <Heading slot="title">{words.title}</Heading>
      <p>{words.text}</p>
      <ListBox
        className="steps-list"
        aria-label={words.list}
        items={rows}
        dependencies={[done]}
        autoFocus
        selectionMode="single"
        disallowEmptySelection
        selectedKeys={[done]}
        onSelectionChange={(keys) => goToStep(room.store, Number([...keys][0]))}
      >
        {({ id, label }) => (
          <ListBoxItem
            id={id}
            textValue={label}
            className={`steps-row ${id > done ? 'steps-row-undone' : ''} ${id === done ? 'steps-row-now' : ''}`}
          >
            <Text slot="label">{label}</Text>
            {id === done && <Text slot="description">{words.now}</Text>}
            {id > done && <Text slot="description">{words.undone}</Text>}
          </ListBoxItem>
        )}
      </ListBox>
      <div className="sheet-buttons">
        <Button className="main" onPress={close}>
          {words.close}
        </Button>
      </div>
    </DialogSheet>
  )
}
