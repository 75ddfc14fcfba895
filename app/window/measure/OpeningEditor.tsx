import { FigureGroups } from '../editors/FigureGroups.tsx'
import { PointsGrid } from '../editors/PointsGrid.tsx'
import { useWindow } from '../state/context.ts'
import { bayOf } from '../state/windowState.ts'
import { words } from '../words.ts'
import { MeasuredItem } from './MeasuredItem.tsx'

const text = words.measure

/** An air inlet: its outline across the car, and where along the car it is. */
export function OpeningEditor({ index }: { index: number }) {
  const opening = useWindow((state) => bayOf(state)?.openings?.[index])
  if (!opening) return null
  const { name: of } = opening
  const path = ['openings', index]
  return (
    <MeasuredItem list="openings" index={index} item={opening}>
      <FigureGroups groups={[{ figures: [{ of, label: text.opening.x, path: [...path, 'x'], quantity: 'length' }] }]} />
      <PointsGrid
        of={of}
        title={text.opening.outline}
        path={[...path, 'outline']}
        columns={[text.shape.y, text.shape.z]}
        least={3}
        most={2000}
      />
      <p className="callout-note">{text.opening.outlineHint}</p>
    </MeasuredItem>
  )
}
