import { centrelineLength, roundCorners, trimCentreline } from '../shape/centreline.ts'
import type { Piece } from '../shape/form.ts'
import { solidFrom } from '../shape/solid.ts'
import type { Pose } from '../shape/vec.ts'
import { askedByPipe, exemptDiameters } from './defaults.ts'
import type { Exemption, Part } from './part.ts'
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

/** The pipes of a candidate as round sweeps from stub end or port to stub end or port. */
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
    const from = pipeEnd(pipe.from, bay, stubs)
    const to = pipeEnd(pipe.to, bay, stubs)
    if (!from || !to) {
      const [end, got] = from ? ['to', pipe.to] : ['from', pipe.from]
      troubles.push({ code: 'unknown-port', path: [...path, end], expected: 'a port', got })
      continue
    }
    const points = pipePoints(pipe, from, to)
    if (!points) {
      unrouted.push(pipe.id)
      continue
    }
    const { bendRadius, outsideDiameter } = pipe
    const fieldOf = (point: number) => fieldOfPoint(point, points.length)
    const centreline = workshop.make('centreline', [points, bendRadius, outsideDiameter], () =>
      roundCorners(points, bendRadius, { radius: outsideDiameter / 2, fieldOf }),
    )
    if (centreline.ok) parts.push(pipePart(pipe, centreline.value, from, to, pose, workshop))
    else troubles.push(...centreline.faults.map((fault) => troubleOf(fault, path)))
  }
  return { parts, unrouted, troubles }
}

/** The ends come from the ports, so the file's `path[0]` is the second point. */
const fieldOfPoint = (point: number, count: number): string =>
  point === 0 ? 'from' : point === count - 1 ? 'to' : `path[${point - 1}]`

function pipePart(
  pipe: Pipe,
  centreline: readonly Piece[],
  from: PipeEnd,
  to: PipeEnd,
  pose: Pose,
  workshop: Workshop,
): Part {
  const radius = pipe.outsideDiameter / 2
  const sweep = (pieces: readonly Piece[]) =>
    workshop.make('sweep', [pieces, radius], () => solidFrom([{ form: 'round', centreline: pieces, radius }]))
  const asked = askedByPipe(pipe)
  return {
    name: `pipe-${pipe.id}`,
    kind: 'pipe',
    solid: sweep(centreline),
    tolerance: pipe.tolerance ?? 0,
    pose,
    pipe: {
      id: pipe.id,
      outsideDiameter: pipe.outsideDiameter,
      clearance: asked.clearance,
      clearanceAssumed: asked.assumed,
      centreline,
      exemptions: exemptionsOf(pipe, centreline, from, to, sweep),
    },
  }
}

/** For everything that one of the pipe's ports belongs to: what is left of the pipe beyond 1.5 outside diameters from there. */
function exemptionsOf(
  pipe: Pipe,
  centreline: readonly Piece[],
  from: PipeEnd,
  to: PipeEnd,
  sweep: (pieces: readonly Piece[]) => Exemption['rest'],
): Map<string, Exemption> {
  const whole = centrelineLength(centreline)
  const exempt = Math.min(exemptDiameters * pipe.outsideDiameter, whole)
  const exemptions = new Map<string, Exemption>()
  for (const other of new Set([...from.joined, ...to.joined])) {
    const start = from.joined.includes(other) ? exempt : 0
    const end = to.joined.includes(other) ? whole - exempt : whole
    const left = start < end ? trimCentreline(centreline, start, end) : []
    const lengths = [from, to].flatMap(({ joined }) => (joined.includes(other) ? [exempt] : []))
    exemptions.set(other, { lengths, rest: left.length > 0 ? sweep(left) : null })
  }
  return exemptions
}
