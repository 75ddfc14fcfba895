import type { ReactNode } from 'react'
import { Button } from 'react-aria-components/Button'
import type { Bay } from '../../../core/bay/schema.ts'
import { useSteps } from '../editors/useSteps.tsx'
import { withField } from '../state/edit.ts'
import { words } from '../words.ts'
import { ItemText } from './ItemText.tsx'
import { focusSoon, useFresh } from './useFresh.ts'

const text = words.measure
type List = 'openings' | 'ports'
const kinds = { openings: 'opening', ports: 'port' } as const

interface Props {
  readonly list: List
  readonly index: number
  readonly item: { readonly id: string; readonly name: string }
  /** Why it cannot be taken out: what needs it. */
  readonly needed?: string | null
  readonly children: ReactNode
}

/** Something measured on the car beside keep-outs: its name, its own figures, and taking it out. */
export function MeasuredItem({ list, index, item, needed = null, children }: Props) {
  const { go, told } = useSteps()
  const { id, name } = item
  const kind = kinds[list]
  const isFresh = useFresh(`${kind} ${id}`)
  const remove = () => {
    const without = (bay: Bay) => withField(bay, bay[list]?.length === 1 ? [list] : [list, index], undefined)
    const done = go(text.removed(name), without, needed)
    if (done) focusSoon(`.add-${kind}`)
  }
  return (
    <>
      <ItemText label={text.item.name} path={[list, index, 'name']} of={name} focused={isFresh} />
      {children}
      {told}
      <div className="item-actions">
        <Button className="small" onPress={remove}>
          {text.item.remove}
        </Button>
      </div>
    </>
  )
}
