import { good } from '../fault.ts'
import type { Outcome } from '../fault.ts'
import type { Cylinder, Polytope } from '../shape/form.ts'
import { boxPolytope } from '../shape/polytope.ts'
import { solidFrom } from '../shape/solid.ts'
import { along, placed, product } from '../shape/vec.ts'
import type { Mat3, Pose } from '../shape/vec.ts'
import { boxAxes, mountBox, mountFrame, pinRoot, sideOf } from './mountFrame.ts'
import type { MountFrame } from './mountFrame.ts'
import type { Mount, MountPlace } from './mountSchema.ts'
import type { Exemption, MountPart, Part } from './part.ts'
import type { Bay, Candidate } from './schema.ts'
import { troubleOf } from './shapeTroubles.ts'
import type { Trouble } from './trouble.ts'
import type { Workshop } from './workshop.ts'

export interface MountParts {
  readonly parts: readonly Part[]
  /** With paths from the candidate on. */
  readonly troubles: readonly Trouble[]
}

/**
 * Brackets and pins as solids, bay frame, mm. They turn with the candidate. Holes are not cut out, and what lies between a
 * plate that stands off and its face is filled: both are the safe side.
 * Tolerance: their own, and that of the part they sit on, whose face carries them.
 * They are not held against the keep-outs that their fixings are part of.
 */
export function mountParts(bay: Bay, candidate: Candidate, pose: Pose, workshop: Workshop): MountParts {
  const parts: Part[] = []
  const troubles: Trouble[] = []
  for (const [index, mount] of (candidate.mounts ?? []).entries()) {
    const path = ['mounts', index]
    const frame = mountFrame(candidate, mount.on)
    if (!frame) {
      troubles.push({ code: 'unknown-part', path: [...path, 'on', 'part'], expected: 'a part', got: mount.on.part })
      continue
    }
    const made = workshop.make('mount', [mount.shape, frame, candidate.at, candidate.turn], () => {
      const body = mountBody(mount, frame, pose)
      return body.ok ? good(solidFrom([{ form: 'convex', body: body.value }])) : body
    })
    if (!made.ok) {
      troubles.push(...made.faults.map((fault) => troubleOf({ ...fault, field: undefined }, [...path, 'shape'])))
      continue
    }
    const tolerance = mountTolerance(candidate, mount)
    parts.push({
      name: `mount-${mount.id}`,
      kind: 'mount',
      solid: made.value,
      tolerance,
      pose,
      mount: partOf(bay, mount),
    })
  }
  return { parts, troubles }
}

/** What a mount may be off its place, mm: its own tolerance, and that of the part whose face it sits on. */
export const mountTolerance = (candidate: Pick<Candidate, 'core' | 'tanks'>, mount: Mount): number =>
  (mount.tolerance ?? 0) + carrierTolerance(candidate, mount.on)

export const carrierTolerance = ({ core, tanks }: Pick<Candidate, 'core' | 'tanks'>, { part }: MountPlace): number =>
  (part === 'core' ? core.tolerance : tanks?.[sideOf(part)]?.tolerance) ?? 0

/** A mount as one convex body where the candidate stands in a pose. */
export function mountBody(mount: Mount, frame: MountFrame, pose: Pose): Outcome<Polytope | Cylinder> {
  const { shape } = mount
  if (shape.kind === 'pin') {
    const from = placed(pose, along(frame.at, frame.out, -pinRoot(shape.diameter, frame)))
    const to = placed(pose, along(frame.at, frame.out, shape.length))
    return good({ kind: 'cylinder', from, to, radius: shape.diameter / 2 })
  }
  const box = mountBox(shape, frame)
  const [a, b, c] = boxAxes(box, frame)
  const own: Mat3 = [a[0], b[0], c[0], a[1], b[1], c[1], a[2], b[2], c[2]]
  const middle = along(frame.at, frame.out, (box.from + box.to) / 2)
  return boxPolytope(placed(pose, middle), [...box.size, box.to - box.from], product(pose.turn, own))
}

/** Ids of the fixings that a mount goes onto, each once. */
export const fixingIds = ({ shape }: Mount): string[] => [
  ...new Set(shape.kind === 'pin' ? [shape.fixing ?? []].flat() : (shape.holes ?? []).map(({ fixing }) => fixing)),
]

/** Keep-outs that the fixings of a mount are part of: it is not held against them. */
export const mountRests = (bay: Pick<Bay, 'fixings'>, mount: Mount): string[] => [
  ...new Set(fixingIds(mount).flatMap((id) => bay.fixings?.find((fixing) => fixing.id === id)?.sitsOn ?? [])),
]

const whole: Exemption = { lengths: [], rest: null }

const partOf = (bay: Bay, mount: Mount): MountPart => ({
  id: mount.id,
  on: mount.on.part,
  fitting: mount.fitting ?? 'with-part',
  exemptions: new Map(mountRests(bay, mount).map((id) => [id, whole])),
})
