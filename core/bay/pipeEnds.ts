import { along, cross, dot, length, placed, sub, turned, unit } from '../shape/vec.ts'
import type { Pose, Vec3 } from '../shape/vec.ts'
import type { Bay, Candidate, Pipe } from './schema.ts'
import { portPoint, rootDepth, sides, stubDirection, tankFrame } from './tankPort.ts'

/** Where a pipe begins or ends, bay frame, mm. */
export interface PipeEnd {
  readonly at: Vec3
  /** Unit; the way the pipe leaves the port. */
  readonly direction: Vec3
  /** Part names and keep-out ids that the port belongs to: the pipe is exempt from them near it. */
  readonly joined: readonly string[]
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
        port: `tank-${side}:${port.id}`,
        tank: `tank-${side}`,
      }
    })
  })
}

/** The end of a pipe by the name of its port, or null where there is no such port (which reading a bay refuses). */
export function pipeEnd(name: string, bay: Bay, stubs: readonly Stub[]): PipeEnd | null {
  const stub = stubs.find((candidate) => candidate.port === name)
  if (stub) return { at: stub.to, direction: stub.direction, joined: [stub.tank, stub.name] }
  const port = bay.ports?.find((candidate) => candidate.id === name)
  return port
    ? { at: port.at, direction: unit(port.direction), joined: port.sitsOn === undefined ? [] : [port.sitsOn] }
    : null
}

/** Ends face each other when the straight between them leaves both within this angle. 0.1°: 1 mm in 570 mm, what a coupler takes up unnoticed. */
const inLineRad = (0.1 * Math.PI) / 180

/**
 * The points of a pipe, ends included, bay frame, or null where it is not routed: no corner points, and ends that do not
 * face each other in line.
 */
export function pipePoints(pipe: Pipe, from: PipeEnd, to: PipeEnd): Vec3[] | null {
  const straight = sub(to.at, from.at)
  if (pipe.path.length === 0 && !(leaves(straight, from.direction) && leaves(sub(from.at, to.at), to.direction)))
    return null
  return [from.at, ...pipe.path, to.at]
}

function leaves(way: Vec3, direction: Vec3): boolean {
  const forward = dot(way, direction)
  return forward > 0 && Math.atan2(length(cross(way, direction)), forward) <= inLineRad
}
