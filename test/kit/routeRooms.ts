import type { Bay, KeepOut, Port } from '../../core/bay/schema.ts'
import type { Vec3 } from '../../core/shape/vec.ts'
import { along, dot } from '../../core/shape/vec.ts'
import type { Random } from './random.ts'
import { bareCandidate, keepOut, tinyBay } from './tinyBay.ts'

/** A tube of 40 mm through a room of about 900 mm with convex and round things in it, from one port to another. */
export interface RouteRoom {
  readonly bay: Bay
  readonly pipe: string
  /** Rough corners on a random way. */
  readonly start: Vec3[]
}

const room = 450
const tuple = (p: Vec3): [number, number, number] => [p[0], p[1], p[2]]

/** The core stands far off: the pipe and what is in the room are all there is. */
export function routeRoom(random: Random, things = 8): RouteRoom {
  const ports = [port('start', [-room, random.real(-200, 200), random.real(-150, 150)], [1, 0, 0])]
  const side = random.pick<Vec3>([
    [-1, 0, 0],
    [0, 1, 0],
    [0, 0, -1],
  ])
  ports.push(port('end', [room, random.real(-150, 150), random.real(-100, 100)], side))
  const keepOuts = Array.from({ length: things }, (_, k) => thing(random, k))
  keepOuts.push(keepOut('floor', { kind: 'halfSpace', point: [0, 0, -300], normal: [0, 0, 1] }, { uncertainty: 1 }))
  const candidate = bareCandidate({
    at: [0, 0, 5000],
    pipes: [
      {
        id: 'run',
        name: 'Run',
        from: 'start',
        to: 'end',
        outsideDiameter: 40,
        wall: 2,
        bendRadius: 60,
        path: [],
        tolerance: random.pick([0, 1]),
      },
    ],
  })
  const tools = [{ outsideDiameter: 40, radii: [60], grip: 30, leastStraight: 25, leastEnd: 25, largestAngle: 150 }]
  const bay: Bay = { ...tinyBay(keepOuts, candidate, ports), benders: [{ id: 'shop', name: 'Shop', tools }] }
  return { bay, pipe: 'run', start: startOf(random, ports) }
}

const port = (id: string, at: Vec3, direction: Vec3): Port => ({
  id,
  name: id,
  at: tuple(at),
  direction: tuple(direction),
  outsideDiameter: 40,
})

function thing(random: Random, k: number): KeepOut {
  const asked = { clearance: random.real(0, 10), uncertainty: random.pick([0, 1, 2.5]) }
  const at = tuple([random.real(-280, 280), random.real(-300, 300), random.real(-250, 250)])
  const id = `thing-${k}`
  const kind = random.int(4)
  if (kind === 0) {
    const size = tuple([random.real(40, 160), random.real(40, 200), random.real(40, 200)])
    return keepOut(id, { kind: 'box', at, size, turn: tuple(random.point(90)) }, asked)
  }
  const way = random.unit()
  const far = tuple(along(at, way, random.real(60, 250)))
  if (kind === 1) return keepOut(id, { kind: 'cylinder', from: at, to: far, radius: random.real(10, 60) }, asked)
  if (kind === 2) {
    const points = Array.from({ length: 9 }, () => tuple(along(at, random.unit(), random.real(40, 110))))
    return keepOut(id, { kind: 'hull', points }, asked)
  }
  const corner = along(at, way, 200)
  const on = random.unit()
  const last = along(corner, on, dot(on, way) < 0 ? -200 : 200)
  const radius = random.real(5, 15)
  const path = [at, tuple(corner), tuple(last)]
  return keepOut(id, { kind: 'tube', path, radius, bendRadius: 20 }, asked)
}

function startOf(random: Random, [from, to]: readonly Port[]): Vec3[] {
  const between = Array.from({ length: random.int(3) }, (): Vec3 => random.point(300))
  return [along(from.at, from.direction, 120), ...between, along(to.at, to.direction, 120)]
}
