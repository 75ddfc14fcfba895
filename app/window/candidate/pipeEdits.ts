import type { Bay, Candidate, Pipe } from '../../../core/bay/schema.ts'
import { sides } from '../../../core/bay/tankPort.ts'
import { candidateWords as text } from '../candidateWords.ts'
import { type Added, withCandidate } from './candidateEdits.ts'
import { freshName, idFrom } from './freshNames.ts'
import { orNone, withFields } from './removal.ts'
import { tankPortName } from './tankEdits.ts'

type End = 'from' | 'to'

/** Everything that a pipe can begin or end on, as pipes name it: the car's ports first. */
export const pipeEndsIn = ({ ports = [] }: Bay, { tanks }: Candidate): string[] => [
  ...ports.map(({ id }) => id),
  ...sides.flatMap((side) => (tanks?.[side]?.ports ?? []).map(({ id }) => tankPortName(side, id))),
]

/** Where a new pipe would go: from the first end that no pipe is on yet to the first on the other hand, car or tank. */
export function freeEnds(bay: Bay, candidate: Candidate): readonly [from: string, to: string] | null {
  const taken = (candidate.pipes ?? []).flatMap(({ from, to }) => [from, to])
  const all = pipeEndsIn(bay, candidate)
  const free = [...all.filter((name) => !taken.includes(name)), ...all.filter((name) => taken.includes(name))]
  const [from] = free
  const isOfTank = (name: string) => name.includes(':')
  const to =
    free.find((name) => name !== from && isOfTank(name) !== isOfTank(from)) ?? free.find((name) => name !== from)
  return from === undefined || to === undefined ? null : [from, to]
}

const diameterOf = (bay: Bay, { tanks }: Candidate, end: string): number | undefined => {
  const own = bay.ports?.find(({ id }) => id === end)
  if (own) return own.outsideDiameter
  for (const side of sides)
    for (const port of tanks?.[side]?.ports ?? []) if (tankPortName(side, port.id) === end) return port.outsideDiameter
  return undefined
}

/** Where nothing tells it, mm. Common practice, no source. */
const firstDiameter = 57
const firstWall = 1.5

/**
 * A pipe without corners: of the first stock tube of its port's diameter and on the smallest die that there is for it, else
 * with a wall of 1.5 mm and bent to its own diameter. It counts as not routed until it has a way.
 */
export function addPipe(bay: Bay, index: number, from: string, to: string): Added {
  const candidate = bay.candidates[index]
  const pipes = candidate.pipes ?? []
  const diameter = diameterOf(bay, candidate, from) ?? diameterOf(bay, candidate, to) ?? firstDiameter
  const tube = bay.stock?.tubes?.find(({ outsideDiameter }) => outsideDiameter === diameter)
  const radii = bay.benders?.[0]?.tools.find(({ outsideDiameter }) => outsideDiameter === diameter)?.radii
  const names = pipes.map(({ name }) => name)
  const name = freshName(names, text.pipe.fresh)
  const pipe: Pipe = {
    id: idFrom(
      name,
      pipes.map(({ id }) => id),
      'pipe',
    ),
    name,
    from,
    to,
    outsideDiameter: diameter,
    wall: tube?.wall ?? Math.min(firstWall, diameter / 8),
    bendRadius: radii ? Math.min(...radii) : diameter,
    path: [],
    ...(tube && { tube: tube.id }),
  }
  return { bay: withCandidate(bay, index, (before) => ({ ...before, pipes: [...pipes, pipe] })), id: pipe.id }
}

export const removePipe = (bay: Bay, index: number, pipe: string): Bay =>
  withCandidate(bay, index, (candidate) =>
    withFields(candidate, { pipes: orNone((candidate.pipes ?? []).filter(({ id }) => id !== pipe)) }),
  )

export const withPipe = (bay: Bay, index: number, pipe: string, change: (pipe: Pipe) => Pipe): Bay =>
  withCandidate(bay, index, (candidate) => ({
    ...candidate,
    pipes: candidate.pipes?.map((each) => (each.id === pipe ? change(each) : each)),
  }))

/** One end of a pipe at another port. What was placed by hand for the joint at the former one goes; the rest of it stays. */
export const setPipeEnd = (bay: Bay, index: number, pipe: string, end: End, port: string): Bay =>
  withPipe(bay, index, pipe, (before) => {
    const joint = before.joints?.[end]
    const moved = { ...before, [end]: port }
    if (joint?.kind !== 'coupler' || joint.end === undefined) return moved
    return { ...moved, joints: { ...before.joints, [end]: withFields(joint, { end: undefined }) } }
  })

/** The elbow that makes a corner, or none: the corner is bent. */
export const setElbow = (bay: Bay, index: number, pipe: string, corner: number, elbow: string | undefined): Bay =>
  withPipe(bay, index, pipe, (before) => {
    const others = (before.elbows ?? []).filter((each) => each.corner !== corner)
    const elbows = elbow === undefined ? others : [...others, { corner, elbow }].sort((a, b) => a.corner - b.corner)
    return withFields(before, { elbows: orNone(elbows) })
  })
