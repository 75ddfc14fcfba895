import type { Bay, Candidate, KeepOut, Port } from '../../core/bay/schema.ts'
import type { Mesh } from '../../core/shape/mesh.ts'

/** A bare core of 100 × 200 × 80 mm about the origin: X −50…50, Y −100…100, Z −40…40. */
export const bareCandidate = (change: Partial<Candidate> = {}): Candidate => ({
  id: 'only',
  name: 'Only',
  at: [0, 0, 0],
  turn: [0, 0, 0],
  core: { depth: 100, width: 200, height: 80 },
  ...change,
})

/** A keep-out that asks for nothing and is known exactly, so that margins are gaps. */
export const keepOut = (id: string, shape: KeepOut['shape'], change: Partial<KeepOut> = {}): KeepOut => ({
  id,
  name: id,
  role: 'body',
  clearance: 0,
  uncertainty: 0,
  shape,
  ...change,
})

export const tinyBay = (keepOuts: KeepOut[], candidate: Candidate = bareCandidate(), ports: Port[] = []): Bay => ({
  format: 'gapwright-bay',
  version: 1,
  name: 'Tiny bay',
  frame: { origin: 'somewhere' },
  units: 'mm',
  keepOuts,
  ports,
  candidates: [candidate],
})

const corners = [
  [0, 0, 0],
  [1, 0, 0],
  [0, 1, 0],
  [1, 1, 0],
  [0, 0, 1],
  [1, 0, 1],
  [0, 1, 1],
  [1, 1, 1],
]
const sides = [
  [0, 2, 1],
  [1, 2, 3],
  [4, 5, 6],
  [5, 7, 6],
  [0, 1, 4],
  [1, 5, 4],
  [2, 6, 3],
  [3, 6, 7],
  [0, 4, 2],
  [2, 4, 6],
  [1, 3, 5],
  [3, 7, 5],
]

/** Cube from `low` with edges of `size`; without its first two triangles (the side Z low) it is an open shell. */
export const cubeMesh = (low: readonly [number, number, number], size: number, closed = true): Mesh => ({
  positions: new Float64Array(corners.flatMap((corner) => corner.map((c, k) => low[k] + c * size))),
  triangles: new Uint32Array(sides.slice(closed ? 0 : 2).flat()),
  closed,
})
