import type { Bay, Pipe } from '../../../core/bay/schema.ts'
import type { Vec3 } from '../../../core/shape/vec.ts'
import { newCorner } from '../editors/newCorner.ts'
import { type FieldPath, withEntry, withField } from '../state/edit.ts'
import { pipeIn, pipePath } from '../state/pipes.ts'
import { bayOf, candidateIn, doEdit, type WindowStore } from '../state/windowState.ts'
import { words } from '../words.ts'
import { pointsOf } from './run.ts'

/** How often a corner was taken up: all that is done to it then is one step back. */
let visits = 0
export const newVisit = (): number => ++visits

/** Puts a corner of the pipe that is looked at somewhere else. @returns whether the bay took it */
export function moveCorner(store: WindowStore, corner: number, to: Vec3, visit: number): boolean {
  const path = pipePath(store.getState())
  return edit(store, {
    name: 'move-corner',
    label: (pipe) => words.pipes.corners.moved(pipe, corner + 1),
    merge: `corner ${visit}`,
    apply: (bay) => withField(bay, [...path, 'path', corner], [...to]),
  })
}

/** Puts a new corner into the pipe that is looked at, half-way between its neighbours or at a place. */
export function addCorner(store: WindowStore, index: number, at?: Vec3, visit?: number): boolean {
  const state = store.getState()
  const [bay, candidate, pipe] = [bayOf(state), candidateIn(state), pipeIn(state)]
  const points = bay && candidate && pipe && pointsOf(bay, candidate, pipe)
  if (!points || !pipe) return false
  const path = pipePath(state)
  return edit(store, {
    name: 'add-corner',
    label: (name) => `${name}, ${words.field.addCorner}`,
    merge: visit === undefined ? undefined : `corner ${visit}`,
    apply: (whole) =>
      withElbows(
        withEntry(whole, [...path, 'path'], index, at ? [...at] : newCorner(points, index)),
        path,
        pipe,
        (n) => (n >= index ? n + 1 : n),
      ),
  })
}

export function removeCorner(store: WindowStore, index: number): boolean {
  const state = store.getState()
  const pipe = pipeIn(state)
  const path = pipePath(state)
  if (!pipe) return false
  return edit(store, {
    name: 'remove-corner',
    label: (name) => `${name}, ${words.field.remove(words.field.corner(index + 1))}`,
    apply: (whole) =>
      withElbows(withField(whole, [...path, 'path', index], undefined), path, pipe, (n) =>
        n === index ? null : n > index ? n - 1 : n,
      ),
  })
}

/** Elbows are named by the number of their corner: they go along when corners are counted anew. */
function withElbows(bay: Bay, path: FieldPath, pipe: Pipe, renumbered: (corner: number) => number | null): Bay {
  if (!pipe.elbows) return bay
  const elbows = pipe.elbows.flatMap((elbow) => {
    const corner = renumbered(elbow.corner)
    return corner === null ? [] : [{ ...elbow, corner }]
  })
  return withField(bay, [...path, 'elbows'], elbows.length > 0 ? elbows : undefined)
}

interface CornerEdit {
  readonly name: string
  readonly label: (pipe: string) => string
  readonly merge?: string
  readonly apply: (bay: Bay) => Bay
}

function edit(store: WindowStore, { label, merge, ...rest }: CornerEdit): boolean {
  const pipe = pipeIn(store.getState())
  if (!pipe) return false
  const of = words.part.pipeTitle(pipe.name)
  const done = doEdit(store, { ...rest, label: label(of), undo: merge === undefined ? 'step' : 'merge', merge })
  return done.ok
}
