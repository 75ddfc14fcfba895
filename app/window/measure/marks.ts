import { portMark } from '../../../core/bay/portMark.ts'
import type { Bay, Candidate } from '../../../core/bay/schema.ts'
import { add, mix, scale, type Vec3 } from '../../../core/shape/vec.ts'
import type { DrawnSolid } from '../../worker/protocol.ts'
import type { MarkKind } from '../state/openPart.ts'
import type { Stage } from '../state/windowState.ts'

/** Something with a mark in the drawing, bay frame, mm. */
export interface Mark {
  readonly kind: MarkKind
  readonly id: string
  readonly name: string
  /** Where it is taken hold of. */
  readonly at: Vec3
  /** Drawn around it; a mount is drawn as a solid already. */
  readonly ring: readonly Vec3[]
  readonly arrow: readonly [Vec3, Vec3] | null
}

/**
 * What is marked in a stage: openings and ports while the bay is measured, mounts and fixings while the candidate is
 * sized and offered up.
 * @param parts as they are drawn; a mount that is not among them has no mark
 */
export function marksIn(
  stage: Stage,
  bay: Pick<Bay, 'openings' | 'ports' | 'fixings'>,
  candidate: Pick<Candidate, 'mounts'> | null,
  parts: readonly Pick<DrawnSolid, 'key' | 'bounds'>[],
): readonly Mark[] {
  if (stage === 'measure') return [...openingMarks(bay), ...portMarks(bay)]
  return stage === 'core' || stage === 'seat' ? [...mountMarks(candidate, parts), ...fixingMarks(bay)] : []
}

const openingMarks = ({ openings = [] }: Pick<Bay, 'openings'>): Mark[] =>
  openings.map(({ id, name, outline, x }) => {
    const ring = outline.map(([y, z]): Vec3 => [x, y, z])
    const at = scale(
      ring.reduce((sum, corner) => add(sum, corner)),
      1 / ring.length,
    )
    return { kind: 'opening', id, name, at, ring, arrow: null }
  })

const portMarks = ({ ports = [] }: Pick<Bay, 'ports'>): Mark[] =>
  ports.map((port) => {
    const { ring, arrow } = portMark(port)
    return { kind: 'port', id: port.id, name: port.name, at: arrow[1], ring, arrow }
  })

const fixingMarks = ({ fixings = [] }: Pick<Bay, 'fixings'>): Mark[] =>
  fixings.map(({ id, name, at, axis, diameter }) => {
    const { ring, arrow } = portMark({ at, direction: axis, outsideDiameter: diameter })
    return { kind: 'fixing', id, name, at, ring, arrow }
  })

function mountMarks(candidate: Pick<Candidate, 'mounts'> | null, parts: Parameters<typeof marksIn>[3]): Mark[] {
  return (candidate?.mounts ?? []).flatMap(({ id, name }): Mark[] => {
    const bounds = parts.find(({ key }) => key === `mount-${id}`)?.bounds
    return bounds ? [{ kind: 'mount', id, name, at: mix(bounds.min, bounds.max, 0.5), ring: [], arrow: null }] : []
  })
}
