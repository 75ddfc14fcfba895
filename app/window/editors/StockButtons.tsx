import { Button } from 'react-aria-components/Button'
import type { Limits } from '../../../core/bay/schema.ts'
import { withEntry, withField } from '../state/edit.ts'
import { words } from '../words.ts'
import { useSteps } from './useSteps.tsx'

/** Adds a stock size, or takes the last one out; the list goes with its last entry. */
export function StockButtons({ index, limits }: { index: number; limits: Limits | undefined }) {
  const { go, told } = useSteps()
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
                go(words.field.addStock(words.field[name].toLowerCase()), (bay) =>
                  withEntry(bay, path, stock.length, stock.at(-1) ?? bay.candidates[index].core[name]),
                )
              }
            >
              + {what}
            </Button>
            {stock.length > 0 && (
              <Button
                className="small"
                aria-label={words.field.remove(`${what} ${stock.length}`)}
                onPress={() =>
                  go(words.field.remove(`${what} ${stock.length}`), (bay) =>
                    withField(bay, stock.length === 1 ? path : [...path, stock.length - 1], undefined),
                  )
                }
              >
                −
              </Button>
            )}
          </span>
        )
      })}
      {told}
    </div>
  )
}
