import type { Bay, Port } from '../../core/bay/schema.ts'
import type { Meshes } from '../../core/bay/part.ts'
import { clearance } from '../../core/clearance/clearance.ts'
import type { RouteObstacle } from '../../core/pipe/route/problem.ts'
import { routeProblem } from '../../core/pipe/route/setUp.ts'
import { solidFrom } from '../../core/shape/solid.ts'
import { along, distance, type Vec3 } from '../../core/shape/vec.ts'
import { type Random, seeded } from './random.ts'

export interface PortPair {
  readonly seed: number
  readonly bay: Bay
  readonly candidate: string
  readonly pipe: string
}

/** How far apart ports are at least, and the straight before each that stands clear, mm. */
const apart = 350
const straight = 80
const spare = 4

/**
 * One pipe between two random ports in the bay, both where a straight piece of it clears, looking along an axis each. Whether
 * there is a route between them is not known.
 * @param bend radius that it is bent on, mm; one of the bender's for its diameter
 */
export function portPair(bay: Bay, meshes: Meshes, seed: number, bend: number): PortPair {
  const [candidate] = bay.candidates
  const [{ outsideDiameter, wall }] = candidate.pipes ?? []
  const random = seeded(seed)
  const bayWith = (ports: Port[]): Bay => {
    const pipe = { id: 'run', name: 'Run', from: 'a', to: 'b', outsideDiameter, wall, bendRadius: bend, path: [] }
    return { ...bay, ports: [...(bay.ports ?? []), ...ports], candidates: [{ ...candidate, pipes: [pipe] }] }
  }
  const far = bayWith([port('a', [-5000, 0, 0], 0, 1), port('b', [5000, 0, 0], 0, -1)])
  const problem = routeProblem(far, candidate.id, 'run', meshes)
  if (!problem.ok) throw new Error(JSON.stringify(problem.faults))
  const { obstacles, radius } = problem.value
  for (;;) {
    const [a, b] = [anyPort('a', random, obstacles, radius), anyPort('b', random, obstacles, radius)]
    if (distance(a.at, b.at) >= apart) return { seed, bay: bayWith([a, b]), candidate: candidate.id, pipe: 'run' }
  }
}

/** Behind the bumper, within the outline of the example bay. */
const room = { min: [-180, -800, -60], max: [400, 800, 600] } as const

function anyPort(id: string, random: Random, obstacles: readonly RouteObstacle[], radius: number): Port {
  for (;;) {
    const [x, y, z] = [0, 1, 2].map((k) => random.real(room.min[k], room.max[k]))
    const found = port(id, [x, y, z], random.int(3), random.chance(0.5) ? -1 : 1)
    const stands = { form: 'round', centreline: [pieceBefore(found)], radius } as const
    const solid = solidFrom([stands])
    const clears = ({ solid: other, need }: RouteObstacle) =>
      clearance(solid, other, { upTo: need + spare, depth: false }).atLeast >= need + spare
    if (obstacles.every(clears)) return found
  }
}

const pieceBefore = ({ at, direction }: Port) =>
  ({ kind: 'straight', from: at as Vec3, to: along(at, direction, straight) }) as const

function port(id: string, at: [number, number, number], axis: number, sign: number): Port {
  const direction: [number, number, number] = [0, 0, 0]
  direction[axis] = sign
  return { id, name: id, at, direction, outsideDiameter: 57 }
}
