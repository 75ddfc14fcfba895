import { type ClipboardEvent, type KeyboardEvent, useEffect, useRef, useState } from 'react'
import type { Bay } from '../../../core/bay/schema.ts'
import type { Fault, Outcome } from '../../../core/fault.ts'
import { useHere, useWindow } from '../state/context.ts'
import { fieldAt, pathText, withField } from '../state/edit.ts'
import { bayOf, doEdit } from '../state/windowState.ts'
import { words } from '../words.ts'
import { type FigureSpec, withoutPlace } from './figure.ts'
import { readTogether } from './pastedTogether.ts'
import { fieldText, readField, readOptional, stepOf, stepped } from './quantity.ts'
import { useTogether } from './Together.tsx'

/** How often any field was entered: all that is done in one visit to one field is one step back. */
let visits = 0

/** The bay with one number entered; `undefined` empties an optional field. */
const laid = (bay: Bay, { apply, path }: FigureSpec, value: number | undefined): Bay =>
  apply && value !== undefined ? apply(bay, value) : withField(bay, path, value)

/** A number of the bay while it is typed: what stands in the field, what is wrong with it, and what keys do. */
export function useFigure(spec: FigureSpec) {
  const { room } = useHere()
  const together = useTogether()
  const units = useWindow((state) => state.units)
  const value = useWindow((state) => {
    const bay = bayOf(state)
    return bay && spec.read ? spec.read(bay) : (fieldAt(bay, spec.path) as number | undefined)
  })
  const textOf = (number: number) => fieldText(number, spec.quantity, units)
  const shown = value === undefined ? '' : textOf(value)
  const [draft, setDraft] = useState<string | null>(null)
  const [fault, setFault] = useState<Fault | null>(null)
  const [waits, setWaits] = useState(false)
  const visit = useRef(0)
  const own = pathText(spec.path)

  const rest = () => {
    together?.held.delete(own)
    setDraft(null)
    setFault(null)
  }
  const refuse = (why: Fault, held = false): false => {
    setFault(withoutPlace(why))
    setWaits(held)
    return false
  }
  // Undo, another candidate or other units: the draft belonged to what was there before.
  // biome-ignore lint/correctness/useExhaustiveDependencies: the shown value is the signal
  useEffect(rest, [shown])

  /** Enters a number, with those beside it that wait: as one, else alone; taken by neither way it waits as well. */
  const give = (next: number | undefined): boolean => {
    const waiting = [...(together?.held ?? [])].filter(([key]) => key !== own).map(([, held]) => held)
    const text = next === undefined ? words.field.none : textOf(next)
    const enter = (others: typeof waiting): Outcome<null> =>
      doEdit(room.store, {
        name: own,
        label: [
          spec.of,
          ...others.map((held) => `${held.spec.label} ${textOf(held.value)}`),
          `${spec.label}: ${text}`,
        ].join(', '),
        undo: 'merge',
        merge: `${own} ${visit.current}`,
        apply: (bay) =>
          laid(
            others.reduce((before, held) => laid(before, held.spec, held.value), bay),
            spec,
            next,
          ),
      })
    const whole = enter(waiting)
    const done = whole.ok || waiting.length === 0 ? whole : enter([])
    if (whole.ok) together?.held.clear()
    else if (done.ok) together?.held.delete(own)
    if (done.ok) {
      setFault(null)
      return true
    }
    if (next !== undefined) together?.held.set(own, { spec, value: next })
    return refuse(done.faults[0], together !== null)
  }
  /** A whole point or direction, typed or pasted into this field. @returns null where the text is no list of numbers */
  const giveAll = (text: string): boolean | null => {
    if (!together) return null
    const { specs, held } = together
    const read = readTogether(
      text,
      specs.map(({ label }) => label),
      spec.quantity,
      units,
    )
    if (!read) return null
    if (!read.ok) return refuse(read.faults[0])
    const done = doEdit(room.store, {
      name: own,
      label: `${spec.of}: ${read.value.map(textOf).join(', ')}`,
      undo: 'step',
      apply: (bay) => specs.reduce((before, each, k) => laid(before, each, read.value[k]), bay),
    })
    if (!done.ok) return refuse(done.faults[0])
    held.clear()
    rest()
    return true
  }
  const take = (): boolean => {
    // Text that was not touched stands for the value itself, of which it may be a rounding.
    if (draft === null || draft === shown) return true
    const mayBeEmpty = spec.otherwise !== undefined || spec.optional === true
    const read = mayBeEmpty ? readOptional(draft, spec.quantity, units) : readField(draft, spec.quantity, units)
    if (!read.ok) {
      together?.held.delete(own)
      return giveAll(draft) ?? refuse(read.faults[0])
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
    const next = stepped(start, way * stepOf(spec.quantity, units, size))
    if (give(next)) setDraft(null)
    // What waits for the other numbers goes on being stepped from there.
    else if (together) setDraft(textOf(next))
  }
  const onKeyDown = (event: KeyboardEvent) => {
    if (event.key === 'Enter' && take()) (event.target as HTMLInputElement).select()
    if (event.key === 'Escape' && (draft !== null || fault !== null)) {
      event.stopPropagation()
      rest()
    }
    if (event.key !== 'ArrowUp' && event.key !== 'ArrowDown') return
    event.preventDefault()
    step(event.key === 'ArrowUp' ? 1 : -1, event)
  }
  const onPaste = (event: ClipboardEvent) => {
    const text = event.clipboardData.getData('text/plain')
    if (event.defaultPrevented || giveAll(text) === null) return
    event.preventDefault()
  }
  const onFocus = (event: { readonly target: HTMLInputElement }) => {
    visit.current = ++visits
    event.target.select()
  }
  return {
    value,
    shown,
    draft,
    setDraft,
    fault,
    waits,
    isOneOfSome: together !== null,
    units,
    onKeyDown,
    onPaste,
    onFocus,
    onBlur: take,
  }
}
