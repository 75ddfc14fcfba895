import { centrelineLength, roundCorners, trimCentreline } from '../shape/centreline.ts'
import type { Piece } from '../shape/form.ts'
import { solidFrom } from '../shape/solid.ts'
import type { Pose, Vec3 } from '../shape/vec.ts'
import { askedByPipe } from './defaults.ts'
import { jointParts } from './jointParts.ts'
import type { RunAsks } from './jointParts.ts'
import type { Exemption, Part, PipePart } from './part.ts'
import { pipeEnd, pipePoints } from './pipeEnds.ts'
import type { PipeEnd, Stub } from './pipeEnds.ts'
import type { Bay, Candidate, Pipe } from './schema.ts'
import { troubleOf } from './shapeTroubles.ts'
import type { Trouble } from './trouble.ts'
import type { Workshop } from './workshop.ts'

export interface PipeParts {
  readonly parts: readonly Part[]
  /** Ids of pipes that are not routed. */
  readonly unrouted: readonly string[]
  /** With paths from the candidate on. */
  readonly troubles: readonly Trouble[]
}

/**
 * The pipes of a candidate as round sweeps from coupler (stub end, port) to coupler, each followed by its couplers and
 * clamps; those stand there for a pipe that is not routed, too.
 *
 * A port that moves with the engine may carry pipe, couplers and clamps along, anywhere between its own movement and that
 * of the other end: all of them add the larger movement of the two ports to their tolerance, which is the safe side.
 */
export function pipeParts(
  bay: Bay,
  candidate: Candidate,
  stubs: readonly Stub[],
  pose: Pose,
  workshop: Workshop,
): PipeParts {
  const parts: Part[] = []
  const unrouted: string[] = []
  const troubles: Trouble[] = []
  for (const [index, pipe] of (candidate.pipes ?? []).entries()) {
    const path = ['pipes', index]
    const [from, to] = [pipeEnd(pipe, 'from', bay, stubs), pipeEnd(pipe, 'to', bay, stubs)]
    if (!from || !to) {
      troubles.push(missingEnd(pipe, from ? 'to' : 'from', bay, stubs, path))
      continue
    }
    const asks = asksOf(pipe, from, to)
    const points = pipePoints(pipe, from, to)
    if (points) {
      const centreline = centrelineOf(pipe, points, bay, workshop)
      if (centreline.ok) parts.push(pipePart(pipe, centreline.value, from, to, asks, pose, workshop))
      else troubles.push(...centreline.faults.map((fault) => troubleOf(fault, path)))
    } else unrouted.push(pipe.id)
    parts.push(
      ...jointParts(pipe, 'from', from, points?.[1] ?? null, asks, pose, workshop),
      ...jointParts(pipe, 'to', to, points?.[points.length - 2] ?? null, asks, pose, workshop),
    )
  }
  return { parts, unrouted, troubles }
}

/** Reading a bay refuses both, but an edit may come before that. */
function missingEnd(pipe: Pipe, end: 'from' | 'to', bay: Bay, stubs: readonly Stub[], path: Trouble['path']): Trouble {
  const bare = pipeEnd({ ...pipe, joints: {} }, end, bay, stubs)
  return bare
    ? { code: 'unknown-stock', path: [...path, 'joints', end], expected: 'a coupler and clamps that are in stock' }
    : { code: 'unknown-port', path: [...path, end], expected: 'a port', got: pipe[end] }
}

function asksOf(pipe: Pipe, from: PipeEnd, to: PipeEnd): RunAsks {
  const { clearance, assumed } = askedByPipe(pipe)
  return { clearance, clearanceAssumed: assumed, movement: Math.max(from.movement, to.movement) }
}

/** Corners made by a stock elbow have its radius, all others the pipe's bend radius. */
function centrelineOf(pipe: Pipe, points: readonly Vec3[], bay: Bay, workshop: Workshop) {
  const { bendRadius, outsideDiameter, elbows = [] } = pipe
  const radii = elbows.flatMap(({ corner, elbow }): [number, number][] => {
    const stock = bay.stock?.elbows?.find(({ id }) => id === elbow)
    return stock ? [[corner, stock.radius]] : []
  })
  const ofElbows = new Map(radii)
  const radius = radii.length === 0 ? bendRadius : (corner: number) => ofElbows.get(corner) ?? bendRadius
  const fieldOf = (point: number) => fieldOfPoint(point, points.length)
  return workshop.make('centreline', [points, bendRadius, outsideDiameter, ...radii], () =>
    roundCorners(points, radius, { radius: outsideDiameter / 2, fieldOf }),
  )
}

/** The ends come from the ports, so the file's `path[0]` is the second point. */
const fieldOfPoint = (point: number, count: number): string =>
  point === 0 ? 'from' : point === count - 1 ? 'to' : `path[${point - 1}]`

function pipePart(
  pipe: Pipe,
  centreline: readonly Piece[],
  from: PipeEnd,
  to: PipeEnd,
  asks: RunAsks,
  pose: Pose,
  workshop: Workshop,
): Part {
  const radius = pipe.outsideDiameter / 2
  const sweep = (pieces: readonly Piece[]) =>
    workshop.make('sweep', [pieces, radius], () => solidFrom([{ form: 'round', centreline: pieces, radius }]))
  const run: PipePart = {
    ...asks,
    id: pipe.id,
    outsideDiameter: pipe.outsideDiameter,
    carried: false,
    centreline,
    exemptions: exemptionsOf(centreline, from, to, sweep),
  }
  return {
    name: `pipe-${pipe.id}`,
    kind: 'pipe',
    solid: sweep(centreline),
    tolerance: (pipe.tolerance ?? 0) + asks.movement,
    pose,
    pipe: run,
    run,
  }
}

/** For everything that one of the pipe's ports belongs to: what is left of the pipe beyond 1.5 outside diameters from there. */
function exemptionsOf(
  centreline: readonly Piece[],
  from: PipeEnd,
  to: PipeEnd,
  sweep: (pieces: readonly Piece[]) => Exemption['rest'],
): Map<string, Exemption> {
  const whole = centrelineLength(centreline)
  const exemptions = new Map<string, Exemption>()
  for (const other of new Set([...from.joined, ...to.joined])) {
    const atEnd = ({ joined, exempt }: PipeEnd) => (joined.includes(other) ? Math.min(exempt, whole) : 0)
    const [start, end] = [atEnd(from), whole - atEnd(to)]
    const lengths = [from, to].flatMap((each) => (each.joined.includes(other) ? [atEnd(each)] : []))
    const left = start < end ? trimCentreline(centreline, start, end) : []
    exemptions.set(other, { lengths, rest: left.length > 0 ? sweep(left) : null })
  }
  return exemptions
}
