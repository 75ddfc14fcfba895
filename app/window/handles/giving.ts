import type { Grip } from '../../../core/bay/grips/grip.ts'
import { distance, sub, type Vec3 } from '../../../core/shape/vec.ts'
import type { PeopleUnits } from '../../../core/units/lengthText.ts'
import { fieldText } from '../editors/quantity.ts'
import { handleWords } from '../handleWords.ts'
import { withField } from '../state/edit.ts'
import { doEdit, type WindowStore } from '../state/windowState.ts'
import type { Fault, Outcome } from '../../../core/fault.ts'
import { words } from '../words.ts'
import type { Thing } from './thing.ts'

/** What a grip sets: a number, or a point. */
export type GripValue = number | Vec3

/** How often a grip was taken up: all that is done with it then is one step back. */
let visits = 0
export const newVisit = (): number => ++visits

/**
 * Sets what a grip sets.
 * @param of the thing as it is now, not as it was when it was taken up: pipes have gone along meanwhile
 * @param from the value when it was taken up, for the name of the step
 * @returns the faults of a bay that cannot be; it then stays as it was
 */
export function giveValue(
  store: WindowStore,
  of: Thing,
  id: string,
  value: GripValue,
  from: GripValue,
  visit: number,
): Outcome<null> {
  const grip = of.grips.find((one) => one.id === id)
  const next = grip && putValue(grip, value)
  if (!grip || next === undefined) return { ok: true, value: null }
  return doEdit(store, {
    name: 'handle',
    label: stepLabel(of, grip, value, from, store.getState().units),
    undo: 'merge',
    merge: `handle ${visit}`,
    apply: (bay) => withField(bay, of.path, next),
  })
}

/** The thing with the grip's value set; undefined where a number is given for a point or the other way round. */
function putValue(grip: Grip<unknown>, value: GripValue): unknown {
  if (grip.kind === 'place') return typeof value === 'number' ? undefined : grip.put(value)
  return typeof value === 'number' ? grip.put(value) : undefined
}

export const isSameValue = (one: GripValue, other: GripValue): boolean =>
  typeof one === 'number' || typeof other === 'number' ? one === other : distance(one, other) === 0

/** Faults name the bay's fields; beside a handle that is of no help. */
export const withoutPlace = (faults: readonly Fault[]): Fault => {
  const { item: _, field: __, ...rest } = faults[0]
  return rest
}

export const lengthText = (mm: number, units: PeopleUnits): string =>
  `${fieldText(mm, 'length', units)} ${words.field[units]}`

/** A value as it is read beside the handle. */
export function valueText(grip: Grip<unknown>, value: GripValue, units: PeopleUnits): string {
  if (typeof value !== 'number') return value.map((mm) => fieldText(mm, 'length', units)).join(', ')
  return grip.kind === 'turn' ? handleWords.degrees(fieldText(value, 'angle', units)) : lengthText(value, units)
}

export const nameOf = ({ name, candidate }: Thing, { what }: Grip<unknown>): string =>
  handleWords.name(name, what, candidate !== null)

/** "Core moved 12 mm rearward", "Core, rear face, depth: 102 mm". */
function stepLabel(thing: Thing, grip: Grip<unknown>, value: GripValue, from: GripValue, units: PeopleUnits): string {
  const { kind } = grip.what
  if (typeof value === 'number' && typeof from === 'number') {
    if (kind === 'along') return handleWords.moved(thing.name, [wayText(value - from, grip.what.axis, units)])
    if (kind === 'normal')
      return handleWords.movedOut(thing.name, lengthText(Math.abs(value - from), units), value > from)
    return handleWords.set(nameOf(thing, grip), valueText(grip, value, units))
  }
  if (typeof value === 'number' || typeof from === 'number') return nameOf(thing, grip)
  const ways = sub(value, from).flatMap((mm, k) => (Math.abs(mm) < 1e-6 ? [] : [wayText(mm, k as 0 | 1 | 2, units)]))
  return handleWords.moved(kind === 'place' ? thing.name : nameOf(thing, grip), ways)
}

const wayText = (mm: number, axis: 0 | 1 | 2, units: PeopleUnits): string =>
  handleWords.way(lengthText(Math.abs(Math.round(mm * 1e6) / 1e6), units), axis, mm > 0)
