import type { Fixing, Mount } from '../../../core/bay/mountSchema.ts'
import type { Bay } from '../../../core/bay/schema.ts'
import { squareTo, unit } from '../../../core/shape/vec.ts'
import { candidateWords as text } from '../candidateWords.ts'
import type { Added } from './candidateEdits.ts'
import { freshName, idFrom } from './freshNames.ts'
import { type AlsoGone, orNone, type Removal, withFields } from './removal.ts'

export type FixingKind = Fixing['kind']

/** A hole for which a bolt has to be brought. */
export const isOpenFixing = (kind: FixingKind): boolean => kind === 'hole' || kind === 'slot'

/** Sizes to begin with, mm. Common practice, no source. */
const firstDiameter: Record<FixingKind, number> = { hole: 9, stud: 8, thread: 8, slot: 9 }
/** Of a slot, in its widths. */
const slotWidths = 2

/** A fixing on the car. Where it is, is still to be measured: its uncertainty is the default one until a better is typed. */
export function addFixing(bay: Bay, kind: FixingKind, place: Pick<Fixing, 'at' | 'axis'>): Added {
  const fixings = bay.fixings ?? []
  const names = fixings.map(({ name }) => name)
  const name = freshName(names, text.fixing.fresh)
  const id = idFrom(
    name,
    fixings.map((each) => each.id),
    'fixing',
  )
  const fixing = ofKind({ id, name, kind: 'hole', ...place, diameter: firstDiameter[kind] }, kind)
  return { bay: { ...bay, fixings: [...fixings, fixing] }, id }
}

/** A slot says how long it is and which way it runs; nothing else does. */
function ofKind(fixing: Fixing, kind: FixingKind): Fixing {
  if (kind !== 'slot') return withFields(fixing, { kind, length: undefined, along: undefined })
  const [x, y, z] = squareTo(unit(fixing.axis))[0].map((part) => part + 0)
  return { ...fixing, kind, length: fixing.length ?? slotWidths * fixing.diameter, along: fixing.along ?? [x, y, z] }
}

/** Another kind of fixing; bolts of the mounts on it come or go with that. */
export function setFixingKind(bay: Bay, fixing: string, kind: FixingKind): Bay {
  const fixings = bay.fixings?.map((each) => (each.id === fixing ? ofKind(each, kind) : each))
  const diameter = bay.fixings?.find(({ id }) => id === fixing)?.diameter ?? 0
  const changed = (mount: Mount): Mount => {
    const { shape } = mount
    if (shape.kind === 'pin' || !shape.holes?.some((hole) => hole.fixing === fixing)) return mount
    const holes = shape.holes.map((hole) => {
      if (hole.fixing !== fixing) return hole
      const bolt = isOpenFixing(kind) ? (hole.bolt ?? Math.min(diameter, hole.diameter)) : undefined
      return withFields(hole, { bolt })
    })
    return { ...mount, shape: { ...shape, holes } }
  }
  return withMounts({ ...bay, fixings }, (mounts) => mounts.map(changed))
}

function withMounts(bay: Bay, change: (mounts: readonly Mount[]) => readonly Mount[]): Bay {
  const candidates = bay.candidates.map((candidate) =>
    candidate.mounts ? withFields(candidate, { mounts: orNone(change(candidate.mounts)) }) : candidate,
  )
  return { ...bay, candidates }
}

/** Without the fixing; holes on it go along, and mounts that are left without any. */
export function removeFixing(bay: Bay, fixing: string): Removal {
  const also: AlsoGone[] = []
  const several = bay.candidates.length > 1
  const without = bay.candidates.map((candidate) => {
    if (!candidate.mounts) return candidate
    const of = several ? { of: candidate.name } : {}
    const mounts = candidate.mounts.flatMap((mount): Mount[] => {
      const left = withoutFixing(mount, fixing)
      if (left === mount) return [mount]
      also.push({ kind: left ? 'hole' : 'mount', name: mount.name, ...of })
      return left ? [left] : []
    })
    return withFields(candidate, { mounts: orNone(mounts) })
  })
  const fixings = orNone((bay.fixings ?? []).filter(({ id }) => id !== fixing))
  return { bay: withFields({ ...bay, candidates: without }, { fixings }), also }
}

function withoutFixing(mount: Mount, fixing: string): Mount | null {
  const { shape } = mount
  if (shape.kind === 'pin') return shape.fixing === fixing ? null : mount
  const holes = (shape.holes ?? []).filter((hole) => hole.fixing !== fixing)
  if (holes.length === (shape.holes ?? []).length) return mount
  return holes.length > 0 ? { ...mount, shape: { ...shape, holes } } : null
}
