import { type KeyboardEvent, useState } from 'react'
import { Button } from 'react-aria-components/Button'
import { Input } from 'react-aria-components/Input'
import { Label } from 'react-aria-components/Label'
import { TextField } from 'react-aria-components/TextField'
import { ToggleButton } from 'react-aria-components/ToggleButton'
import { ToggleButtonGroup } from 'react-aria-components/ToggleButtonGroup'
import { commandNamed } from '../commands/list.ts'
import { useHere, useSheets } from '../state/context.ts'
import { words } from '../words.ts'
import { percentOf, type Zoom } from './zoom.ts'

const { pages: text } = words.sheets
const zooms: readonly (readonly [Zoom, string])[] = [
  ['width', text.width],
  ['page', text.whole],
  [1, text.true],
]

/** Which page is seen, and how large. */
export function PageTools() {
  const here = useHere()
  const { room } = here
  const pages = useSheets(({ shown }) => shown?.contents.pages.length ?? 0)
  const page = useSheets((state) => state.page)
  const zoom = useSheets((state) => state.zoom)
  const scale = useSheets((state) => state.scale)
  if (pages === 0) return null
  return (
    <fieldset className="page-tools" aria-label={text.turn}>
      <Button
        className="icon"
        aria-label={text.before}
        isDisabled={page === 0}
        onPress={() => room.sheets.turnTo(page - 1)}
      >
        <svg width="16" height="16" viewBox="0 0 16 16" aria-hidden="true">
          <path d="m3 10.500 5-5 5 5" />
        </svg>
      </Button>
      <Button
        className="icon"
        aria-label={text.next}
        isDisabled={page === pages - 1}
        onPress={() => room.sheets.turnTo(page + 1)}
      >
        <svg width="16" height="16" viewBox="0 0 16 16" aria-hidden="true">
          <path d="m3 5.500 5 5 5-5" />
        </svg>
      </Button>
      <PageNumber page={page} pages={pages} />
      <span className="page-zoom">
        <Button className="icon" aria-label={text.smaller} onPress={() => commandNamed('zoom-out').perform(here)}>
          <span aria-hidden="true">−</span>
        </Button>
        <span className="page-percent">{text.percent(percentOf(scale))}</span>
        <Button className="icon" aria-label={text.larger} onPress={() => commandNamed('zoom-in').perform(here)}>
          <span aria-hidden="true">+</span>
        </Button>
        <ToggleButtonGroup
          className="switch"
          aria-label={text.zoom}
          selectionMode="single"
          selectedKeys={[String(zoom)]}
          onSelectionChange={(keys) => {
            const chosen = zooms.find(([id]) => keys.has(String(id)))
            if (chosen) room.sheets.store.setState({ zoom: chosen[0] })
          }}
        >
          {zooms.map(([id, name]) => (
            <ToggleButton key={id} id={String(id)}>
              {name}
            </ToggleButton>
          ))}
        </ToggleButtonGroup>
      </span>
    </fieldset>
  )
}

function PageNumber({ page, pages }: { page: number; pages: number }) {
  const { room } = useHere()
  const [draft, setDraft] = useState<string | null>(null)
  const take = () => {
    const typed = Number(draft)
    setDraft(null)
    if (draft !== null && Number.isInteger(typed) && typed >= 1 && typed <= pages) room.sheets.turnTo(typed - 1)
  }
  const onKey = (event: KeyboardEvent) => {
    if (event.key === 'Enter') take()
    if (event.key === 'Escape') setDraft(null)
    if (event.key === 'ArrowUp') room.sheets.turnTo(page - 1)
    if (event.key === 'ArrowDown') room.sheets.turnTo(page + 1)
  }
  return (
    <TextField className="page-number" value={draft ?? String(page + 1)} onChange={setDraft}>
      <Label className="unseen">{text.go}</Label>
      <Input inputMode="numeric" autoComplete="off" onBlur={take} onKeyDown={onKey} />
      <span>{text.ofAll(pages)}</span>
    </TextField>
  )
}
