import { type FormEvent, type KeyboardEvent, useId, useState } from 'react'
import type { Grip } from '../../../core/bay/grips/grip.ts'
import type { Fault, Outcome } from '../../../core/fault.ts'
import type { Vec3 } from '../../../core/shape/vec.ts'
import { faultText } from '../../wording.ts'
import { fieldText, readField } from '../editors/quantity.ts'
import { handleWords } from '../handleWords.ts'
import { useWindow } from '../state/context.ts'
import { words } from '../words.ts'
import { type Frame, onScreen, type Rig } from '../viewport/camera.ts'
import { translated } from '../viewport/translated.ts'
import { type GripValue, nameOf, withoutPlace } from './giving.ts'
import type { Thing } from './thing.ts'

interface Props {
  readonly thing: Thing
  readonly grip: Grip<unknown>
  /** The key that opened it, if it was the beginning of a number. */
  readonly begun: string
  readonly rig: Rig
  readonly frame: Frame
  readonly onSet: (value: GripValue) => Outcome<null>
  readonly onClose: (refocus: boolean) => void
}

const room = { width: 250, height: 96 }

/** The number of a handle, or the three of a point, typed beside it. Enter takes them, Escape leaves all as it was. */
export function EntryBox({ thing, grip, begun, rig, frame, onSet, onClose }: Props) {
  const units = useWindow((state) => state.units)
  const quantity = grip.kind === 'turn' ? 'angle' : 'length'
  const [texts, setTexts] = useState(() => {
    const values = grip.kind === 'place' ? grip.value : [grip.value]
    return values.map((value, k) => (k === 0 && begun !== '' ? begun : fieldText(value, quantity, units)))
  })
  const [fault, setFault] = useState<Fault | null>(null)
  const faultId = useId()
  const take = (event: FormEvent) => {
    event.preventDefault()
    const values: number[] = []
    for (const text of texts) {
      const read = readField(text, quantity, units)
      if (!read.ok) return setFault(withoutPlace(read.faults))
      values.push(read.value)
    }
    const done = onSet(grip.kind === 'place' ? (values as unknown as Vec3) : values[0])
    if (done.ok) onClose(true)
    else setFault(withoutPlace(done.faults))
  }
  const onKeyDown = (event: KeyboardEvent) => {
    if (event.key !== 'Escape') return
    event.stopPropagation()
    onClose(true)
  }
  const [x, y] = onScreen(grip.at, rig, frame)
  const name = nameOf(thing, grip)
  const at = [
    Math.max(8, Math.min(x + 18, frame.width - room.width - 8)),
    Math.max(frame.top, Math.min(y + 16, frame.height - room.height - 8)),
  ] as const
  return (
    <form
      className="handle-entry"
      aria-label={handleWords.entry.label(name)}
      style={{ transform: translated(at) }}
      onSubmit={take}
      onKeyDown={onKeyDown}
      onBlur={(event) => {
        if (!event.currentTarget.contains(event.relatedTarget)) onClose(false)
      }}
    >
      <p>{name}</p>
      <div className="handle-entry-row">
        {texts.map((text, k) => {
          const axis = grip.kind === 'place' ? handleWords.entry.axes[k] : null
          return (
            // A point has three, a number one: they have no name but their place.
            // biome-ignore lint/suspicious/noArrayIndexKey: see above
            <label key={k}>
              {axis && <span>{axis}</span>}
              <input
                aria-label={axis ? undefined : name}
                // biome-ignore lint/a11y/noAutofocus: the box was asked for by typing into it
                autoFocus={k === 0}
                autoComplete="off"
                value={text}
                aria-invalid={fault !== null}
                aria-describedby={fault ? faultId : undefined}
                onFocus={(event) => (begun === '' || k > 0 ? event.target.select() : undefined)}
                onChange={(event) => setTexts((all) => all.map((old, i) => (i === k ? event.target.value : old)))}
              />
            </label>
          )
        })}
        <span>{quantity === 'length' ? words.field[units] : '°'}</span>
        <button type="submit" className="unseen">
          {handleWords.entry.set}
        </button>
      </div>
      {fault && (
        <p id={faultId} className="figure-fault" role="alert">
          {faultText(fault)}
        </p>
      )}
    </form>
  )
}
