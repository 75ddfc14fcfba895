import { along, cross, dot, length, placed, sub, turned, unit } from '../shape/vec.ts'
import type { Pose, Vec3 } from '../shape/vec.ts'
import { exemptDiameters } from './defaults.ts'
import { jointAt } from './joints.ts'
import type { PortPlace, ResolvedJoint } from './joints.ts'
import type { Bay, Candidate, Pipe } from './schema.ts'
import type { Bead } from './workshopSchema.ts'
import { portPoint, rootDepth, sides, stubDirection, tankFrame } from './tankPort.ts'

/** Where a pipe begins or ends, bay frame, mm. */
export interface PipeEnd {
  /** Beginning of the pipe's tube: beyond the coupler's open length, or at the port where there is no coupler. */
  readonly at: Vec3
  /** Unit; the way the pipe leaves there. */
  readonly direction: Vec3
  /** Part names and keep-out ids that the port belongs to: the pipe is exempt from them near it. */
  readonly joined: readonly string[]
  /** Length of the pipe's centreline that is still exempt from them: 1.5 outside diameters less what lies between port and pipe. */
  readonly exempt: number
  /** How far the port moves with the engine, in any direction; 0 on a tank. */
  readonly movement: number
  readonly port: PortPlace
  /** Straight length behind `port.at` that a hose can be pushed over, mm; that of a stub, or what the port of the bay names. */
  readonly spigot: number | null
  readonly bead: Bead | null
  /** null for a weld, or where no joint is named. */
  readonly joint: ResolvedJoint | null
}

/** A straight stub, bay frame: from the tank's face along its direction. */
export interface Stub {
  readonly name: string
  /** Its point on the face. */
  readonly from: Vec3
  /** Where its cylinder begins: at `from`, or behind it where the face is not square to the stub. */
  readonly root: Vec3
  readonly to: Vec3
  readonly direction: Vec3
  readonly radius: number
  /** From the face's point to its end. */
  readonly length: number
  readonly bead: Bead | null
  /** `tank-left:PORT`, as pipes name it. */
  readonly port: string
  readonly tank: string
}

/** The stubs of a candidate; they follow their tanks when the core changes size. */
export function stubsOf(candidate: Candidate, pose: Pose): Stub[] {
  return sides.flatMap((side) => {
    const tank = candidate.tanks?.[side]
    if (!tank) return []
    const frame = tankFrame(candidate.core, tank, side)
    return (tank.ports ?? []).map((port) => {
      const from = placed(pose, portPoint(port, frame))
      const direction = turned(pose.turn, stubDirection(port, side))
      return {
        name: `stub-${side}-${port.id}`,
        from,
        root: along(from, direction, -rootDepth(port, side, frame)),
        to: along(from, direction, port.length),
        direction,
        radius: port.outsideDiameter / 2,
        length: port.length,
        bead: port.bead ?? null,
        port: `tank-${side}:${port.id}`,
        tank: `tank-${side}`,
      }
    })
  })
}

/**
 * One end of a pipe.
 * @param pipe its port, its joint there and its outside diameter count, not its path
 * @param stubs of its candidate, see `stubsOf`
 * @returns null where there is no such port, or where the joint's coupler or clamps are not in stock (which reading a bay refuses)
 */
export function pipeEnd(
  pipe: Pick<Pipe, 'from' | 'to' | 'outsideDiameter' | 'joints'>,
  end: 'from' | 'to',
  bay: Pick<Bay, 'ports' | 'stock'>,
  stubs: readonly Stub[],
): PipeEnd | null {
  const place = portPlace(pipe[end], bay, stubs)
  if (!place) return null
  const given = pipe.joints?.[end]
  const joint = given?.kind === 'coupler' ? jointAt(place.port, given, pipe.outsideDiameter, bay.stock) : null
  if (given?.kind === 'coupler' && !joint) return null
  return {
    ...place,
    at: joint?.end ?? place.port.at,
    direction: joint?.outlet.direction ?? place.port.direction,
    exempt: Math.max(0, exemptDiameters * pipe.outsideDiameter - (joint?.passed ?? 0)),
    joint,
  }
}

type PortOfCarOrTank = Pick<PipeEnd, 'port' | 'joined' | 'movement' | 'spigot' | 'bead'>

function portPlace(name: string, bay: Pick<Bay, 'ports'>, stubs: readonly Stub[]): PortOfCarOrTank | null {
  const stub = stubs.find((candidate) => candidate.port === name)
  if (stub)
    return {
      port: { at: stub.to, direction: stub.direction, outsideDiameter: 2 * stub.radius },
      joined: [stub.tank, stub.name],
      movement: 0,
      spigot: stub.length,
      bead: stub.bead,
    }
  const port = bay.ports?.find((candidate) => candidate.id === name)
  return port
    ? {
        port: { at: port.at, direction: unit(port.direction), outsideDiameter: port.outsideDiameter },
        joined: port.sitsOn === undefined ? [] : [port.sitsOn],
        movement: port.movement ?? 0,
        spigot: port.spigot ?? null,
        bead: port.bead ?? null,
      }
    : null
}

/** Ends face each other when the straight between them leaves both within this angle. 0.1°: 1 mm in 570 mm, what a coupler takes up unnoticed. */
const inLineRad = (0.1 * Math.PI) / 180

/**
 * The points of a pipe, ends of its tube included, bay frame, or null where it is not routed: no corner points, and ends
 * that do not face each other in line.
 */
export function pipePoints(
  pipe: Pick<Pipe, 'path'>,
  from: Pick<PipeEnd, 'at' | 'direction'>,
  to: Pick<PipeEnd, 'at' | 'direction'>,
): Vec3[] | null {
  const straight = sub(to.at, from.at)
  if (pipe.path.length === 0 && !(leaves(straight, from.direction) && leaves(sub(from.at, to.at), to.direction)))
    return null
  return [from.at, ...pipe.path, to.at]
}

function leaves(way: Vec3, direction: Vec3): boolean {
  const forward = dot(way, direction)
  return forward > 0 && Math.atan2(length(cross(way, direction)), forward) <= inLineRad
}
