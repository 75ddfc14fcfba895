import type { PipeEnd } from '../bay/pipeEnds.ts'
import type { Bay, Candidate, Pipe } from '../bay/schema.ts'
import { sides } from '../bay/tankPort.ts'
import type { Bead, Joint } from '../bay/workshopSchema.ts'
import { cross, dot, length, sub, unit } from '../shape/vec.ts'
import type { Vec3 } from '../shape/vec.ts'
import type { PipeEndName } from './answer.ts'

/** A pipe with where it goes: what its joints are judged by. Lengths mm, bay frame. */
export interface JointedPipe {
  readonly bay: Bay
  readonly candidate: Candidate
  readonly pipe: Pipe
  readonly from: PipeEnd
  readonly to: PipeEnd
  /** Of the tube, both ends among them. */
  readonly points: readonly Vec3[]
  /** Of its bend table; null where its corners cannot be rounded. */
  readonly straights: readonly number[] | null
}

/** One end of a pipe, with all that its joint is judged by. Lengths mm, angles degrees. */
export interface JointAsked {
  readonly end: PipeEndName
  readonly port: string
  readonly joint: Joint | undefined
  readonly place: PipeEnd
  readonly pipeDiameter: number
  /** Between the way that the pipe runs on and the way that port or coupler leaves it. */
  readonly angle: number
  /** How far the port moves in any direction. */
  readonly movement: number
  /** How much the pipe may lean more, since either port moves: see `leanOf`. */
  readonly lean: number
  /** How far the other port moves, where a coupler there may pass it on. */
  readonly passedOn: number
  /** Straight that the pipe's tube begins with there; null where it cannot be rounded. */
  readonly straight: number | null
  /** Straight length of the port that a coupler can be pushed over; null where the bay does not say. */
  readonly spigot: number | null
  readonly beads: { readonly port: Bead | undefined; readonly pipe: Bead | undefined }
}

/** Both ends of a pipe. */
export function jointsAsked(jointed: JointedPipe): readonly [JointAsked, JointAsked] {
  return [asked(jointed, 'from'), asked(jointed, 'to')]
}

function asked(jointed: JointedPipe, end: PipeEndName): JointAsked {
  const { bay, candidate, pipe, points, straights } = jointed
  const [place, other] = end === 'from' ? [jointed.from, jointed.to] : [jointed.to, jointed.from]
  const inOrder = end === 'from' ? points : points.toReversed()
  const joint = pipe.joints?.[end]
  const port = portOf(pipe[end], bay, candidate)
  return {
    end,
    port: pipe[end],
    joint,
    place,
    pipeDiameter: pipe.outsideDiameter,
    angle: angleBetween(sub(inOrder[1], inOrder[0]), place.direction),
    movement: place.movement,
    lean: leanOf(jointed),
    passedOn: other.joint ? other.movement : 0,
    straight: straights && endStraight(straights, end, other),
    spigot: port.spigot,
    beads: { port: port.bead, pipe: joint?.kind === 'coupler' ? joint.bead : undefined },
  }
}

/** Of a pipe without bends the hose at the other end takes its share. */
function endStraight(straights: readonly number[], end: PipeEndName, other: PipeEnd): number {
  if (straights.length === 1) return straights[0] - Math.max(0, other.joint?.insertion.pipe ?? 0)
  return end === 'from' ? straights[0] : straights[straights.length - 1]
}

/**
 * How much a pipe between two couplers may lean when its ports move, degrees: by both movements at once, square to the
 * line between its ends, which is the safe side. A pipe that one end holds fast does not lean.
 */
function leanOf({ from, to, points }: JointedPipe): number {
  const moved = from.movement + to.movement
  if (!from.joint || !to.joint || moved === 0) return 0
  const apart = length(sub(points[points.length - 1], points[0]))
  return (Math.atan2(moved, apart) * 180) / Math.PI
}

/** Exact for small angles too, which the cosine alone is not. */
function angleBetween(a: Vec3, b: Vec3): number {
  const [u, v] = [unit(a), unit(b)]
  return (Math.atan2(length(cross(u, v)), dot(u, v)) * 180) / Math.PI
}

/** A stub is as long as a hose can be pushed over it. */
function portOf(name: string, bay: Bay, candidate: Candidate): { spigot: number | null; bead: Bead | undefined } {
  for (const side of sides)
    for (const port of candidate.tanks?.[side]?.ports ?? [])
      if (name === `tank-${side}:${port.id}`) return { spigot: port.length, bead: port.bead }
  const port = bay.ports?.find(({ id }) => id === name)
  return { spigot: port?.spigot ?? null, bead: port?.bead }
}
