import { type PipeEnd, pipeEnd, type Stub, stubsOf } from '../bay/pipeEnds.ts'
import type { Bay, Candidate, Pipe } from '../bay/schema.ts'
import type { Joint } from '../bay/workshopSchema.ts'
import {
  add,
  along,
  cross,
  distance,
  dot,
  mix,
  scale,
  squareTo,
  sub,
  turned,
  turnedBack,
  turnMatrix,
} from '../shape/vec.ts'
import type { Vec3 } from '../shape/vec.ts'
import type { PipeEndName } from './answer.ts'

/**
 * The corners of pipes follow tank ports that moved, because the core changed size or the candidate was moved or turned.
 * The corner next to a port that moved goes along as if fixed to it: as far out on its axis as it was. All other corners
 * stay. A single corner between two ports goes where their axes meet, or come nearest to each other; with axes that run
 * side by side it is fixed to the port that moved. The end of a tube that a joint fixes (`joints.….end`) goes along too.
 * @param before the candidate as it was
 * @param after with its new size and place, and its pipes as they were
 * @returns `after` itself where nothing follows. Coordinates are rounded to 1e-6 mm: shifted or resized there and back, a
 *   path written to six decimals at most comes out as it was; with a turn between, within a few millionths.
 */
export function followPorts(bay: Bay, before: Candidate, after: Candidate): Candidate {
  const standing = [before, after].map((candidate): Standing => {
    const turn = turnMatrix(candidate.turn)
    return { stubs: stubsOf(candidate, { turn, at: candidate.at }), turn }
  })
  let changed = false
  const pipes = after.pipes?.map((pipe) => {
    const from = moveOf(pipe, 'from', bay, standing)
    const to = moveOf(pipe, 'to', bay, standing)
    if (!from || !to || !(from.moved || to.moved)) return pipe
    changed = true
    return followed(pipe, from, to)
  })
  return changed ? { ...after, pipes } : after
}

interface Standing {
  readonly stubs: readonly Stub[]
  readonly turn: ReturnType<typeof turnMatrix>
}

/** One end of a pipe before and after. */
interface Move {
  readonly moved: boolean
  readonly before: PipeEnd
  readonly after: PipeEnd
  /** The pipe's joint there, gone along. */
  readonly joint: Joint | undefined
  /** Where a point comes to lie that is fixed to the port. */
  readonly carry: (point: Vec3) => Vec3
}

/** Ports nearer than this did not move, mm; directions, as a share of a unit. */
const still = 1e-9

function moveOf(pipe: Pipe, end: PipeEndName, bay: Bay, [was, is]: readonly Standing[]): Move | null {
  const before = pipeEnd(pipe, end, bay, was.stubs)
  const port = pipeEnd(pipe, end, bay, is.stubs)?.port
  if (!before || !port) return null
  const onTank = was.stubs.some((stub) => stub.port === pipe[end])
  const turn = (v: Vec3): Vec3 => (onTank ? turned(is.turn, turnedBack(was.turn, v)) : v)
  // The port may have been turned on its tank besides.
  const onward = turnBetween(turn(before.port.direction), port.direction)
  const carry = (point: Vec3) => tidy(add(port.at, onward(turn(sub(point, before.port.at)))))
  const joint = pipe.joints?.[end]
  const gone =
    joint?.kind === 'coupler' && joint.end ? { ...joint, end: [...carry(joint.end)] as typeof joint.end } : joint
  const after = pipeEnd({ ...pipe, joints: { ...pipe.joints, [end]: gone } }, end, bay, is.stubs)
  if (!after) return null
  const shift = distance(before.port.at, port.at)
  const moved = shift > still || distance(before.port.direction, port.direction) > still
  return { moved, before, after, joint: gone, carry }
}

/** The least turn that takes one unit vector to another. */
function turnBetween(from: Vec3, to: Vec3): (v: Vec3) => Vec3 {
  const [axis, cosine] = [cross(from, to), dot(from, to)]
  if (cosine < -1 + 1e-9) {
    const [across] = squareTo(from)
    return (v) => sub(scale(across, 2 * dot(v, across)), v)
  }
  return (v) => {
    const once = cross(axis, v)
    return add(add(v, once), scale(cross(axis, once), 1 / (1 + cosine)))
  }
}

function followed(pipe: Pipe, from: Move, to: Move): Pipe {
  const joints = {
    ...pipe.joints,
    ...(from.joint && { from: from.joint }),
    ...(to.joint && { to: to.joint }),
  }
  return {
    ...pipe,
    path: pathOf(pipe.path, from, to).map((p) => [...p] as Pipe['path'][number]),
    ...(pipe.joints && { joints }),
  }
}

function pathOf(path: readonly Vec3[], from: Move, to: Move): readonly Vec3[] {
  if (path.length === 1) return [single(path[0], from, to)]
  return path.map((point, k) => {
    if (k === 0 && from.moved) return from.carry(point)
    return k === path.length - 1 && to.moved ? to.carry(point) : point
  })
}

/** What it lay beside the meeting of the axes it keeps, so that going back brings it back. */
function single(point: Vec3, from: Move, to: Move): Vec3 {
  const before = meeting(from.before, to.before)
  const after = meeting(from.after, to.after)
  if (before && after) return tidy(add(after, sub(point, before)))
  return (from.moved ? from : to).carry(point)
}

/** Axes nearer to side by side than this have no meeting to speak of: sine of about 3°. */
const leastSine = 0.05

/** The point nearest to the axes of two ends; null where they run side by side. */
function meeting(one: PipeEnd, other: PipeEnd): Vec3 | null {
  const between = sub(other.at, one.at)
  const cosine = dot(one.direction, other.direction)
  const sine2 = 1 - cosine * cosine
  if (sine2 < leastSine * leastSine) return null
  const [a, b] = [dot(one.direction, between), dot(other.direction, between)]
  const onOne = along(one.at, one.direction, (a - cosine * b) / sine2)
  const onOther = along(other.at, other.direction, (cosine * a - b) / sine2)
  return mix(onOne, onOther, 0.5)
}

/** Six decimals of a millimetre: no dust of arithmetic in the file. */
const tidy = (point: Vec3): Vec3 => point.map((x) => Math.round(x * 1e6) / 1e6 + 0) as unknown as Vec3
