import { fixingBehind } from '../../../core/bay/mountOver.ts'
import type { Fixing, Mount, MountHole, MountPlace, MountShape } from '../../../core/bay/mountSchema.ts'
import type { Bay, Candidate } from '../../../core/bay/schema.ts'
import { candidateWords as text } from '../candidateWords.ts'
import { type Added, withCandidate } from './candidateEdits.ts'
import { addFixing, isOpenFixing } from './fixingEdits.ts'
import { freshName, idFrom } from './freshNames.ts'
import { orNone, withFields } from './removal.ts'

export type MountKind = MountShape['kind']

/** Sizes to begin with, mm. Common practice, no source. */
const firstHole = 11
const firstPin = { diameter: 8, length: 20 }
const firstPlate = { size: [40, 40] as [number, number], thickness: 4 }
const firstBlock: [number, number, number] = [40, 40, 20]

/**
 * A bracket or pin in the middle of a face. It goes onto the fixing that is named, or onto a new one that is laid behind its
 * hole, to be put where it is measured.
 */
export function addMount(bay: Bay, index: number, kind: MountKind, on: MountPlace, fixing?: string): Added {
  const mounts = bay.candidates[index].mounts ?? []
  const names = mounts.map(({ name }) => name)
  const name = freshName(names, (n) => text.mount.fresh(kind, n))
  const id = idFrom(
    name,
    mounts.map((each) => each.id),
    'mount',
  )
  const candidate = bay.candidates[index]
  const draft: Mount = { id, name, on, shape: shapeOf(kind, 'none') }
  const behind = fixingBehind(candidate, draft) ?? { at: candidate.at, axis: [0, 0, 1] as [number, number, number] }
  const made = fixing === undefined ? addFixing(bay, kind === 'pin' ? 'hole' : 'thread', behind) : { bay, id: fixing }
  const mount = { ...draft, shape: shapeOf(kind, made.id, fixingIn(made.bay, made.id)) }
  return {
    bay: withCandidate(made.bay, index, (before) => ({ ...before, mounts: [...mounts, mount] })),
    id,
  }
}

const fixingIn = (bay: Bay, id: string): Fixing | undefined => bay.fixings?.find((each) => each.id === id)

function shapeOf(kind: MountKind, id: string, fixing?: Fixing): MountShape {
  if (kind === 'pin') return { kind, ...firstPin, fixing: id }
  const holes = [onto({ diameter: firstHole, fixing: id }, fixing)]
  return kind === 'plate' ? { kind, ...firstPlate, holes } : { kind, size: firstBlock, holes }
}

/** The hole on its fixing: through a hole of the car goes a bolt, a stud or thread brings its own. */
export function onto(hole: MountHole, fixing: Fixing | undefined): MountHole {
  if (!fixing) return hole
  if (!isOpenFixing(fixing.kind)) return withFields(hole, { fixing: fixing.id, bolt: undefined })
  return { ...hole, fixing: fixing.id, bolt: hole.bolt ?? Math.min(fixing.diameter, hole.diameter) }
}

export const withMount = (bay: Bay, index: number, mount: string, change: (mount: Mount) => Mount): Bay =>
  withCandidate(bay, index, (candidate) => ({
    ...candidate,
    mounts: candidate.mounts?.map((each) => (each.id === mount ? change(each) : each)),
  }))

export const removeMount = (bay: Bay, index: number, mount: string): Bay =>
  withCandidate(bay, index, (candidate) =>
    withFields(candidate, { mounts: orNone((candidate.mounts ?? []).filter(({ id }) => id !== mount)) }),
  )

