import { candidateWords } from '../candidateWords.ts'
import { type StockList, stockItems } from '../candidate/stockEdits.ts'
import { keepingWords } from '../keepingWords.ts'
import { stepLabels } from '../state/history.ts'
import { openMarked } from '../state/openPart.ts'
import { bayOf, candidateIn, goToStep, type WindowState } from '../state/windowState.ts'
import { words } from '../words.ts'
import type { Entry } from './entry.ts'

const { find: text } = words
const lists: readonly StockList[] = ['tubes', 'elbows', 'couplers', 'clamps', 'benders']

/** Openings and ports of the car: choosing one opens its numbers, which lights it in the drawing. */
export function measuredEntries(state: WindowState): Entry[] {
  const { openings = [], ports = [] } = bayOf(state) ?? {}
  const entry =
    (kind: 'opening' | 'port') =>
    ({ id, name }: { readonly id: string; readonly name: string }): Entry => ({
      id: `${kind} ${id}`,
      kind,
      label: name,
      detail: `${text.kind[kind]}, ${words.stage.measure}`,
      perform: ({ room }) => openMarked(room, kind, id),
    })
  return [...openings.map(entry('opening')), ...ports.map(entry('port'))]
}

/** What the part is fixed by, and to. */
export function fixedEntries(state: WindowState): Entry[] {
  const candidate = candidateIn(state)
  if (!candidate) return []
  const entry =
    (kind: 'mount' | 'fixing') =>
    ({ id, name }: { readonly id: string; readonly name: string }): Entry => ({
      id: `${kind} ${id}`,
      kind,
      label: name,
      detail: `${text.kind[kind]}, ${words.stage.seat}`,
      perform: ({ room }) => openMarked(room, kind, id),
    })
  return [...(candidate.mounts ?? []).map(entry('mount')), ...(bayOf(state)?.fixings ?? []).map(entry('fixing'))]
}

/** What the shop has: choosing one opens its lists. */
export function stockEntries(state: WindowState): Entry[] {
  const bay = bayOf(state)
  if (!bay) return []
  return lists.flatMap((list) =>
    stockItems(bay, list).map(({ id, name }) => ({
      id: `stock ${list} ${id}`,
      kind: 'stock' as const,
      label: name,
      detail: `${text.kind.stock}, ${candidateWords.stock.tabs[list]}`,
      perform: ({ room }) => room.aids.setState({ stocking: true }),
    })),
  )
}

/** Every step by name, the newest first: choosing one goes there, and the others stay. */
export function stepEntries({ history }: WindowState): Entry[] {
  if (!history) return []
  const done = history.past.length
  return stepLabels(history)
    .map((label, i): Entry => {
      const number = i + 1
      const where = number === done ? text.stepNow : number > done ? keepingWords.steps.undone : text.stepDone
      return {
        id: `step ${number}`,
        kind: 'step',
        label,
        detail: `${text.kind.step} ${number}, ${where}`,
        perform: ({ room }) => goToStep(room.store, number),
      }
    })
    .reverse()
}
