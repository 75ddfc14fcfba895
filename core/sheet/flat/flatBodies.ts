import { portHoles, type PortHole } from './portHoles.ts'
import { stubsOf } from '../../bay/pipeEnds.ts'
import type { Candidate, TankPort } from '../../bay/schema.ts'
import { faceNormal, type Side, sides, tankFrame } from '../../bay/tankPort.ts'
import type { Polytope } from '../../shape/form.ts'
import { dot, type Pose, scale, turned, turnMatrix, type Vec3 } from '../../shape/vec.ts'
import type { DrawnThing } from '../drawing/drawing.ts'
import { normalOf } from './unfold.ts'

/** Sides of the core, and those of a tank; `foot` is the one by which a tank sits on its core. */
export type FaceName = TankPort['face'] | 'left' | 'right' | 'foot'

/** Core or tank as a body that can be laid out flat, bay frame, mm. */
export interface FlatBody {
  /** `core`, `tank-left`, `tank-right` */
  readonly part: string
  readonly body: Polytope
  readonly names: ReadonlyMap<number, FaceName>
  /** The face that stays in place when it is unfolded: a tank's end, the core's front. */
  readonly root: number
  /** A tank's foot; null for the core. */
  readonly foot: number | null
  /** Where stubs go through. */
  readonly holes: readonly PortHole[]
}

/**
 * Core and tanks of a candidate, as they are drawn.
 * @param things of `drawnThings` of this candidate
 */
export function flatBodies(candidate: Candidate, things: readonly DrawnThing[]): FlatBody[] {
  const pose: Pose = { turn: turnMatrix(candidate.turn), at: candidate.at }
  const core = bodyOf(things, 'core')
  return [
    ...(core ? [coreBody(core, pose)] : []),
    ...sides.flatMap((side) => {
      const body = bodyOf(things, `tank-${side}`)
      return body ? [tankBody(candidate, side, body, pose)] : []
    }),
  ]
}

function bodyOf(things: readonly DrawnThing[], part: string): Polytope | null {
  const form = things.find(({ name, role }) => name === part && role === 'part')?.solid.forms[0]
  return form?.form === 'convex' && form.body.kind === 'polytope' ? form.body : null
}

const coreWays: Partial<Record<FaceName, Vec3>> = {
  front: [-1, 0, 0],
  rear: [1, 0, 0],
  left: [0, -1, 0],
  right: [0, 1, 0],
  below: [0, 0, -1],
  above: [0, 0, 1],
}

function coreBody(body: Polytope, pose: Pose): FlatBody {
  const names = namesOf(body, coreWays, pose)
  return { part: 'core', body, names, root: faceCalled(names, 'front'), foot: null, holes: [] }
}

function tankBody(candidate: Candidate, side: Side, body: Polytope, pose: Pose): FlatBody {
  const tank = candidate.tanks?.[side]
  if (!tank) throw new Error(`a solid of tank-${side} without a tank`)
  const frame = tankFrame(candidate.core, tank, side)
  const ways = Object.fromEntries(
    (['end', 'front', 'rear', 'below', 'above'] as const).map((face) => [face, faceNormal(face, frame)]),
  )
  const names = namesOf(body, { ...ways, foot: scale([0, frame.outward, 0], -1) }, pose)
  const stubs = stubsOf(candidate, pose)
  const ports = (tank.ports ?? []).flatMap((port) => {
    const stub = stubs.find(({ name }) => name === `stub-${side}-${port.id}`)
    return stub ? [{ ...stub, port: port.id, face: faceCalled(names, port.face) }] : []
  })
  return {
    part: `tank-${side}`,
    body,
    names,
    root: faceCalled(names, 'end'),
    foot: faceCalled(names, 'foot'),
    holes: portHoles(body, ports),
  }
}

/** Each face by the way that it looks, in the candidate's own frame. */
function namesOf(body: Polytope, ways: Partial<Record<FaceName, Vec3>>, pose: Pose): Map<number, FaceName> {
  const turnedWays = Object.entries(ways).map(([name, way]) => [name as FaceName, turned(pose.turn, way)] as const)
  return new Map(
    body.faces.map((_, face) => {
      const normal = normalOf(body, face)
      const [name] = turnedWays.reduce((best, each) => (dot(each[1], normal) > dot(best[1], normal) ? each : best))
      return [face, name]
    }),
  )
}

const faceCalled = (names: ReadonlyMap<number, FaceName>, name: FaceName): number =>
  [...names].find(([, each]) => each === name)?.[0] ?? 0
