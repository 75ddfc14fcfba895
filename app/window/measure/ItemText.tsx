import { useEffect, useRef, useState } from 'react'
import { Input } from 'react-aria-components/Input'
import { Label } from 'react-aria-components/Label'
import { Text } from 'react-aria-components/Text'
import { TextArea } from 'react-aria-components/TextArea'
import { TextField } from 'react-aria-components/TextField'
import { faultText } from '../../wording.ts'
import type { Fault } from '../../../core/fault.ts'
import { withoutPlace } from '../editors/figure.ts'
import { useHere, useWindow } from '../state/context.ts'
import { type FieldPath, fieldAt, pathText, withField } from '../state/edit.ts'
import { bayOf, doEdit } from '../state/windowState.ts'
import { words } from '../words.ts'

interface Props {
  readonly label: string
  readonly path: FieldPath
  /** What is edited, for the name of the step. */
  readonly of: string
  /** May be empty, and is then not in the bay. */
  readonly optional?: boolean
  readonly lines?: number
  readonly placeholder?: string
  /** Takes the focus at once. */
  readonly focused?: boolean
}

/** Words of the bay: a name, a note. Enter or leaving takes them (in notes only leaving), Escape puts the old ones back. */
export function ItemText({ label, path, of, optional = false, lines = 1, placeholder, focused = false }: Props) {
  const { room } = useHere()
  const value = (useWindow((state) => fieldAt(bayOf(state), path)) as string | undefined) ?? ''
  const [draft, setDraft] = useState<string | null>(null)
  const [fault, setFault] = useState<Fault | null>(null)
  const given = useRef(false)
  const input = useRef<HTMLInputElement>(null)
  useEffect(() => {
    if (!focused) return
    input.current?.focus()
    input.current?.select()
  }, [focused])
  // biome-ignore lint/correctness/useExhaustiveDependencies: the shown words are the signal
  useEffect(() => {
    setDraft(null)
    setFault(null)
  }, [value])
  const leave = () => {
    given.current = true
    setDraft(null)
    setFault(null)
  }
  const take = () => {
    if (given.current || draft === null || draft.trim() === value) return setDraft(null)
    const next = draft.trim()
    const done = doEdit(room.store, {
      name: pathText(path),
      label: words.measure.changed(of, label.toLowerCase(), next.split('\n')[0].slice(0, 60)),
      undo: 'step',
      apply: (bay) => withField(bay, path, next === '' && optional ? undefined : next),
    })
    if (done.ok) setDraft(null)
    else setFault(withoutPlace(done.faults[0]))
  }
  const shared = {
    autoComplete: 'off',
    spellCheck: false,
    placeholder,
    'data-draft': draft !== null && draft !== value ? true : undefined,
    onFocus: () => {
      given.current = false
    },
    onBlur: take,
  }
  return (
    <TextField
      className={`item-text ${lines > 1 ? 'item-text-lines' : ''}`}
      value={draft ?? value}
      onChange={setDraft}
      isInvalid={fault !== null}
    >
      <Label>{label}</Label>
      {lines > 1 ? (
        <TextArea {...shared} rows={lines} onKeyDown={(event) => event.key === 'Escape' && leave()} />
      ) : (
        <Input
          {...shared}
          ref={input}
          onKeyDown={(event) => {
            if (event.key === 'Enter') take()
            if (event.key === 'Escape' && draft !== null) leave()
          }}
        />
      )}
      {fault && (
        <Text slot="errorMessage" className="figure-fault">
          {faultText(fault)}
        </Text>
      )}
    </TextField>
  )
}
