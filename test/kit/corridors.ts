import type { Bay, KeepOut, Port } from '../../core/bay/schema.ts'
import type { Vec3 } from '../../core/shape/vec.ts'
import { bareCandidate, keepOut, tinyBay } from './tinyBay.ts'

/**
 * Bays in which one pipe has one way through, of a width that is known. The pipe: ⌀ 50, keeps 5 mm, bends on 60 mm; so the
 * middle of it keeps ρ = 30 mm from every wall. All else is walled off.
 */
const radius = 25
const need = 5
const bendRadius = 60
const rho = radius + need

/**
 * What a bend of 90° needs between two straight walls that turn with it: ρ + R − (R − ρ)/√2. The arc touches both outer walls
 * at ρ, and the inner corner is nearest to its middle: |corner − centre| = √2·(R + ρ − W) = R − ρ.
 */
export const turnWidth = rho + bendRadius - (bendRadius - rho) / Math.SQRT2
/** What a flat slot needs. */
export const slotWidth = 2 * rho

export interface Corridor {
  readonly bay: Bay
  readonly candidate: string
  readonly pipe: string
}

/** A corridor with one turn of 90°, between two rooms; ports square to it, so that three bends are needed. */
export function cornerCorridor(spare: number): Corridor {
  const width = turnWidth + spare
  const [inner, outer, end] = [200, 200 + width, width + 200]
  return corridor(
    [
      ...flat,
      box('below', [0, -600], [outer + 60, 0]),
      box('beyond', [outer, 0], [outer + 600, end]),
      box('corner', [0, width], [inner, end]),
      box('left', [-600, width + 60], [0.5, end]),
      ...ring([-300, -420], [outer + 400, end + 340]),
    ],
    port('start', [-140, -250, 0], [0, 1, 0]),
    port('end', [outer + 250, end + 140, 0], [-1, 0, 0]),
    [-290, -410, 0],
  )
}

/** A corridor with two turns of 90°, there and back. */
export function doubleCorridor(spare: number): Corridor {
  const width = turnWidth + spare
  const [inner, outer] = [180, 180 + width]
  const top = width + 160 + width
  const out = outer + 180
  return corridor(
    [
      ...flat,
      box('below', [0, -600], [out, 0]),
      box('first', [0, width], [inner, top]),
      box('second', [outer, 0], [out, top - width]),
      box('above', [0, top], [out, top + 600]),
      ...ring([-300, -420], [out + 300, top + 420]),
    ],
    port('start', [-140, -250, 0], [0, 1, 0]),
    port('end', [out + 140, top + 260, 0], [0, -1, 0]),
    [-290, -410, 0],
  )
}

/** A flat slot between two boxes, and ports aside of it. */
export function slotCorridor(spare: number): Corridor {
  const half = (slotWidth + spare) / 2
  return corridor(
    [
      tall('lower', [0, -400], [120, -half]),
      tall('upper', [0, half], [120, 400]),
      wall('front', [-400, 0, 0], [1, 0, 0]),
      wall('rear', [520, 0, 0], [-1, 0, 0]),
      wall('left', [0, -280, 0], [0, 1, 0]),
      wall('right', [0, 280, 0], [0, -1, 0]),
      wall('floor', [0, 0, -280], [0, 0, 1]),
      wall('roof', [0, 0, 280], [0, 0, -1]),
    ],
    port('start', [-230, 120, 40], [1, 0, 0]),
    port('end', [350, -110, -60], [-1, 0, 0]),
    [-390, -270, -270],
  )
}

/** Nothing in the way: two ports that look at each other, `aside` apart. ⌀ 57, bends on 90 mm, 60 mm straight at both ends. */
export function freeRun(ahead: number, aside: number): Corridor {
  const { bay, ...names } = corridor(
    [],
    port('start', [0, 0, 0], [1, 0, 0]),
    port('end', [ahead, aside, 0], [-1, 0, 0]),
    [-2000, 0, 0],
  )
  const [candidate] = bay.candidates
  const pipes = candidate.pipes?.map((pipe) => ({ ...pipe, outsideDiameter: 57, bendRadius: 90 }))
  const benders = [bender(57, 90, 60)]
  return { ...names, bay: { ...bay, candidates: [{ ...candidate, pipes }], benders } }
}

