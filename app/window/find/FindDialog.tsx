import { useMemo, useState } from 'react'
import { Autocomplete } from 'react-aria-components/Autocomplete'
import { Dialog } from 'react-aria-components/Dialog'
import { Input } from 'react-aria-components/Input'
import { Keyboard } from 'react-aria-components/Keyboard'
import { Menu, MenuItem } from 'react-aria-components/Menu'
import { Modal, ModalOverlay } from 'react-aria-components/Modal'
import { SearchField } from 'react-aria-components/SearchField'
import { Text } from 'react-aria-components/Text'
import { useAids, useHere } from '../state/context.ts'
import { words } from '../words.ts'
import { entriesIn } from './entries.ts'
import type { Entry } from './entry.ts'
import { ranked } from './ranked.ts'

const { find: text } = words
/** More than one reads through; another letter finds better. */
const most = 60

/** One field in which everything is found and done: commands, stages, and all that the bay is made of. */
export function FindDialog() {
  const { room } = useHere()
  const open = useAids(({ finding }) => finding)
  const close = () => room.aids.setState({ finding: false })
  return (
    <ModalOverlay className="veil veil-find" isOpen={open} isDismissable onOpenChange={(on) => !on && close()}>
      <Modal className="sheet sheet-find">
        <Dialog aria-label={text.title} className="find">
          <Search close={close} />
        </Dialog>
      </Modal>
    </ModalOverlay>
  )
}

function Search({ close }: { close: () => void }) {
  const here = useHere()
  const [typed, setTyped] = useState('')
  const [refused, setRefused] = useState('')
  // As it was when the field was opened: nothing changes below an open dialog but answers that come late.
  const entries = useMemo(() => entriesIn(here), [here])
  const found = useMemo(() => ranked(entries, typed), [entries, typed])
  const shown = found.slice(0, most)
  const choose = (entry: Entry) => {
    if (entry.off !== undefined) {
      setRefused(text.notNow(entry.label, entry.off))
      return
    }
    close()
    entry.perform(here)
  }
  return (
    <Autocomplete
      inputValue={typed}
      onInputChange={(value) => {
        setTyped(value)
        setRefused('')
      }}
    >
      <SearchField className="find-field" aria-label={text.field} autoFocus>
        <Input className="find-input" data-draft placeholder={text.placeholder} />
      </SearchField>
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls has to be scrolled without a pointer */}
      <section className="find-list" tabIndex={0} aria-label={text.list}>
        <Menu
          className="find-entries"
          aria-label={text.list}
          items={shown}
          shouldFocusWrap
          renderEmptyState={() => <p className="find-none">{text.nothing(typed)}</p>}
        >
          {(entry) => <Found entry={entry} onChoose={choose} />}
        </Menu>
      </section>
      <p className="find-foot" role="status">
        {refused !== '' ? refused : found.length > most ? text.more(found.length - most) : text.keys}
      </p>
    </Autocomplete>
  )
}

function Found({ entry, onChoose }: { entry: Entry; onChoose: (entry: Entry) => void }) {
  const { id, kind, label, detail, key, off } = entry
  return (
    <MenuItem
      id={id}
      className={`found found-${kind} ${off === undefined ? '' : 'found-off'}`}
      textValue={label}
      onAction={() => onChoose(entry)}
    >
      <Text slot="label" className="found-label">
        {label}
      </Text>
      <Text slot="description" className="found-detail">
        {off === undefined ? detail : `${detail}, ${off}`}
      </Text>
      {key !== undefined && <Keyboard className="found-key">{key}</Keyboard>}
    </MenuItem>
  )
}
