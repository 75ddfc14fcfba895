import { useEffect, useRef, useState } from 'react'
import { Input } from 'react-aria-components/Input'
import { Label } from 'react-aria-components/Label'
import { Text } from 'react-aria-components/Text'
import { TextArea } from 'react-aria-components/TextArea'
import { TextField } from 'react-aria-components/TextField'
import type { Bay } from '../../../core/bay/schema.ts'
import type { Fault } from '../../../core/fault.ts'
import { faultText } from '../../wording.ts'
import { useHere } from '../state/context.ts'
import { words } from '../words.ts'
import { step } from './doing.ts'
import { withoutPlace } from './figure.ts'

export interface WordsFieldProps {
  readonly label: string
  /** What is edited, for the name of the step. */
  readonly of: string
  readonly value: string
  readonly apply: (bay: Bay, text: string) => Bay
  readonly lines?: number
  readonly placeholder?: string
  /** Takes the focus at once. */
  readonly focused?: boolean
}

/**
 * Words of the bay: a name, a note. Enter or leaving takes them (in notes only leaving), Escape puts the old ones back; what
 * the bay does not take keeps the old ones and says why.
 */
export function WordsField({ label, of, value, apply, lines = 1, placeholder, focused = false }: WordsFieldProps) {
  const { room } = useHere()
  const [draft, setDraft] = useState<string | null>(null)
  const [fault, setFault] = useState<Fault | null>(null)
  const input = useRef<HTMLInputElement>(null)
  useEffect(() => {
    if (!focused) return
    input.current?.focus()
    input.current?.select()
  }, [focused])
  const rest = () => {
    setDraft(null)
    setFault(null)
  }
  // biome-ignore lint/correctness/useExhaustiveDependencies: the shown words are the signal
  useEffect(rest, [value])
  const take = () => {
    const next = draft?.trim()
    if (next === undefined || next === value) return rest()
    const said = next.split('\n')[0].slice(0, 60)
    const why = step(room.store, words.measure.changed(of, label.toLowerCase(), said), (bay) => apply(bay, next))
    setFault(why && withoutPlace(why))
    if (!why) setDraft(null)
  }
  const shared = {
    autoComplete: 'off',
    spellCheck: false,
    placeholder,
    'data-draft': draft !== null && draft !== value ? true : undefined,
    onBlur: take,
    onKeyDown: (event: { readonly key: string; readonly stopPropagation: () => void }) => {
      if (event.key === 'Enter' && lines === 1) take()
      if (event.key !== 'Escape' || draft === null) return
      event.stopPropagation()
      rest()
    },
  }
  return (
    <TextField
      className={`item-text ${lines > 1 ? 'item-text-lines' : ''}`}
      value={draft ?? value}
      onChange={setDraft}
      isInvalid={fault !== null}
    >
      <Label>{label}</Label>
      {lines > 1 ? <TextArea {...shared} rows={lines} /> : <Input {...shared} ref={input} />}
      {fault && (
        <Text slot="errorMessage" className="figure-fault">
          {faultText(fault)}
        </Text>
      )}
    </TextField>
  )
}
