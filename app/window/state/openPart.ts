import { pipeOfPart } from '../ledger/names.ts'
import { candidateIn, type WindowStore } from './windowState.ts'

/** Goes to where a part's numbers are: pipes and what joins them have a stage of their own. */
export function openPart(store: WindowStore, part: string): void {
  const pipe = pipeOfPart(candidateIn(store.getState()), part)
  if (pipe) store.setState({ stage: 'pipes', pipe: pipe.id, reason: null, corner: null, openItem: null })
  else store.setState({ stage: 'core', openItem: { side: 'part', key: part } })
}
