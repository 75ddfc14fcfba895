import { useState } from 'react'
import { Input } from 'react-aria-components/Input'
import { Label } from 'react-aria-components/Label'
import { Text } from 'react-aria-components/Text'
import { TextField } from 'react-aria-components/TextField'
import type { Bay } from '../../../core/bay/schema.ts'
import type { Fault } from '../../../core/fault.ts'
import { faultText } from '../../wording.ts'
import { withoutPlace } from '../editors/figure.ts'
import { useHere } from '../state/context.ts'
import { step } from '../editors/doing.ts'

interface Props {
  readonly label: string
  /** What is named, for the step: 'Candidate 1'. */
  readonly of: string
  readonly value: string
  readonly apply: (bay: Bay, name: string) => Bay
}

/** A name. Enter or leaving takes it, Escape puts the old one back; what the bay does not take keeps the old one and says why. */
export function NameField({ label, of, value, apply }: Props) {
  const { room } = useHere()
  const [draft, setDraft] = useState<string | null>(null)
  const [fault, setFault] = useState<Fault | null>(null)
  const take = () => {
    if (draft === null) return
    const name = draft.trim()
    const why = name === value ? null : step(room.store, `${of}, ${label}: ${name}`, (bay) => apply(bay, name))
    setFault(why && withoutPlace(why))
    if (!why) setDraft(null)
  }
  return (
    <TextField className="figure-field" value={draft ?? value} onChange={setDraft} isInvalid={fault !== null}>
      <Label>{label}</Label>
      <span className="figure-input">
        <Input
          autoComplete="off"
          data-draft={draft !== null && draft !== value ? true : undefined}
          onBlur={take}
          onKeyDown={(event) => {
            if (event.key === 'Enter') take()
            if (event.key !== 'Escape' || draft === null) return
            event.stopPropagation()
            setDraft(null)
            setFault(null)
          }}
        />
      </span>
      {fault && (
        <Text slot="errorMessage" className="figure-fault">
          {faultText(fault)}
        </Text>
      )}
    </TextField>
  )
}
