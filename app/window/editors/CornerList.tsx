import { type KeyboardEvent, useRef } from 'react'
import { Button } from 'react-aria-components/Button'
import type { Pipe } from '../../../core/bay/schema.ts'
import { addCorner, removeCorner } from '../pipes/cornerEdits.ts'
import { useHere, useWindow } from '../state/context.ts'
import type { FieldPath } from '../state/edit.ts'
import { words } from '../words.ts'
import type { FigureSpec } from './figure.ts'
import { FigureField } from './FigureField.tsx'
import { Together } from './Together.tsx'

const axes = ['X', 'Y', 'Z']

/** The corner points of a pipe's path as a table; each corner can be taken out, and one put in before and after it. */
export function CornerList({ pipe, path, of }: { pipe: Pipe; path: FieldPath; of: string }) {
  const { room } = useHere()
  const pointed = useWindow((state) => state.corner)
  const list = useRef<HTMLFieldSetElement>(null)
  const corners = pipe.path
  const specsOf = (i: number): readonly FigureSpec[] =>
    axes.map((label, k) => ({
      of: `${of}, ${words.field.corner(i + 1)}`,
      label,
      path: [...path, i, k],
      quantity: 'length',
    }))
  const point = (corner: number | null) => room.store.setState({ corner })
  /** The same column in another row, once that row is there. */
  const focus = (row: number, column: number) =>
    requestAnimationFrame(() => {
      const rows = list.current?.querySelectorAll('.corner') ?? []
      const next = rows[Math.min(row, rows.length - 1)]?.querySelectorAll('input')[column]
      if (next) next.focus()
      else list.current?.querySelector('button')?.focus()
    })
  const onKeyDown = (event: KeyboardEvent<HTMLDivElement>, i: number) => {
    const column = [...event.currentTarget.querySelectorAll('input')].indexOf(event.target as HTMLInputElement)
    if (column < 0 || event.ctrlKey !== (event.key === 'Delete')) return
    if (event.key === 'PageUp' && i > 0) focus(i - 1, column)
    else if (event.key === 'PageDown' && i < corners.length - 1) focus(i + 1, column)
    else if (event.key === 'Insert' && addCorner(room.store, i + 1)) focus(i + 1, column)
    else if (event.key === 'Delete' && removeCorner(room.store, i)) focus(i, column)
    else return
    event.preventDefault()
  }
  return (
    <fieldset ref={list} className="corners">
      <legend>{words.field.corners}</legend>
      {corners.length === 0 && <p className="corners-none">{words.field.noCorners}</p>}
      {corners.length > 0 && (
        <div className="corner-head" aria-hidden="true">
          <span />
          {axes.map((axis) => (
            <span key={axis}>{axis}</span>
          ))}
        </div>
      )}
      {corners.map((_, i) => (
        // biome-ignore lint/a11y/noStaticElementInteractions: keys of the row, pressed in its numbers
        <div
          // Corners have no name but their number.
          // biome-ignore lint/suspicious/noArrayIndexKey: see above
          key={i}
          className={`corner ${pointed === i ? 'corner-now' : ''}`}
          onKeyDown={(event) => onKeyDown(event, i)}
          onFocus={() => point(i)}
          onBlur={() => point(null)}
          onPointerEnter={() => point(i)}
          onPointerLeave={() => point(null)}
        >
          <span className="corner-number">{i + 1}</span>
          <Together specs={specsOf(i)}>
            {specsOf(i).map((spec) => (
              <FigureField key={spec.label} compact spec={spec} />
            ))}
          </Together>
          <Button
            className="small"
            aria-label={words.field.addAfter(i + 1)}
            onPress={() => addCorner(room.store, i + 1)}
          >
            +
          </Button>
          <Button
            className="small"
            aria-label={words.field.remove(words.field.corner(i + 1))}
            onPress={() => removeCorner(room.store, i)}
          >
            −
          </Button>
        </div>
      ))}
      <Button className="small" onPress={() => addCorner(room.store, 0)}>
        {corners.length === 0 ? words.field.addCorner : words.field.addFirst}
      </Button>
    </fieldset>
  )
}
