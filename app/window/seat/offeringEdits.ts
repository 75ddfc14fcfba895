import type { Bay, Candidate } from '../../../core/bay/schema.ts'
import type { SeatPath } from '../../../core/seat/answer.ts'
import { editedPath, endingAt, type GrippedMove, gripped } from '../../../core/seat/edited.ts'
import { withField } from '../state/edit.ts'
import { asOffering } from '../state/offering.ts'
import { candidateIn, candidateIndex, doEdit, type WindowStore } from '../state/windowState.ts'
import { words } from '../words.ts'

const { seat: text } = words
type Moves = readonly GrippedMove[]

/** The bay with the moves of a candidate's own way in changed; they end at the seat again. Without moves there is no way. */
export function withMoves(bay: Bay, index: number, change: (moves: Moves) => Moves): Bay {
  const candidate = bay.candidates[index]
  const { offering, at, turn } = candidate
  const path = editedPath({ at, turn }, offering ?? { start: { at, turn }, moves: [] }, change)
  return withField(bay, ['candidates', index, 'offering'], path.moves.length > 0 ? asOffering(path) : undefined)
}

/** The bay with one of the moves changed. */
export const withMove = (bay: Bay, index: number, n: number, change: (move: GrippedMove) => GrippedMove): Bay =>
  withMoves(bay, index, (moves) => moves.map((move, i) => (i === n ? change(move) : move)))

/** A new move lifts it by so much, mm: something to be changed, and to be seen. */
const newLift = 20
const newMove: GrippedMove = { shift: [0, 0, newLift], axis: [0, 1, 0], angle: 0, grip: [0, 0, 0] }

/** @param before number of the move that it comes before */
export const addMove = (store: WindowStore, before: number): boolean =>
  edit(store, 'add-move', text.moves.added, (moves) => [...moves.slice(0, before), newMove, ...moves.slice(before)])

export const removeMove = (store: WindowStore, n: number): boolean =>
  edit(store, 'remove-move', text.moves.removed, (moves) => moves.filter((_, i) => i !== n))

/** A move changes places with the one before. */
export const earlier = (store: WindowStore, n: number): boolean =>
  edit(store, 'reorder-moves', text.moves.reordered, (moves) =>
    moves.map((move, i) => (i === n - 1 ? moves[n] : i === n ? moves[n - 1] : move)),
  )

export const changeMove = (store: WindowStore, n: number, what: string, change: Partial<GrippedMove>): boolean =>
  edit(store, 'change-move', text.moves.changed(n + 1, what), (moves) =>
    moves.map((move, i) => (i === n ? { ...move, ...change } : move)),
  )

/** A way from below to begin with, long enough to be seen. */
export const beginWay = (store: WindowStore): boolean =>
  edit(store, 'begin-way', text.moves.begun, () => [{ ...newMove, shift: [0, 0, 400] }])

/** A found path becomes the candidate's own. */
export function adoptWay(store: WindowStore, path: SeatPath): void {
  put(store, 'adopt-way', text.ways.adopted, path)
}

/** The moves as they are, and so begun that they end at the seat. */
export function endAtSeat(store: WindowStore): void {
  const { offering, at, turn } = candidateIn(store.getState()) ?? {}
  if (offering && at && turn) put(store, 'end-at-seat', text.own.endedAtSeat, endingAt({ at, turn }, gripped(offering)))
}

function put(store: WindowStore, name: string, label: string, path: SeatPath): void {
  const index = candidateIndex(store.getState())
  if (index < 0) return
  const apply = (bay: Bay) => withField(bay, ['candidates', index, 'offering'], asOffering(path))
  if (doEdit(store, { name, label, undo: 'step', apply }).ok) store.setState({ way: 'own' })
}

function edit(store: WindowStore, name: string, label: string, change: (moves: Moves) => Moves): boolean {
  const index = candidateIndex(store.getState())
  if (index < 0) return false
  return doEdit(store, { name, label, undo: 'step', apply: (bay) => withMoves(bay, index, change) }).ok
}

/** Whether a candidate has these very moves for its own. */
export const isOwn = ({ offering }: Candidate, path: SeatPath): boolean =>
  offering !== undefined && JSON.stringify(asOffering(path)) === JSON.stringify(offering)
