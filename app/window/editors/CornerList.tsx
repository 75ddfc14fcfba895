import { Button } from 'react-aria-components/Button'
import type { Pipe } from '../../../core/bay/schema.ts'
import { useHere, useWindow } from '../state/context.ts'
import { type FieldPath, withEntry, withField } from '../state/edit.ts'
import { bayOf, doEdit } from '../state/windowState.ts'
import { words } from '../words.ts'
import { FigureField } from './FigureField.tsx'
import { newCorner } from './newCorner.ts'

const axes = ['X', 'Y', 'Z']

/** The corner points of a pipe's path as a table; each corner can be taken out, and one put in after it. */
export function CornerList({ pipe, path, of }: { pipe: Pipe; path: FieldPath; of: string }) {
  const { room } = useHere()
  const bay = useWindow(bayOf)
  if (!bay) return null
  const corners = pipe.path
  const add = (index: number) =>
    doEdit(room.store, {
      name: 'add-corner',
      label: `${of}, ${words.field.addCorner}`,
      undo: 'step',
      apply: (whole) => withEntry(whole, path, index, newCorner(whole, pipe, index)),
    })
  const remove = (index: number) =>
    doEdit(room.store, {
      name: 'remove-corner',
      label: `${of}, ${words.field.remove(words.field.corner(index + 1))}`,
      undo: 'step',
      apply: (whole) => withField(whole, [...path, index], undefined),
    })
  return (
    <fieldset className="corners">
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
        // Corners have no name but their number.
        // biome-ignore lint/suspicious/noArrayIndexKey: see above
        <div key={i} className="corner">
          <span className="corner-number">{i + 1}</span>
          {axes.map((axis, k) => (
            <FigureField
              key={axis}
              compact
              spec={{
                of: `${of}, ${words.field.corner(i + 1)}`,
                label: axis,
                path: [...path, i, k],
                quantity: 'length',
              }}
            />
          ))}
          <Button className="small" aria-label={words.field.addAfter(i + 1)} onPress={() => add(i + 1)}>
            +
          </Button>
          <Button
            className="small"
            aria-label={words.field.remove(words.field.corner(i + 1))}
            onPress={() => remove(i)}
          >
            −
          </Button>
        </div>
      ))}
      <Button className="small" onPress={() => add(0)}>
        {corners.length === 0 ? words.field.addCorner : words.field.addFirst}
      </Button>
    </fieldset>
  )
}
