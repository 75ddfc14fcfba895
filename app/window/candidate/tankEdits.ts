import type { Bay, Candidate, Tank, TankPort } from '../../../core/bay/schema.ts'
import { type Side, sides, stubDirection } from '../../../core/bay/tankPort.ts'
import { withCandidate } from './candidateEdits.ts'
import { freshId } from './freshNames.ts'
import { orNone, type Removal, withFields } from './removal.ts'

/** A tank to begin with, mm. Common practice, no source. */
const firstTank: Tank = { length: 60, front: 0, rear: 0, below: 0, above: 0 }
/** Of a new stub, where the bay names no other, mm. Common practice, no source. */
const firstDiameter = 57
const firstStub = 40

/** A tank on a side that has none: as large as the other one, without its ports. */
export const addTank = (bay: Bay, index: number, side: Side): Bay =>
  withCandidate(bay, index, (candidate) => {
    if (candidate.tanks?.[side]) return candidate
    const other = candidate.tanks?.[side === 'left' ? 'right' : 'left']
    const tank = other ? withFields(other, { ports: undefined }) : firstTank
    return { ...candidate, tanks: { ...candidate.tanks, [side]: tank } }
  })

/** Without the tank; the pipes that end on it and the mounts that sit on it go along. */
export function removeTank(bay: Bay, index: number, side: Side): Removal {
  const candidate = bay.candidates[index]
  const part = `tank-${side}`
  const lostPipes = (candidate.pipes ?? []).filter((pipe) => endsOn(pipe, (name) => name.startsWith(`${part}:`)))
  const lostMounts = (candidate.mounts ?? []).filter(({ on }) => on.part === part)
  const { [side]: _, ...others } = candidate.tanks ?? {}
  return {
    bay: withCandidate(bay, index, (before) =>
      withFields(before, {
        tanks: Object.keys(others).length > 0 ? others : undefined,
        pipes: orNone((before.pipes ?? []).filter((pipe) => !lostPipes.includes(pipe))),
        mounts: orNone((before.mounts ?? []).filter((mount) => !lostMounts.includes(mount))),
      }),
    ),
    also: [
      ...lostPipes.map(({ name }) => ({ kind: 'pipe' as const, name })),
      ...lostMounts.map(({ name }) => ({ kind: 'mount' as const, name })),
    ],
  }
}

const endsOn = ({ from, to }: { from: string; to: string }, is: (port: string) => boolean): boolean =>
  is(from) || is(to)

/** As pipes name it. */
export const tankPortName = (side: Side, port: string): string => `tank-${side}:${port}`

const withTank = (candidate: Candidate, side: Side, change: (tank: Tank) => Tank): Candidate => {
  const tank = candidate.tanks?.[side]
  return tank ? { ...candidate, tanks: { ...candidate.tanks, [side]: change(tank) } } : candidate
}

/** A stub on the tank's end, of the diameter that the car's ports have; the next ones on the faces that are still free. */
export function addTankPort(bay: Bay, index: number, side: Side): Bay {
  return withCandidate(bay, index, (candidate) =>
    withTank(candidate, side, (tank) => {
      const ports = tank.ports ?? []
      const faces = ['end', 'rear', 'below', 'front', 'above'] as const
      const used = portsUsed(bay, candidate)
      const model = bay.ports?.find(({ id }) => !used.includes(id)) ?? bay.ports?.[0]
      const port: TankPort = {
        id: freshId(
          ports.map(({ id }) => id),
          'port',
        ),
        face: faces.find((face) => !ports.some((each) => each.face === face)) ?? 'end',
        u: 0,
        v: 0,
        outsideDiameter: model?.outsideDiameter ?? bay.stock?.tubes?.[0]?.outsideDiameter ?? firstDiameter,
        length: firstStub,
      }
      return { ...tank, ports: [...ports, port] }
    }),
  )
}

/** Ports of the bay that other stubs are meant for already: as many as there are stubs, in the order of the bay. */
function portsUsed(bay: Bay, { tanks }: Candidate): string[] {
  const stubs = sides.reduce((sum, side) => sum + (tanks?.[side]?.ports?.length ?? 0), 0)
  return (bay.ports ?? []).slice(0, stubs).map(({ id }) => id)
}

/** Of its depth and height, what a tapered tank keeps at its end to begin with. Common practice, no source. */
const firstTaper = 0.8

/** A tank that narrows towards its end, or does not. */
export const setTaper = (bay: Bay, index: number, side: Side, on: boolean): Bay =>
  withCandidate(bay, index, (candidate) =>
    withTank(candidate, side, (tank) =>
      withFields(tank, { taper: on ? { depth: firstTaper, height: firstTaper } : undefined }),
    ),
  )

/** A stub that leaves in a direction of its own, to begin with the one that it had; or straight out of its face. */
export const setOwnDirection = (bay: Bay, index: number, side: Side, nth: number, on: boolean): Bay =>
  withCandidate(bay, index, (candidate) =>
    withTank(candidate, side, (tank) => ({
      ...tank,
      ports: tank.ports?.map((port, i) => {
        if (i !== nth) return port
        const [x, y, z] = stubDirection(port, side).map((part) => part + 0)
        return withFields(port, { direction: on ? [x, y, z] : undefined })
      }),
    })),
  )

/** Without the stub; the pipes that end there go along. */
export function removeTankPort(bay: Bay, index: number, side: Side, port: string): Removal {
  const candidate = bay.candidates[index]
  const lost = (candidate.pipes ?? []).filter((pipe) => endsOn(pipe, (name) => name === tankPortName(side, port)))
  return {
    bay: withCandidate(bay, index, (before) =>
      withFields(
        withTank(before, side, (tank) =>
          withFields(tank, { ports: orNone((tank.ports ?? []).filter(({ id }) => id !== port)) }),
        ),
        { pipes: orNone((before.pipes ?? []).filter((pipe) => !lost.includes(pipe))) },
      ),
    ),
    also: lost.map(({ name }) => ({ kind: 'pipe', name })),
  }
}

/** The stub under another name, in the pipes that end there as well. */
export function renameTankPort(bay: Bay, index: number, side: Side, port: string, id: string): Bay {
  if (port === id) return bay
  const [before, after] = [tankPortName(side, port), tankPortName(side, id)]
  const named = (end: string) => (end === before ? after : end)
  return withCandidate(bay, index, (candidate) => {
    const renamed = withTank(candidate, side, (tank) => ({
      ...tank,
      ports: (tank.ports ?? []).map((each) => (each.id === port ? { ...each, id } : each)),
    }))
    if (!candidate.pipes) return renamed
    return {
      ...renamed,
      pipes: candidate.pipes.map((pipe) => ({ ...pipe, from: named(pipe.from), to: named(pipe.to) })),
    }
  })
}
