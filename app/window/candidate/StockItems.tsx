import { useEffect, useRef, useState } from 'react'
import { Button } from 'react-aria-components/Button'
import type { Bay } from '../../../core/bay/schema.ts'
import { candidateWords } from '../candidateWords.ts'
import { Callout } from '../editors/Callouts.tsx'
import { sizeOf } from '../pipes/figures.ts'
import { useWindow } from '../state/context.ts'
import { withField } from '../state/edit.ts'
import { bayOf } from '../state/windowState.ts'
import type { Added } from './candidateEdits.ts'
import { useSteps } from '../editors/useSteps.tsx'
import { WordsField } from '../editors/WordsField.tsx'
import { RemoveButton } from './RemoveButton.tsx'
import { StockItem } from './StockEditors.tsx'
import { addStock, copyStock, removeStock, type StockList, stockItems } from './stockEdits.ts'

const { stock: text } = candidateWords

/** One list of the shop: its things opened one at a time, added, copied and taken out. */
export function StockItems({ list }: { list: StockList }) {
  const { go, told } = useSteps()
  const bay = useWindow(bayOf)
  const units = useWindow((state) => state.units)
  const [open, setOpen] = useState<string | null>(null)
  const element = useRef<HTMLDivElement>(null)
  const [made, setMade] = useState<string | null>(null)
  const count = bay ? stockItems(bay, list).length : 0
  const counted = useRef(count)
  useEffect(() => {
    if (made !== null) element.current?.querySelector<HTMLInputElement>(`[data-item="${made}"] input`)?.focus()
    setMade(null)
  }, [made])
  // What was taken out had the focus.
  useEffect(() => {
    if (count < counted.current) element.current?.querySelector<HTMLButtonElement>('.stock-add')?.focus()
    counted.current = count
  }, [count])
  if (!bay) return null
  const items = stockItems(bay, list)
  /** What was made is opened, with its name ready to be typed. */
  const make = (label: (name: string) => string, added: Added) => {
    const name = stockItems(added.bay, list).find(({ id }) => id === added.id)?.name ?? ''
    if (!go(label(name), () => added.bay)) return
    setOpen(added.id)
    setMade(added.id)
  }
  return (
    <div ref={element} className="stock-list">
      {items.length === 0 && <p className="callout-note">{text.none[list]}</p>}
      {items.map(({ id, name }, index) => (
        <div key={id} data-item={id}>
          <Callout
            title={name}
            brief={briefOf(bay, list, index, (mm) => sizeOf(mm, units))}
            open={open === id}
            onOpen={(on) => setOpen(on ? id : null)}
          >
            <WordsField
              label={text.name}
              of={name}
              value={name}
              apply={(whole, next) => withField(whole, [...pathOf(list), index, 'name'], next)}
            />
            <StockItem bay={bay} list={list} index={index} path={[...pathOf(list), index]} />
            <div className="candidate-tools">
              <Button
                className="small"
                aria-label={text.copy(name)}
                onPress={() => make(candidateWords.candidate.copied, copyStock(bay, list, index))}
              >
                {text.copyShort}
              </Button>
              <RemoveButton
                label={text.remove(name)}
                what={name}
                removal={(whole) => removeStock(whole, list, index)}
              />
            </div>
          </Callout>
        </div>
      ))}
      {told}
      <Button className="small stock-add" onPress={() => make(candidateWords.candidate.added, addStock(bay, list))}>
        {text.add[list]}
      </Button>
    </div>
  )
}

const pathOf = (list: StockList) => (list === 'benders' ? ['benders'] : ['stock', list])

/** What tells a thing from the others of its list. */
function briefOf({ stock, benders }: Bay, list: StockList, index: number, size: (mm: number) => string): string {
  switch (list) {
    case 'tubes': {
      const tube = stock?.tubes?.[index]
      return tube ? text.tubeSize(size(tube.outsideDiameter), size(tube.wall)) : ''
    }
    case 'elbows': {
      const elbow = stock?.elbows?.[index]
      return elbow ? text.elbowSize(size(elbow.outsideDiameter), size(elbow.angle)) : ''
    }
    case 'couplers': {
      const coupler = stock?.couplers?.[index]
      if (!coupler) return ''
      const [one, two] = coupler.insideDiameters
      return text.couplerSize(text.forms[coupler.form], size(one), size(two))
    }
    case 'clamps': {
      const clamp = stock?.clamps?.[index]
      return clamp ? text.clampSize(size(clamp.least), size(clamp.most)) : ''
    }
    case 'benders':
      return text.benderSize(benders?.[index]?.tools.length ?? 0)
  }
}
