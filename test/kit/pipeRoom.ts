import type { Bay, KeepOut, Port } from '../../core/bay/schema.ts'
import type { Meshes } from '../../core/bay/part.ts'
import { clearance } from '../../core/clearance/clearance.ts'
import { routeProblem } from '../../core/pipe/route/setUp.ts'
import type { Mesh } from '../../core/shape/mesh.ts'
import { solidFrom } from '../../core/shape/solid.ts'
import { add, along, distance, scale, type Vec3 } from '../../core/shape/vec.ts'
import type { Corridor } from './corridors.ts'
import { type Random, seeded } from './random.ts'
import { bareCandidate, cubeMesh, keepOut, tinyBay } from './tinyBay.ts'

export interface PipeRoom extends Corridor {
  readonly meshes: Meshes
}

type Triple = [number, number, number]
const triple = ([x, y, z]: Vec3): Triple => [x, y, z]

/** Half of the room, mm. */
const half = 400

/**
 * A room of six walls with things of every kind in it and a pipe between two random ports, each of them free for a straight
 * piece; one port in three sits on a thing of its own. Whether there is a route is not known.
 */
export function pipeRoom(seed: number): PipeRoom {
  const random = seeded(seed)
  const meshes = new Map<string, Mesh>()
  const things = Array.from({ length: 3 + random.int(8) }, (_, n) => thing(`thing-${n}`, random, meshes))
  const outsideDiameter = random.real(20, 60)
  const bendRadius = outsideDiameter * random.real(1, 2)
  const grip = random.real(0, 40)
  const leastEnd = random.real(0, 40)
  const pipe = {
    ...{ id: 'run', name: 'Run', from: 'start', to: 'end', path: [] },
    ...{ outsideDiameter, wall: 1.5, bendRadius, tolerance: random.chance(0.5) ? 1 : 0 },
  }
  const tool = { outsideDiameter, radii: [bendRadius], grip, leastStraight: 0, leastEnd }
  const benders = [{ id: 'shop', name: 'Shop', tools: [{ ...tool, largestAngle: random.real(90, 180) }] }]
  const core = { depth: 20, width: 20, height: 20 }
  const candidate = bareCandidate({ at: [-half + 30, -half + 30, -half + 30], core, pipes: [pipe] })
  const keepOuts = [...walls(), ...things]
  const bayWith = (more: KeepOut[], ports: Port[]): Bay => ({
    ...tinyBay([...keepOuts, ...more], candidate, ports),
    benders,
  })
  const radius = outsideDiameter / 2
  const need = leastEnd + radius + 20
  for (;;) {
    const [a, b] = [port('start', random, outsideDiameter), port('end', random, outsideDiameter)]
    if (distance(a.port.at, b.port.at) < half || !isFree(bayWith([], [a.port, b.port]), meshes, need)) continue
    return {
      ...{ bay: bayWith([...a.seat, ...b.seat], [a.port, b.port]), meshes },
      ...{ candidate: candidate.id, pipe: pipe.id },
    }
  }
}

function walls(): KeepOut[] {
  return [0, 1, 2].flatMap((axis) =>
    [-1, 1].map((side) => {
      const normal: Triple = [0, 0, 0]
      normal[axis] = -side
      const point = triple(scale(normal, -half))
      return keepOut(`wall-${'xyz'[axis]}${side < 0 ? 'low' : 'high'}`, { kind: 'halfSpace', point, normal })
    }),
  )
}

function thing(id: string, random: Random, meshes: Map<string, Mesh>): KeepOut {
  const clearance = random.real(0, 15)
  const uncertainty = random.chance(0.5) ? random.real(0, 4) : 0
  return keepOut(id, shape(id, random, meshes), { clearance, uncertainty })
}

function shape(id: string, random: Random, meshes: Map<string, Mesh>): KeepOut['shape'] {
  const at = triple(random.point(half - 60))
  const size = (): number => random.size(20, 350)
  switch (random.int(6)) {
    case 0:
      return { kind: 'cylinder', from: at, to: triple(along(at, random.unit(), size())), radius: random.real(5, 70) }
    case 1:
      return { kind: 'hull', points: Array.from({ length: 8 }, () => triple(add(at, random.point(130)))) }
    case 2: {
      // It turns by less than a right angle.
      const way = random.unit()
      const corner = along(at, way, 200)
      const path = [at, triple(corner), triple(along(corner, add(way, scale(random.unit(), 0.9)), 200))]
      return { kind: 'tube', path, radius: 15, bendRadius: 20 }
    }
    case 3: {
      const file = `${id}.stl`
      meshes.set(file, cubeMesh([-60, -60, -60], 120, random.chance(0.5)))
      return { kind: 'mesh', file, unit: 'mm', at, turn: triple(random.point(90)) }
    }
    default:
      return { kind: 'box', at, size: [size(), size(), size()], turn: triple(random.point(90)) }
  }
}

/** A port somewhere, looking somewhere; some sit on the end of a post, which the pipe is then exempt from. */
function port(id: string, random: Random, outsideDiameter: number): { port: Port; seat: KeepOut[] } {
  const at = triple(random.point(half - 80))
  const direction = triple(random.unit())
  const post = `post-${id}`
  const seat = random.chance(1 / 3)
    ? [keepOut(post, { kind: 'cylinder', from: triple(along(at, direction, -40)), to: at, radius: outsideDiameter })]
    : []
  return { port: { id, name: id, at, direction, outsideDiameter, ...(seat.length > 0 && { sitsOn: post }) }, seat }
}

/** Whether both ports have a straight piece of pipe before them that clears. */
function isFree(bay: Bay, meshes: Meshes, long: number): boolean {
  const problem = routeProblem(withoutSeats(bay), undefined, 'run', meshes)
  if (!problem.ok) throw new Error(JSON.stringify(problem.faults))
  const { from, to, radius, obstacles } = problem.value
  return [from, to].every(({ at, direction }) => {
    const straight = { kind: 'straight', from: at, to: along(at, direction, long) } as const
    const solid = solidFrom([{ form: 'round', centreline: [straight], radius }])
    return obstacles.every(
      ({ solid: other, need }) => clearance(solid, other, { upTo: need + 2, depth: false }).atLeast >= need + 2,
    )
  })
}

const withoutSeats = (bay: Bay): Bay => ({ ...bay, ports: bay.ports?.map(({ sitsOn: _, ...port }) => port) })
