import { useState } from 'react'
import { Input } from 'react-aria-components/Input'
import { Label } from 'react-aria-components/Label'
import { Text } from 'react-aria-components/Text'
import { TextField } from 'react-aria-components/TextField'
import type { Fault } from '../../../core/fault.ts'
import { faultText } from '../../wording.ts'
import { fieldText, readField } from './quantity.ts'
import { useWindow } from '../state/context.ts'
import { words } from '../words.ts'

/** Farther than this is another bay, mm. */
const farthest = 2000

interface Props {
  readonly label: string
  readonly value: number
  /** Nothing at all is a length as well. */
  readonly mayBeZero?: boolean
  readonly onChange: (mm: number) => void
}

/** A length that belongs to a question and not to the bay: how far a search may go. */
export function LengthField({ label, value, mayBeZero = false, onChange }: Props) {
  const units = useWindow((state) => state.units)
  const [draft, setDraft] = useState<string | null>(null)
  const [fault, setFault] = useState<Fault | null>(null)
  const take = () => {
    if (draft === null) return
    const read = readField(draft, 'length', units)
    if (!read.ok) return setFault(read.faults[0])
    if (read.value < 0 || (read.value === 0 && !mayBeZero))
      return setFault({ code: 'too-small', expected: mayBeZero ? '0 or more' : 'more than 0', got: read.value })
    setFault(null)
    setDraft(null)
    onChange(Math.min(read.value, farthest))
  }
  return (
    <TextField
      className="figure-field"
      value={draft ?? fieldText(value, 'length', units)}
      onChange={setDraft}
      isInvalid={fault !== null}
    >
      <Label>{label}</Label>
      <span className="figure-input">
        <Input
          autoComplete="off"
          onBlur={take}
          onKeyDown={(event) => {
            if (event.key === 'Enter') take()
            if (event.key !== 'Escape') return
            setDraft(null)
            setFault(null)
          }}
        />
        <span className="figure-unit">{words.field[units]}</span>
      </span>
      {fault && (
        <Text slot="errorMessage" className="figure-fault">
          {faultText(fault)}
        </Text>
      )}
    </TextField>
  )
}
