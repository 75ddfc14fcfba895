import { keepOutSolids } from '../../core/bay/keepOuts.ts'
import type { Meshes } from '../../core/bay/part.ts'
import type { Bay, Candidate, KeepOut } from '../../core/bay/schema.ts'
import { ledger } from '../../core/verdict/ledger.ts'
import { coreQuestion } from '../../core/largest/coreQuestion.ts'
import { type CoreQuestion, problemIn, viewOf } from '../../core/largest/coreProblem.ts'
import { candidateAt } from '../../core/largest/partBodies.ts'
import type { Cell, Problem } from '../../core/largest/problem.ts'
import { tiltAt } from '../../core/largest/unknowns.ts'
import { TreeSearch } from '../../core/largest/search.ts'
import type { Mesh } from '../../core/shape/mesh.ts'
import { turnMatrix } from '../../core/shape/vec.ts'
import { bumpyMesh } from './meshes.ts'
import type { Random } from './random.ts'
import { bareCandidate, cubeMesh, keepOut, tinyBay } from './tinyBay.ts'

/** A small bay with keep-outs of all kinds, the search's view of it, and cores in it that the ledger says clear. */
export interface Room {
  readonly problem: Problem
  readonly root: Cell
  /** All pairs that came up while the cores were looked for. */
  readonly codes: Int32Array
  /** Seven numbers each: faces, and the tilt from the view's middle, radians. */
  readonly cores: readonly Float64Array[]
}

/** The bay of such a room, for those who ask the front door. */
export function roomBay(random: Random): { bay: Bay; meshes: Meshes } {
  const { keepOuts, meshes } = someKeepOuts(random)
  return { bay: tinyBay(keepOuts, someCandidate(random)), meshes }
}

const side = 300
export const roomBox = { min: [-side / 2, -side / 2, -side / 2], max: [side / 2, side / 2, side / 2] } as const

/** @param half half the range of tilts, degrees; 0 for one tilt */
export function roomOf(random: Random, half: number): Room {
  const { keepOuts, meshes } = someKeepOuts(random)
  const candidate = someCandidate(random)
  const tilt = random.chance(0.5) ? 0 : random.real(-10, 10)
  const question = questionOf(keepOuts, meshes, candidate, tilt)
  const made = problemIn(question, viewOf(question, tilt, half))
  if (!made) throw new Error('a room without room')
  const { problem, root } = made
  const heard: number[] = []
  const listening: Problem = {
    ...problem,
    ask: (...asked) => {
      const found = problem.ask(...asked)
      heard.push(...found.codes)
      return found
    },
  }
  const clears = (x: Float64Array) => {
    const sized = candidateAt(question.candidate, x, problem.view.at(x[tiltAt]))
    const checked = ledger(tinyBay(keepOuts, sized), undefined, meshes)
    return checked.ok && checked.value.pairs.every((pair) => pair.verdict === 'clears') && isWithin(sized)
  }
  const cores: Float64Array[] = []
  const search = new TreeSearch(listening, {
    within: 0.02,
    work: 60,
    stop: () => null,
    progress: () => undefined,
  })
  const { best } = search.run({ ...root })
  if (best) cores.push(Float64Array.of(...best.faces, ((best.view.tilt - problem.view.tilt) * Math.PI) / 180))
  for (let i = 0; i < 400 && cores.length < 12; i++) {
    const x = someFaces(random, problem)
    if (!x || !clears(x)) continue
    cores.push(x)
    listening.ask(x, problem.view.at(x[tiltAt]), 0, 20)
  }
  problem.seen.update()
  return { problem, root, codes: Int32Array.from(new Set(heard)), cores }
}

/** In the room with all corners, its middle in the region that the limits name. */
function isWithin({ at, core, turn, limits }: Candidate): boolean {
  const m = turnMatrix(turn)
  const half = [core.depth / 2, core.width / 2, core.height / 2]
  const { min, max } = limits?.centre ?? roomBox
  return at.every((x, k) => {
    const reach = [0, 1, 2].reduce((sum, j) => sum + Math.abs(m[3 * k + j]) * half[j], 0)
    return Math.abs(x) + reach <= side / 2 - 1e-6 && x >= min[k] && x <= max[k]
  })
}

function someFaces(random: Random, { sizes, view, low, high }: Problem): Float64Array | undefined {
  const x = new Float64Array(7)
  for (let k = 0; k < 3; k++) {
    const size = sizes[k].down(random.size(5, 200))
    if (!(size > 0)) return undefined
    x[k] = random.real(-side / 2, side / 2 - size)
    x[3 + k] = x[k] + size
    if (x[k] < low[k] || x[3 + k] > high[3 + k]) return undefined
  }
  x[tiltAt] = view.half > 0 ? random.real(-view.half, view.half) : 0
  return x
}

