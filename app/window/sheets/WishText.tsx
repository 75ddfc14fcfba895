import { useState } from 'react'
import { Input } from 'react-aria-components/Input'
import { Label } from 'react-aria-components/Label'
import { Text } from 'react-aria-components/Text'
import { TextField } from 'react-aria-components/TextField'

interface Props {
  readonly label: string
  readonly value: string
  readonly kind?: 'text' | 'date'
  /** What is wrong with what was typed; null: nothing. */
  readonly fault?: (typed: string) => string | null
  readonly onChange: (typed: string) => void
}

/** Words on the sheets that are not of the bay. Enter or leaving takes them, Escape puts the old ones back. */
export function WishText({ label, value, kind = 'text', fault = () => null, onChange }: Props) {
  const [draft, setDraft] = useState<string | null>(null)
  const [why, setWhy] = useState<string | null>(null)
  const leave = () => {
    setDraft(null)
    setWhy(null)
  }
  const take = () => {
    if (draft === null) return
    const typed = draft.trim()
    const wrong = fault(typed)
    if (wrong !== null) return setWhy(wrong)
    leave()
    if (typed !== value) onChange(typed)
  }
  return (
    <TextField className="figure-field" value={draft ?? value} onChange={setDraft} isInvalid={why !== null}>
      <Label>{label}</Label>
      <span className="figure-input">
        <Input
          type={kind}
          maxLength={20}
          autoComplete="off"
          data-draft={draft !== null && draft !== value ? true : undefined}
          onBlur={take}
          onKeyDown={(event) => {
            if (event.key === 'Enter') take()
            if (event.key === 'Escape' && draft !== null) leave()
          }}
        />
      </span>
      {why && (
        <Text slot="errorMessage" className="figure-fault">
          {why}
        </Text>
      )}
    </TextField>
  )
}
