import { pipesAt } from '../../../core/bay/freshKeepOut.ts'
import { BeadFields } from '../editors/BeadFields.tsx'
import type { FigureSpec } from '../editors/figure.ts'
import { FigureGroups } from '../editors/FigureGroups.tsx'
import { KeepOutPicker } from '../editors/KeepOutPicker.tsx'
import { useWindow } from '../state/context.ts'
import { bayOf } from '../state/windowState.ts'
import { words } from '../words.ts'
import { MeasuredItem } from './MeasuredItem.tsx'
import { directionGroup, pointGroup } from './shapeGroups.ts'

const { port: text, item: itemText } = words.measure

/** A place on the car where a pipe must end. */
export function PortEditor({ index }: { index: number }) {
  const bay = useWindow(bayOf)
  const port = bay?.ports?.[index]
  if (!port) return null
  const { id, name: of, sitsOn, bead } = port
  const path = ['ports', index]
  const base = { of, path }
  const one = (label: string, field: string, more: Partial<FigureSpec> = {}): FigureSpec => ({
    of,
    label,
    path: [...path, field],
    quantity: 'length',
    ...more,
  })
  const sizes = {
    figures: [
      one(text.diameter, 'outsideDiameter'),
      one(text.spigot, 'spigot', { optional: true, emptyText: words.field.none }),
      one(text.movement, 'movement', { otherwise: 0 }),
    ],
  }
  const pipes = bay ? pipesAt(bay, id) : []
  const needed = pipes.length > 0 ? itemText.portInUse(pipes.join('; ')) : null
  return (
    <MeasuredItem list="ports" index={index} item={port} needed={needed}>
      <FigureGroups
        groups={[pointGroup(base, text.at, 'at'), directionGroup(base, text.direction, 'direction'), sizes]}
      />
      <KeepOutPicker label={text.sitsOn} none={text.nothing} of={of} value={sitsOn} path={[...path, 'sitsOn']} />
      <BeadFields of={of} bead={bead} path={[...path, 'bead']} />
    </MeasuredItem>
  )
}
