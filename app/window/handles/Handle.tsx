import { type KeyboardEvent, type PointerEvent, useRef, useState } from 'react'
import { type Grip, tidyPoint } from '../../../core/bay/grips/grip.ts'
import { along, dot } from '../../../core/shape/vec.ts'
import { handleWords } from '../handleWords.ts'
import { keepOutName } from '../ledger/names.ts'
import { useHere, useWindow } from '../state/context.ts'
import { bayOf } from '../state/windowState.ts'
import { axesOf, type Frame, onScreen, type Rig } from '../viewport/camera.ts'
import { keyWay } from '../viewport/cornerWays.ts'
import { translated } from '../viewport/translated.ts'
import { giveValue, type GripValue, nameOf, newVisit, valueText } from './giving.ts'
import { arrowTurn, arrowWay } from './pull.ts'
import { ruleOf, type StepSize } from './rules.ts'
import { type SnappedTo, steppedOn } from './snapping.ts'
import type { Thing } from './thing.ts'
import type { InHand } from './useGripDrag.ts'

interface Props {
  readonly thing: Thing
  readonly grip: Grip<unknown>
  /** It is dragged just now. */
  readonly hand: InHand | null
  /** The tabulator key comes to it. */
  readonly isStop: boolean
  readonly rig: Rig
  readonly frame: Frame
  readonly onPress: (event: PointerEvent<HTMLElement>, grip: Grip<unknown>) => void
  readonly onFocus: () => void
  /** A number is to be typed; with what the key was, if it was one. */
  readonly onType: (begun: string) => void
  readonly onGo: (to: 1 | -1 | 'first' | 'last') => void
}

/** What is done with the handle from taking the focus to losing it: one step back. */
interface Visit {
  readonly number: number
  readonly from: GripValue
}

/** One handle: dragged, stepped by arrow keys, or set by typing. */
export function Handle({ thing, grip, hand, isStop, rig, frame, onPress, onFocus, onType, onGo }: Props) {
  const { room } = useHere()
  const units = useWindow((state) => state.units)
  const bay = useWindow(bayOf)
  const [to, setTo] = useState<SnappedTo | null>(null)
  const visit = useRef<Visit>({ number: 0, from: grip.value })
  const name = nameOf(thing, grip)
  const value = valueText(grip, grip.value, units)
  const rest = hand ? hand.to : to
  const told = rest && toldOf(rest, (id) => keepOutName(bay, id))

  const step = (event: KeyboardEvent): boolean => {
    const next = stepped(grip, event, rig, (size) => ruleOf(room.store.getState(), thing, grip, size, rig.scale))
    if (next === null) return false
    setTo(next.to)
    giveValue(room.store, thing, grip.id, next.value, visit.current.from, visit.current.number)
    return true
  }
  const onKeyDown = (event: KeyboardEvent) => {
    const to = goOf(event)
    if (to !== null) onGo(to)
    else if (event.ctrlKey || event.metaKey) return
    else if (/^[\d.,+\-−(]$/.test(event.key)) onType(event.key)
    else if (event.key === 'Enter' || event.key === ' ') onType('')
    else if (!step(event)) return
    event.preventDefault()
    event.stopPropagation()
  }
  const [x, y] = placeOf(grip, rig, frame)
  const role =
    grip.kind === 'place' ? placeRole(name, value) : sliderRole(name, told ? `${value}, ${told}` : value, grip.value)
  return (
    // biome-ignore lint/a11y/noStaticElementInteractions: its role is button or slider
    <div
      {...role}
      className={`handle handle-${grip.what.kind}`}
      tabIndex={isStop ? 0 : -1}
      aria-describedby="handle-keys"
      data-grip={grip.id}
      data-live={hand !== null || undefined}
      style={{ transform: translated([x, y]) }}
      onPointerDown={(event) => onPress(event, grip)}
      onKeyDown={onKeyDown}
      onFocus={() => {
        visit.current = { number: newVisit(), from: grip.value }
        onFocus()
      }}
      onBlur={() => setTo(null)}
    >
      <span className="handle-knob" aria-hidden="true" style={{ rotate: `${turnOf(grip, rig)}rad` }} />
      <span className={`handle-name ${x > frame.width - 260 ? 'handle-name-left' : ''}`} aria-hidden="true">
        {name} <b>{value}</b>
        {told && <i>{told}</i>}
      </span>
    </div>
  )
}

const placeRole = (name: string, value: string) => ({
  role: 'button' as const,
  'aria-roledescription': handleWords.role,
  'aria-label': handleWords.at(name, value),
})
const sliderRole = (name: string, text: string, value: GripValue) => ({
  role: 'slider' as const,
  'aria-label': name,
  'aria-valuetext': text,
  'aria-valuenow': Number(value),
})

/** The next value on a key, or null where the key says nothing. */
function stepped(
  grip: Grip<unknown>,
  { key, shiftKey, altKey }: KeyboardEvent,
  rig: Rig,
  rule: (size: StepSize) => ReturnType<typeof ruleOf>,
): { readonly value: GripValue; readonly to: SnappedTo | null } | null {
  const size = shiftKey ? 'coarse' : altKey ? 'fine' : 'plain'
  if (grip.kind === 'place') {
    const way = keyWay(key, rig)
    return way && { value: tidyPoint(along(grip.value, way, rule(size).step)), to: null }
  }
  const way = grip.kind === 'turn' ? arrowTurn(key) : arrowWay(key, grip.way, rig)
  if (way === null) return null
  const next = steppedOn(grip.value, way, rule(size))
  const isTooSmall = grip.kind === 'slide' && grip.least !== undefined && next.value < grip.least
  return isTooSmall ? { value: grip.value, to: null } : next
}

/** Within its group: Control with an arrow key, Home and End. */
function goOf({ key, ctrlKey, metaKey }: KeyboardEvent): 1 | -1 | 'first' | 'last' | null {
  if (key === 'Home') return 'first'
  if (key === 'End') return 'last'
  if (!ctrlKey && !metaKey) return null
  if (key === 'ArrowRight' || key === 'ArrowDown') return 1
  return key === 'ArrowLeft' || key === 'ArrowUp' ? -1 : null
}

function toldOf(to: SnappedTo, keepOut: (id: string) => string): string {
  const { snapped } = handleWords
  if (to.kind === 'rows') return snapped.rows(to.rows)
  return to.kind === 'gap' ? snapped.gap(keepOut(to.keepOut)) : snapped.stock
}

/** How far a handle stands off from what it sets, pixels. */
const standOff = { along: 30, turn: 22 } as const

function placeOf(grip: Grip<unknown>, rig: Rig, frame: Frame): readonly [number, number] {
  const [x, y] = onScreen(grip.at, rig, frame)
  const { kind } = grip.what
  if (!grip.off || (kind !== 'along' && kind !== 'turn')) return [x, y]
  const { right, up } = axesOf(rig)
  const [dx, dy] = [dot(grip.off, right), -dot(grip.off, up)]
  const size = Math.hypot(dx, dy) || 1
  return [x + (dx / size) * standOff[kind], y + (dy / size) * standOff[kind]]
}

/** How the knob lies in the picture: along the way that it is pulled. */
function turnOf(grip: Grip<unknown>, rig: Rig): number {
  if (grip.kind !== 'slide') return 0
  const { right, up } = axesOf(rig)
  return Math.round(Math.atan2(-dot(grip.way, up), dot(grip.way, right)) * 1e4) / 1e4
}
