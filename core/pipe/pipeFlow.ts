import type { PipeEnd } from '../bay/pipeEnds.ts'
import type { BendRun } from './bendTable.ts'
import { sameHose } from './couplerReasons.ts'
import { fluidOf } from './fluid.ts'
import type { JointedPipe } from './jointAsked.ts'
import { pipeLoss } from './loss.ts'
import type { LossEnd, PipeLoss } from './loss.ts'

/**
 * What is lost in a pipe by the bay's conditions, its couplers included.
 * @param jointed a routed pipe of a bay that passes `checkBay`
 * @param run     of its tube, elbows with their own radius
 * @returns null where the bay names no flow, or the pipe does not say which. A port's wall is not known: where its
 *   diameter is another than the pipe's, its bore is taken with the pipe's wall.
 * Error: see `pipeLoss`.
 */
export function flowLoss({ bay, pipe, from, to }: JointedPipe, run: Omit<BendRun, 'arcs'>): PipeLoss | null {
  const flow = bay.conditions?.flow
  if (!flow || !pipe.flow) return null
  const tube = bay.stock?.tubes?.find(({ id }) => id === pipe.tube)
  const { outsideDiameter, wall } = pipe
  return pipeLoss({
    outsideDiameter,
    wall,
    developed: Math.max(0, run.developed),
    bends: run.table.flatMap(({ radius, angle }, k) =>
      radius === undefined || angle === undefined ? [] : [{ radius, angle, point: run.corners[k] }],
    ),
    ends: [lossEnd('from', from, outsideDiameter, wall), lossEnd('to', to, outsideDiameter, wall)],
    roughness: tube?.roughness,
    fluid: fluidOf(flow, pipe.flow),
    massFlow: flow.massFlow,
    forward: runsForward(pipe.from, pipe.to, pipe.flow),
  })
}

/** Between the port and the pipe's tube. */
function lossEnd(end: 'from' | 'to', { joint, port }: PipeEnd, pipeDiameter: number, wall: number): LossEnd {
  const portBore = port.outsideDiameter - 2 * wall
  const other = Math.abs(port.outsideDiameter - pipeDiameter) > sameHose && portBore > 0 ? { portBore } : {}
  if (!joint) return { end, straight: 0, ...other }
  if (joint.coupler.form !== 'elbow') return { end, straight: joint.passed, ...other }
  const { angle, radius } = joint.coupler
  const arc = (radius * angle * Math.PI) / 180
  return { end, straight: Math.max(0, joint.passed - arc), bend: { radius, angle }, ...other }
}

/** To the cooler means to a tank's port; a pipe between two ports of the bay is taken as it is named. */
function runsForward(from: string, to: string, flow: 'to-cooler' | 'from-cooler'): boolean {
  const isTank = (name: string) => name.startsWith('tank-')
  return flow === 'to-cooler' ? !isTank(from) || isTank(to) : !isTank(to) || isTank(from)
}