/**
 * Length of the shortest curve of straights and arcs of `bendRadius` between the ports of `freeRun`: half an S on each side of a
 * common tangent. With a turn of t and a tangent of m: ahead − 2·straight = 2R sin t + m cos t, aside = 2R(1 − cos t) + m sin t.
 * That it is the shortest: L. E. Dubins, On curves of minimal length with a constraint on average curvature (1957), from memory.
 */
export function shortestRun(ahead: number, aside: number, curveRadius = 90, straight = 60): number {
  const across = ahead - 2 * straight
  const tangent = (t: number) => (across - 2 * curveRadius * Math.sin(t)) / Math.cos(t)
  let [low, high] = [0, Math.PI / 2]
  for (let i = 0; i < 100; i++) {
    const t = (low + high) / 2
    if (2 * curveRadius * (1 - Math.cos(t)) + tangent(t) * Math.sin(t) > aside) high = t
    else low = t
  }
  return 2 * straight + 2 * curveRadius * low + tangent(low)
}

/** @param at where a crumb of a core stands, out of the way: a candidate has one */
function corridor(keepOuts: KeepOut[], start: Port, end: Port, at: [number, number, number]): Corridor {
  const core = { depth: 2, width: 2, height: 2 }
  const pipe = {
    id: 'run',
    name: 'Run',
    from: start.id,
    to: end.id,
    outsideDiameter: 2 * radius,
    wall: 1.5,
    bendRadius,
    path: [],
  }
  const candidate = bareCandidate({ at, core, pipes: [pipe] })
  const bay: Bay = { ...tinyBay(keepOuts, candidate, [start, end]), benders: [bender(2 * radius, bendRadius, 30)] }
  return { bay, candidate: candidate.id, pipe: pipe.id }
}

const bender = (outsideDiameter: number, bend: number, leastEnd: number) => ({
  id: 'shop',
  name: 'Shop bender',
  tools: [{ outsideDiameter, radii: [bend], grip: 40, leastStraight: 0, leastEnd, largestAngle: 120 }],
})

const port = (id: string, at: [number, number, number], direction: [number, number, number]): Port => ({
  id,
  name: id,
  at,
  direction,
  outsideDiameter: 2 * radius,
})

const thing = (id: string, shape: KeepOut['shape']) => keepOut(id, shape, { clearance: need })
const wall = (id: string, point: Vec3, normal: Vec3) =>
  thing(id, { kind: 'halfSpace', point: [...point], normal: [...normal] })

/** Floor and roof leave a tenth of a millimetre over and under the pipe. */
const flat = [wall('floor', [0, 0, -rho - 0.1], [0, 0, 1]), wall('roof', [0, 0, rho + 0.1], [0, 0, -1])]

/** Four walls round everything. */
const ring = (low: readonly [number, number], high: readonly [number, number]) => [
  wall('ring-front', [low[0], 0, 0], [1, 0, 0]),
  wall('ring-left', [0, low[1], 0], [0, 1, 0]),
  wall('ring-rear', [high[0], 0, 0], [-1, 0, 0]),
  wall('ring-right', [0, high[1], 0], [0, -1, 0]),
]

type Corner = readonly [x: number, y: number]
const block = (half: number) => (id: string, low: Corner, high: Corner) =>
  thing(id, {
    kind: 'box',
    at: [(low[0] + high[0]) / 2, (low[1] + high[1]) / 2, 0],
    size: [high[0] - low[0], high[1] - low[1], 2 * half],
  })
const box = block(40)
const tall = block(400)
