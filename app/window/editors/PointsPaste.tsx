import { useState } from 'react'
import { Button } from 'react-aria-components/Button'
import { Label } from 'react-aria-components/Label'
import { Text } from 'react-aria-components/Text'
import { TextArea } from 'react-aria-components/TextArea'
import { TextField } from 'react-aria-components/TextField'
import type { Fault } from '../../../core/fault.ts'
import { faultText } from '../../wording.ts'
import { useWindow } from '../state/context.ts'
import { words } from '../words.ts'
import type { Rows } from './gridRows.ts'
import { pastedRows } from './pastedRows.ts'

interface Props {
  readonly columns: readonly string[]
  /** @returns whether the bay took the rows; the list says why where it did not */
  readonly onRows: (rows: Rows) => boolean
  /** A new attempt: what was said of the last one no longer holds. */
  readonly onTry: () => void
}

/** A whole list at once, typed or pasted, in the place of all rows. */
export function PointsPaste({ columns, onRows, onTry }: Props) {
  const units = useWindow((state) => state.units)
  const [draft, setDraft] = useState<string | null>(null)
  const [faults, setFaults] = useState<readonly Fault[]>([])
  const text = words.measure.grid
  const close = () => {
    setDraft(null)
    setFaults([])
  }
  const take = () => {
    onTry()
    setFaults([])
    const rows = pastedRows(draft ?? '', columns.length, units)
    const narrow = rows.ok && rows.value[0].length !== columns.length
    if (!rows.ok) return setFaults(rows.faults)
    if (narrow)
      return setFaults([
        { code: 'wrong-count', expected: text.pasteLabel(columns.join(', ')), got: rows.value[0].length },
      ])
    if (onRows(rows.value)) close()
  }
  if (draft === null)
    return (
      <Button className="small" onPress={() => setDraft('')}>
        {text.pasteOpen}
      </Button>
    )
  return (
    <TextField className="points-paste" value={draft} onChange={setDraft} isInvalid={faults.length > 0} autoFocus>
      <Label>{text.pasteLabel(columns.join(', '))}</Label>
      <TextArea
        rows={5}
        spellCheck={false}
        data-draft
        onKeyDown={(event) => {
          if (event.key === 'Enter' && (event.ctrlKey || event.metaKey)) take()
          if (event.key === 'Escape') close()
        }}
      />
      <Text slot="description" className="callout-note">
        {text.pasteHint}
      </Text>
      {faults.length > 0 && (
        <Text slot="errorMessage" className="figure-fault">
          {faults.map(faultText).join(' ')}
        </Text>
      )}
      <span className="points-tools">
        <Button className="small" onPress={take}>
          {text.pasteDone}
        </Button>
        <Button className="small" onPress={close}>
          {text.pasteCancel}
        </Button>
      </span>
    </TextField>
  )
}
