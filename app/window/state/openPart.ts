import { pipeOfPart } from '../ledger/names.ts'
import { candidateIn } from './windowState.ts'
import type { Workroom } from './workroom.ts'

type Room = Pick<Workroom, 'store' | 'measure'>

/** What has a mark in the drawing and a row in a list, beside keep-outs and parts. */
export type MarkKind = 'opening' | 'port' | 'mount' | 'fixing'

const stageOf = { opening: 'measure', port: 'measure', mount: 'seat', fixing: 'seat' } as const

/** Goes to where the numbers of something marked are, and opens them. */
export function openMarked({ store, measure }: Room, kind: MarkKind, id: string): void {
  store.setState({ stage: stageOf[kind], openItem: null, lit: [] })
  measure.store.setState({ open: `${kind} ${id}`, pointed: null })
}

/** Goes to where a part's numbers are: pipes and what joins them have a stage of their own, mounts stand with the seat. */
export function openPart(room: Room, part: string): void {
  const candidate = candidateIn(room.store.getState())
  const pipe = pipeOfPart(candidate, part)
  const mount = candidate?.mounts?.find(({ id }) => part === `mount-${id}`)
  if (pipe) room.store.setState({ stage: 'pipes', pipe: pipe.id, reason: null, corner: null, openItem: null })
  else if (mount) openMarked(room, 'mount', mount.id)
  else room.store.setState({ stage: 'core', openItem: { side: 'part', key: part } })
}
