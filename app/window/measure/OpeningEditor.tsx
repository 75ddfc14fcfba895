import { Button } from 'react-aria-components/Button'
import { FigureGroups } from '../editors/FigureGroups.tsx'
import { PointsGrid } from '../editors/PointsGrid.tsx'
import { useHere, useWindow } from '../state/context.ts'
import { withField } from '../state/edit.ts'
import { bayOf, doEdit } from '../state/windowState.ts'
import { words } from '../words.ts'
import { ItemText } from './ItemText.tsx'
import { focusSoon, useFresh } from './useFresh.ts'

const text = words.measure

/** An air inlet: its outline across the car, and where along the car it is. */
export function OpeningEditor({ index }: { index: number }) {
  const { room } = useHere()
  const opening = useWindow((state) => bayOf(state)?.openings?.[index])
  const isFresh = useFresh(`opening ${opening?.id}`)
  if (!opening) return null
  const path = ['openings', index]
  const remove = () => {
    doEdit(room.store, {
      name: 'remove-opening',
      label: text.removed(opening.name),
      undo: 'step',
      apply: (bay) => withField(bay, bay.openings?.length === 1 ? ['openings'] : path, undefined),
    })
    focusSoon('.add-opening')
  }
  return (
    <>
      <ItemText label={text.item.name} path={[...path, 'name']} of={opening.name} focused={isFresh} />
      <FigureGroups
        groups={[{ figures: [{ of: opening.name, label: text.opening.x, path: [...path, 'x'], quantity: 'length' }] }]}
      />
      <PointsGrid
        of={opening.name}
        title={text.opening.outline}
        path={[...path, 'outline']}
        columns={[text.shape.y, text.shape.z]}
        least={3}
        most={2000}
      />
      <p className="callout-note">{text.opening.outlineHint}</p>
      <div className="item-actions">
        <Button className="small" onPress={remove}>
          {text.item.remove}
        </Button>
      </div>
    </>
  )
}
