import { Button } from 'react-aria-components/Button'
import type { Limits } from '../../../core/bay/schema.ts'
import { useHere } from '../state/context.ts'
import { withEntry, withField } from '../state/edit.ts'
import { doEdit } from '../state/windowState.ts'
import { words } from '../words.ts'

/** Adds a stock size, or takes the last one out; the list goes with its last entry. */
export function StockButtons({ index, limits }: { index: number; limits: Limits | undefined }) {
  const { room } = useHere()
  return (
    <div className="stock-buttons">
      {(['depth', 'width', 'height'] as const).map((name) => {
        const stock = limits?.[name]?.stock ?? []
        const path = ['candidates', index, 'limits', name, 'stock']
        const what = `${words.field[name].toLowerCase()} ${words.field.stock}`
        return (
          <span key={name} className="stock-pair">
            <Button
              className="small"
              aria-label={words.field.addStock(words.field[name].toLowerCase())}
              onPress={() =>
                doEdit(room.store, {
                  name: 'add-stock',
                  label: words.field.addStock(words.field[name].toLowerCase()),
                  undo: 'step',
                  apply: (bay) => withEntry(bay, path, stock.length, stock.at(-1) ?? bay.candidates[index].core[name]),
                })
              }
            >
              + {what}
            </Button>
            {stock.length > 0 && (
              <Button
                className="small"
                aria-label={words.field.remove(`${what} ${stock.length}`)}
                onPress={() =>
                  doEdit(room.store, {
                    name: 'remove-stock',
                    label: words.field.remove(`${what} ${stock.length}`),
                    undo: 'step',
                    apply: (bay) => withField(bay, stock.length === 1 ? path : [...path, stock.length - 1], undefined),
                  })
                }
              >
                −
              </Button>
            )}
          </span>
        )
      })}
    </div>
  )
}
