import {
  freshKeepOut,
  freshOpening,
  freshPort,
  freshShape,
  placeForNew,
  type TypedKind,
} from '../../../core/bay/freshKeepOut.ts'
import type { Vec3 } from '../../../core/shape/vec.ts'
import { withEntry } from '../state/edit.ts'
import { bayOf, candidateIn, doEdit } from '../state/windowState.ts'
import type { Workroom } from '../state/workroom.ts'
import { words } from '../words.ts'

export const typedKinds: readonly TypedKind[] = ['box', 'cylinder', 'hull', 'halfSpace', 'sweep', 'tube']

function newPlace({ store, scene }: Workroom): Vec3 {
  const state = store.getState()
  const bay = bayOf(state)
  return bay ? placeForNew(bay, candidateIn(state), scene.getState().bounds) : [0, 0, 0]
}

/** A keep-out of a kind, with sizes to begin from, beside what is looked at. */
export function addOfKind(room: Workroom, kind: TypedKind): void {
  const at = newPlace(room)
  room.measure.add((bay) => freshKeepOut(bay, freshShape(kind, bay.units, at), words.measure.add.of[kind]))
}

export function addPort(room: Workroom): void {
  const bay = bayOf(room.store.getState())
  if (!bay) return
  const port = freshPort(bay, words.measure.port.new, newPlace(room))
  const done = doEdit(room.store, {
    name: 'add-port',
    label: words.measure.added(port.name),
    undo: 'step',
    apply: (whole) => withEntry(whole, ['ports'], whole.ports?.length ?? 0, port),
  })
  if (done.ok) room.measure.store.setState({ open: `port ${port.id}`, fresh: `port ${port.id}` })
}

export function addOpening(room: Workroom): void {
  const bay = bayOf(room.store.getState())
  if (!bay) return
  const opening = freshOpening(bay, words.measure.opening.new, newPlace(room))
  const done = doEdit(room.store, {
    name: 'add-opening',
    label: words.measure.added(opening.name),
    undo: 'step',
    apply: (whole) => withEntry(whole, ['openings'], whole.openings?.length ?? 0, opening),
  })
  if (done.ok) room.measure.store.setState({ open: `opening ${opening.id}`, fresh: `opening ${opening.id}` })
}
