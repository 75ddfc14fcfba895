import { type KeyboardEvent, useEffect, useRef, useState } from 'react'
import { Input } from 'react-aria-components/Input'
import { Label } from 'react-aria-components/Label'
import { Text } from 'react-aria-components/Text'
import { TextField } from 'react-aria-components/TextField'
import { faultText } from '../../wording.ts'
import type { Bay } from '../../../core/bay/schema.ts'
import type { Fault } from '../../../core/fault.ts'
import { useHere, useWindow } from '../state/context.ts'
import { type FieldPath, fieldAt, pathText, withField } from '../state/edit.ts'
import { bayOf, doEdit } from '../state/windowState.ts'
import { words } from '../words.ts'
import { fieldText, type Quantity, readField, readOptional, stepOf, stepped } from './quantity.ts'

export interface FigureSpec {
  readonly label: string
  readonly path: FieldPath
  readonly quantity: Quantity
  /** May be empty; shown is then what holds instead. */
  readonly otherwise?: number
  /** May be empty, and nothing holds instead. */
  readonly optional?: boolean
  /** Shown in an optional field that is empty. */
  readonly emptyText?: string
  /** What is edited, for the name of the step: 'Core'. */
  readonly of: string
  /** The value where it is not the field's own: a diameter of which the bay keeps the radius. Goes together with `apply`. */
  readonly read?: (bay: Bay) => number | undefined
  /** What entering a value does, where it changes more than its own field. */
  readonly apply?: (bay: Bay, value: number) => Bay
}

/** How often any field was entered: all that is done in one visit to one field is one step back. */
let visits = 0

/**
 * One number of the bay. Enter or leaving takes what was typed, Escape puts the old value back, up and down step.
 * What cannot be read keeps the old value in the bay and says why beside the field.
 */
export function FigureField({ spec, compact }: { spec: FigureSpec; compact?: boolean }) {
  const { room } = useHere()
  const units = useWindow((state) => state.units)
  const value = useWindow((state) => {
    const bay = bayOf(state)
    return bay && spec.read ? spec.read(bay) : (fieldAt(bay, spec.path) as number | undefined)
  })
  const shown = value === undefined ? '' : fieldText(value, spec.quantity, units)
  const [draft, setDraft] = useState<string | null>(null)
  const [fault, setFault] = useState<Fault | null>(null)
  const visit = useRef(0)
  const mayBeEmpty = spec.otherwise !== undefined || spec.optional === true

  // Undo, another candidate or other units: the draft belonged to what was there before.
  // biome-ignore lint/correctness/useExhaustiveDependencies: the shown value is the signal
  useEffect(() => {
    setDraft(null)
    setFault(null)
  }, [shown])

  const give = (next: number | undefined): boolean => {
    const text = next === undefined ? words.field.none : fieldText(next, spec.quantity, units)
    const done = doEdit(room.store, {
      name: pathText(spec.path),
      label: `${spec.of}, ${spec.label}: ${text}`,
      undo: 'merge',
      merge: `${pathText(spec.path)} ${visit.current}`,
      apply: (bay) => (spec.apply && next !== undefined ? spec.apply(bay, next) : withField(bay, spec.path, next)),
    })
    setFault(done.ok ? null : withoutPlace(done.faults[0]))
    return done.ok
  }
  const take = (): boolean => {
    // Text that was not touched stands for the value itself, of which it may be a rounding.
    if (draft === null || draft === shown) return true
    const read = mayBeEmpty ? readOptional(draft, spec.quantity, units) : readField(draft, spec.quantity, units)
    if (!read.ok) {
      setFault(withoutPlace(read.faults[0]))
      return false
    }
    const done = give(read.value)
    if (done) setDraft(null)
    return done
  }
  const step = (way: 1 | -1, event: KeyboardEvent) => {
    const from = draft === null ? (value ?? spec.otherwise ?? 0) : readField(draft, spec.quantity, units)
    const start = typeof from === 'number' ? from : from.ok ? from.value : null
    if (start === null) return
    const size = event.shiftKey ? 'coarse' : event.altKey ? 'fine' : 'plain'
    if (give(stepped(start, way * stepOf(spec.quantity, units, size)))) setDraft(null)
  }
  const onKeyDown = (event: KeyboardEvent) => {
    if (event.key === 'Enter' && take()) (event.target as HTMLInputElement).select()
    if (event.key === 'Escape' && (draft !== null || fault !== null)) {
      event.stopPropagation()
      setDraft(null)
      setFault(null)
    }
    if (event.key !== 'ArrowUp' && event.key !== 'ArrowDown') return
    event.preventDefault()
    step(event.key === 'ArrowUp' ? 1 : -1, event)
  }

  return (
    <TextField
      className={`figure-field ${compact ? 'figure-field-compact' : ''}`}
      value={draft ?? shown}
      onChange={setDraft}
      isInvalid={fault !== null}
      aria-label={compact ? `${spec.of}, ${spec.label}` : undefined}
    >
      {!compact && <Label>{spec.label}</Label>}
      <span className="figure-input">
        <Input
          inputMode="text"
          autoComplete="off"
          spellCheck={false}
          placeholder={spec.otherwise === undefined ? spec.emptyText : fieldText(spec.otherwise, spec.quantity, units)}
          data-draft={draft !== null && draft !== shown ? true : undefined}
          onKeyDown={onKeyDown}
          onFocus={(event) => {
            visit.current = ++visits
            event.target.select()
          }}
          onBlur={take}
        />
        {!compact && <span className="figure-unit">{unitText(spec.quantity, units)}</span>}
      </span>
      {value === undefined && spec.otherwise !== undefined && draft === null && !compact && (
        <Text slot="description" className="figure-default">
          {words.field.byDefault(fieldText(spec.otherwise, spec.quantity, units))}
        </Text>
      )}
      {fault && (
        <Text slot="errorMessage" className="figure-fault">
          {faultText(fault)}
        </Text>
      )}
    </TextField>
  )
}

const unitText = (quantity: Quantity, units: 'mm' | 'inch'): string =>
  quantity === 'length' ? words.field[units] : quantity === 'angle' ? words.field.degrees : words.field.share

/** Beside its own field a fault need not say where it is. */
export const withoutPlace = ({ item: _item, field: _field, line: _line, column: _column, ...fault }: Fault): Fault =>
  fault
