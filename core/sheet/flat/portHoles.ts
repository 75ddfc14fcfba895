import type { Polytope } from '../../shape/form.ts'
import { vertexAt } from '../../shape/polytope.ts'
import { add, along, cross, dot, length, scale, squareTo, sub, unit, type Vec3 } from '../../shape/vec.ts'
import type { Flat } from '../drawing/view.ts'
import { type NetFace, normalOf, placeInNet } from './unfold.ts'

/** Where a stub's outside meets the plane of its face: a circle, or an ellipse where the stub leaves it askew. Bay frame, mm. */
export interface PortHole {
  readonly port: string
  readonly face: number
  readonly diameter: number
  readonly centre: Vec3
  /** Half the longer and the shorter axis, square to each other, in the face's plane. */
  readonly major: Vec3
  readonly minor: Vec3
  /** It lies within its face. If not, it reaches over a fold, and is to be marked from the stub itself. */
  readonly within: boolean
}

interface Stub {
  readonly port: string
  readonly face: number
  /** On the face. */
  readonly from: Vec3
  /** Unit; not along the face. */
  readonly direction: Vec3
  readonly radius: number
}

/** Error: rounding; a hole that touches its face's rim within 10⁻⁶ mm counts as within. */
export const portHoles = (body: Polytope, stubs: readonly Stub[]): PortHole[] =>
  stubs.map(({ port, face, from, direction, radius }) => {
    const normal = normalOf(body, face)
    const lean = along(direction, normal, -dot(direction, normal))
    const way = length(lean) > 1e-9 ? unit(lean) : squareTo(normal)[0]
    const hole = {
      port,
      face,
      diameter: 2 * radius,
      centre: from,
      major: scale(way, radius / Math.abs(dot(direction, normal))),
      minor: scale(cross(normal, way), radius),
    }
    return { ...hole, within: rim(hole).every((point) => onFace(body, face, point)) }
  })

const steps = 90
const rim = ({ centre, major, minor }: Pick<PortHole, 'centre' | 'major' | 'minor'>): Vec3[] =>
  Array.from({ length: steps }, (_, k) => {
    const a = (2 * Math.PI * k) / steps
    return add(centre, add(scale(major, Math.cos(a)), scale(minor, Math.sin(a))))
  })

function onFace(body: Polytope, face: number, point: Vec3): boolean {
  const loop = body.faces[face]
  const normal = normalOf(body, face)
  return loop.every((a, k) => {
    const [from, to] = [vertexAt(body, a), vertexAt(body, loop[(k + 1) % loop.length])]
    return dot(cross(normal, unit(sub(to, from))), sub(point, from)) >= -1e-6
  })
}

/** A hole as it lies in a net. */
export interface LaidHole {
  readonly hole: PortHole
  readonly centre: Flat
  /** From the centre, half the longer axis. */
  readonly major: Flat
  /** Shorter over longer axis. */
  readonly share: number
  /** Its rim. */
  readonly points: readonly Flat[]
}

export function laidHole(body: Polytope, face: NetFace, hole: PortHole): LaidHole {
  const centre = placeInNet(body, face, hole.centre)
  const tip = placeInNet(body, face, add(hole.centre, hole.major))
  return {
    hole,
    centre,
    major: [tip[0] - centre[0], tip[1] - centre[1]],
    share: length(hole.minor) / length(hole.major),
    points: rim(hole).map((point) => placeInNet(body, face, point)),
  }
}
