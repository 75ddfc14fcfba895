import type { Part } from '../../bay/part.ts'
import type { Bay, Candidate } from '../../bay/schema.ts'
import type { StockElbow } from '../../bay/workshopSchema.ts'
import type { BendsAnswer, PipeBends } from '../../pipe/answer.ts'
import { carriedFrom } from '../../seat/move.ts'
import type { MountsJudged } from '../../seat/mountsJudged.ts'
import { solidVolume } from '../../shape/measure.ts'
import { movedSolid } from '../../shape/moved.ts'
import { identity, sub, type Vec3 } from '../../shape/vec.ts'
import { densityOf } from './density.ts'
import type { PartFact, Range } from './sheetFacts.ts'

/**
 * The parts list of a candidate: body, mounts and pipes one by one, stock and fasteners counted.
 *
 * Volumes are of the solids as they are drawn, outside. Of pipes and elbows the material is known: by Pappus and Guldin,
 * cross-section × length of the centreline. Core, tanks and stubs have no wall or weight in a bay, and none is guessed.
 * A bolt or nut stands for each hole over its fixing: both for a hole or slot, a nut on a stud, a bolt in a thread.
 */
export function partList(
  bay: Bay,
  candidate: Candidate,
  parts: readonly Part[],
  bends: BendsAnswer,
  mounts: MountsJudged,
): PartFact[] {
  return [
    ...parts.filter(({ kind }) => kind !== 'coupler' && kind !== 'clamp').map((part) => drawn(part, candidate, bends)),
    ...elbows(bay, bends),
    ...stocked(bay, candidate),
    ...fasteners(bay, mounts),
  ]
}

const plain = { name: null, count: 1, size: null, volume: null, metal: null, material: null, density: null, mass: null }
const bare = { ...plain, diameter: null } satisfies Omit<PartFact, 'part' | 'kind'>

function drawn(part: Part, candidate: Candidate, bends: BendsAnswer): PartFact {
  const { name, kind, solid, mount, run } = part
  const fact = {
    ...bare,
    part: name,
    kind: kind as PartFact['kind'],
    size: sizeIn(part),
    volume: solid.forms.length === 1 ? solidVolume(solid) : null,
  }
  if (mount) return { ...fact, name: candidate.mounts?.find(({ id }) => id === mount.id)?.name ?? null }
  const pipe = run && bends.pipes.find(({ id }) => id === run.id)
  return pipe ? { ...fact, ...tubeOf(pipe), name: pipe.name } : fact
}

/** Overall along the candidate's own axes. */
function sizeIn({ solid, pose }: Part): Vec3 {
  const { min, max } = movedSolid(solid, carriedFrom(pose, { turn: identity, at: [0, 0, 0] })).bounds
  return sub(max, min)
}

type Metal = Pick<PartFact, 'metal' | 'material' | 'density' | 'mass'>

function tubeOf({ tubes, outsideDiameter, wall, material }: PipeBends): Metal {
  if (tubes.length === 0) return { metal: null, material, density: null, mass: null }
  const long = tubes.reduce((sum, { developed }) => sum + developed, 0)
  return metalOf(material, ringArea(outsideDiameter, wall), { atLeast: long, atMost: long })
}

/** Cross-section of a tube, mm². */
function ringArea(outside: number, wall: number): number {
  const inside = Math.max(0, outside - 2 * wall)
  return (Math.PI * (outside * outside - inside * inside)) / 4
}

/** @param long mm along the centreline */
function metalOf(material: string | null, area: number, long: Range): Metal {
  const density = material === null ? null : densityOf(material)
  const exact = long.atLeast === long.atMost
  return {
    metal: exact ? area * long.atLeast : null,
    material,
    density,
    mass: density && {
      atLeast: area * long.atLeast * density.atLeast * 1e-9,
      atMost: area * long.atMost * density.atMost * 1e-9,
    },
  }
}

/** Elbows of one stock item that turn by the same angle are one line. */
function elbows({ stock }: Bay, { pipes }: BendsAnswer): PartFact[] {
  const lines = new Map<string, PartFact>()
  for (const { elbow: id, angle, cutDown } of pipes.flatMap(({ elbows: own }) => own)) {
    const elbow = stock?.elbows?.find((each) => each.id === id)
    if (!elbow) continue
    const key = `${id} ${angle.toFixed(3)} ${cutDown}`
    const known = lines.get(key)
    lines.set(key, known ? { ...known, count: known.count + 1 } : elbowFact(elbow, angle, cutDown))
  }
  return [...lines.values()]
}

/** How much of the legs of one that is cut down stays is not said in the bay. */
function elbowFact(elbow: StockElbow, angle: number, cutDown: boolean): PartFact {
  const { id, name, material, outsideDiameter, wall, radius, legs } = elbow
  const arc = (radius * angle * Math.PI) / 180
  const whole = arc + legs[0] + legs[1]
  const metal = metalOf(material, ringArea(outsideDiameter, wall), { atLeast: cutDown ? arc : whole, atMost: whole })
  return { ...bare, ...metal, part: id, kind: 'elbow', name }
}

function stocked({ stock }: Bay, { pipes = [] }: Candidate): PartFact[] {
  const joints = pipes.flatMap(({ joints: own }) =>
    [own?.from, own?.to].flatMap((joint) => (joint?.kind === 'coupler' ? joint : [])),
  )
  const couplers = joints.map(({ coupler }) => coupler)
  const clamps = joints.flatMap(({ clamps: on }) => [on?.port?.clamp ?? [], on?.pipe?.clamp ?? []].flat())
  const line = (kind: 'coupler' | 'clamp', id: string, count: number): PartFact => {
    const list = kind === 'coupler' ? stock?.couplers : stock?.clamps
    return { ...bare, part: id, kind, name: list?.find((each) => each.id === id)?.name ?? null, count }
  }
  return [
    ...counted(couplers).map(([id, count]) => line('coupler', id, count)),
    ...counted(clamps).map(([id, count]) => line('clamp', id, count)),
  ]
}

function fasteners({ fixings = [] }: Bay, { mounts }: MountsJudged): PartFact[] {
  const wanted = mounts.flatMap(({ joints }) =>
    joints.flatMap(({ fixing: id, hole, fastener }) => {
      const kind = fixings.find((fixing) => fixing.id === id)?.kind
      if (hole === null || kind === undefined) return []
      return [...(kind === 'stud' ? [] : [`bolt-${fastener}`]), ...(kind === 'thread' ? [] : [`nut-${fastener}`])]
    }),
  )
  return counted(wanted).map(([part, count]) => {
    const [kind, diameter] = part.split('-')
    return { ...bare, part, kind: kind as 'bolt' | 'nut', count, diameter: Number(diameter) }
  })
}

/** In the order in which they first come. */
function counted(names: readonly string[]): [string, number][] {
  const counts = new Map<string, number>()
  for (const name of names) counts.set(name, (counts.get(name) ?? 0) + 1)
  return [...counts]
}
