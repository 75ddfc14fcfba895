import { Button } from 'react-aria-components/Button'
import { Heading } from 'react-aria-components/Heading'
import { ListBox, ListBoxItem } from 'react-aria-components/ListBox'
import { Text } from 'react-aria-components/Text'
import { useHere, useKeeping } from '../state/context.ts'
import { keepingWords } from '../keepingWords.ts'
import { DialogSheet } from './DialogSheet.tsx'

const words = keepingWords.recent

/** Bays that were open before, to open again; what has vanished is not among them. */
export function RecentDialog() {
  const { room } = useHere()
  const recent = useKeeping((state) => state.recent)
  const close = () => room.keeping.store.setState({ recent: null })
  return (
    <DialogSheet open={recent !== null} onClose={close} role="dialog">
      <Heading slot="title">{words.title}</Heading>
      <ListBox
        className="steps-list"
        aria-label={words.list}
        items={recent ?? []}
        autoFocus
        renderEmptyState={() => <p className="steps-none">{words.none}</p>}
        onAction={(id) => {
          close()
          void room.openRecent(String(id))
        }}
      >
        {({ id, name, where }) => (
          <ListBoxItem id={id} textValue={name} className="steps-row">
            <Text slot="label">{name}</Text>
            {where !== '' && <Text slot="description">{where}</Text>}
          </ListBoxItem>
        )}
      </ListBox>
      <div className="sheet-buttons">
        <Button className="main" onPress={close}>
          {words.close}
        </Button>
        <Button
          className="plain"
          isDisabled={(recent ?? []).length === 0}
          onPress={() => void room.keeping.forgetRecent()}
        >
          {words.clear}
        </Button>
      </div>
    </DialogSheet>
  )
}