function questionOf(keepOuts: KeepOut[], meshes: Meshes, candidate: Candidate, tilt: number): CoreQuestion {
  const solids = keepOutSolids(tinyBay(keepOuts), meshes)
  if (!solids.ok) throw new Error(JSON.stringify(solids.faults))
  const asked = coreQuestion(candidate, solids.value, 'volume', { min: tilt, max: tilt }, roomBox, undefined)
  if (!asked.ok) throw new Error(JSON.stringify(asked.faults))
  return asked.value
}

function someCandidate(random: Random): Candidate {
  const tank = () => ({
    length: random.real(5, 40),
    front: random.real(-3, 8),
    rear: random.real(-3, 8),
    below: random.real(-3, 8),
    above: random.real(-3, 8),
    ...(random.chance(0.6) && { taper: { depth: random.real(0.4, 1), height: random.real(0.4, 1) } }),
    tolerance: random.real(0, 2),
    ...(random.chance(0.5) && {
      ports: [
        {
          id: 'p',
          face: random.pick(['end', 'front', 'rear', 'below', 'above'] as const),
          u: random.real(-1, 1),
          v: random.real(-1, 1),
          outsideDiameter: random.real(4, 20),
          length: random.real(3, 30),
        },
      ],
    }),
  })
  return bareCandidate({
    turn: random.chance(0.25) ? [random.real(-15, 15), 0, random.real(-15, 15)] : [0, 0, 0],
    core: { depth: 20, width: 20, height: 20, tolerance: random.real(0, 2) },
    tanks: random.chance(0.3)
      ? undefined
      : { ...(random.chance(0.8) && { left: tank() }), ...(random.chance(0.8) && { right: tank() }) },
    limits: {
      ...(random.chance(0.4) && { depth: { stock: [12, 20, 33, 50, 80, 120] } }),
      ...(random.chance(0.4) && { height: { pitch: 7, offset: 3 } }),
      ...(random.chance(0.3) && { centre: { min: [-90, -80, -90], max: [100, 70, 80] } }),
    },
  })
}

/** Boxes along the axes and turned, hulls, cylinders, tubes, half-spaces, open and closed meshes; clearances from 0 up. */
function someKeepOuts(random: Random): { keepOuts: KeepOut[]; meshes: Map<string, Mesh> } {
  const meshes = new Map<string, Mesh>()
  const point = () => random.point(side / 2) as [number, number, number]
  const shape = (i: number): KeepOut['shape'] => {
    const size = [0, 1, 2].map(() => random.real(10, 110)) as [number, number, number]
    const kinds = ['box', 'box', 'turned', 'hull', 'cylinder', 'tube', 'halfSpace', 'mesh', 'cube'] as const
    switch (random.pick(kinds)) {
      case 'box':
        return { kind: 'box', at: point(), size }
      case 'turned':
        return {
          kind: 'box',
          at: point(),
          size,
          turn: [random.real(-40, 40), random.real(-40, 40), random.real(-40, 40)],
        }
      case 'hull': {
        const about = point()
        const points = Array.from({ length: 8 }, () => random.point(50).map((v, k) => v + about[k]))
        return { kind: 'hull', points: points as [number, number, number][] }
      }
      case 'cylinder':
        return { kind: 'cylinder', from: point(), to: point(), radius: random.real(3, 20) }
      case 'tube': {
        const [x, y, z] = point()
        const path: [number, number, number][] = [
          [x, y, z],
          [x + 90, y + random.real(-20, 20), z],
          [x + 90, y + random.real(-20, 20), z + 90],
        ]
        return { kind: 'tube', path, radius: random.real(4, 12), bendRadius: 25 }
      }
      case 'halfSpace': {
        const normal = random.unit() as [number, number, number]
        const at = normal.map((v) => v * -random.real(60, 140)) as [number, number, number]
        return { kind: 'halfSpace', point: at, normal }
      }
      case 'mesh':
        meshes.set(`m${i}`, bumpyMesh(24, 16, random.int(1000)))
        return {
          kind: 'mesh',
          file: `m${i}`,
          unit: 'mm',
          at: point(),
          turn: [random.real(0, 90), 0, random.real(0, 90)],
        }
      case 'cube':
        meshes.set(`m${i}`, cubeMesh([-20, -20, -20], random.real(20, 80), random.chance(0.5)))
        return {
          kind: 'mesh',
          file: `m${i}`,
          unit: 'mm',
          at: point(),
          turn: [0, random.real(0, 90), random.real(0, 90)],
        }
    }
  }
  const keepOuts = Array.from({ length: 3 + random.int(4) }, (_, i) =>
    keepOut(`k${i}`, shape(i), {
      clearance: random.chance(0.2) ? 0 : random.real(0, 15),
      uncertainty: random.chance(0.5) ? 0 : random.real(0, 3),
    }),
  )
  return { keepOuts, meshes }
}