/** Another kind of mount on the same fixing, with the sizes that both have. */
export function setMountKind(bay: Bay, index: number, mount: string, kind: MountKind): Bay {
  return withMount(bay, index, mount, (before) => {
    const { shape } = before
    if (shape.kind === kind) return before
    const fixing = shape.kind === 'pin' ? shape.fixing : shape.holes?.[0]?.fixing
    const fresh = shapeOf(kind, fixing ?? '', fixing === undefined ? undefined : fixingIn(bay, fixing))
    if (fresh.kind === 'pin' || shape.kind === 'pin') return { ...before, shape: fresh }
    const holes = shape.holes ?? fresh.holes
    const turn = shape.turn === undefined ? {} : { turn: shape.turn }
    const [a, b] = shape.size
    if (fresh.kind === 'plate') return { ...before, shape: { ...fresh, size: [a, b], ...turn, holes } }
    return { ...before, shape: { ...fresh, size: [a, b, firstBlock[2]], ...turn, holes } }
  })
}

export const coreFaces = ['front', 'rear', 'below', 'above', 'left', 'right'] as const
export const tankFaces = ['end', 'front', 'rear', 'below', 'above'] as const

/** Another part or face to sit on; the face stays where the other part has such a one. */
export function placeOn(on: MountPlace, part: MountPlace['part'], face: string): MountPlace {
  const { u, v } = on
  if (part === 'core') return { part, face: coreFaces.find((each) => each === face) ?? 'rear', u, v }
  return { part, face: tankFaces.find((each) => each === face) ?? 'end', u, v }
}

export const partsToSitOn = ({ tanks }: Candidate): MountPlace['part'][] => [
  'core',
  ...(tanks?.left ? (['tank-left'] as const) : []),
  ...(tanks?.right ? (['tank-right'] as const) : []),
]

/**
 * One more hole, its middle a diameter from the edge on the other side of the last one; the first in the middle. It goes onto a
 * fixing that the mount is not on yet; where the car has none at all, onto a new one behind it.
 */
export function addHole(bay: Bay, index: number, mount: string): Bay {
  const candidate = bay.candidates[index]
  const before = candidate?.mounts?.find(({ id }) => id === mount)
  if (!before || before.shape.kind === 'pin') return bay
  const { shape } = before
  const holes = shape.holes ?? []
  const last = holes.at(-1)
  const diameter = last?.diameter ?? firstHole
  const apart = Math.max(0, shape.size[0] / 2 - diameter)
  const out = (last?.at?.[0] ?? 0) > 0 ? 0 - apart : apart
  const at: [number, number] = last ? [out, 0] : [0, 0]
  const fixings = bay.fixings ?? []
  const free = fixings.find(({ id }) => !holes.some(({ fixing }) => fixing === id)) ?? fixings.at(0)
  const behind = fixingBehind(candidate, { ...before, shape: { ...shape, holes: [{ diameter, fixing: '' }] } })
  if (!free && !behind) return bay
  const made = free || !behind ? { bay, id: free?.id ?? '' } : addFixing(bay, 'thread', behind)
  const hole = onto({ diameter, fixing: made.id, at }, fixingIn(made.bay, made.id))
  return withMount(made.bay, index, mount, (each) => ({ ...each, shape: { ...shape, holes: [...holes, hole] } }))
}

/** Without one of several holes; a mount keeps its last one, and what that goes onto. */
export const removeHole = (bay: Bay, index: number, mount: string, hole: number): Bay =>
  withMount(bay, index, mount, (before) => {
    const { shape } = before
    if (shape.kind === 'pin' || (shape.holes ?? []).length < 2) return before
    return { ...before, shape: { ...shape, holes: shape.holes?.filter((_, i) => i !== hole) } }
  })

/** A hole on another fixing, or the pin in it. */
export const setMountFixing = (bay: Bay, index: number, mount: string, hole: number, fixing: string): Bay =>
  withMount(bay, index, mount, (before) => {
    const { shape } = before
    if (shape.kind === 'pin') return { ...before, shape: { ...shape, fixing } }
    const holes = shape.holes?.map((each, i) => (i === hole ? onto(each, fixingIn(bay, fixing)) : each))
    return { ...before, shape: { ...shape, holes } }
  })
