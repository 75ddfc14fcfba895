import { mkdtemp, rm, writeFile } from 'node:fs/promises'
import { createRequire } from 'node:module'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, expect, test } from 'vitest'
import type { Bay } from '../core/bay/schema.ts'
import { cli } from './kit/cli.ts'
import { plyFile } from './kit/meshWriters.ts'

/*
 * One bay checked against a mesh that nobody here made (checks G1), file to verdict, with an independent library as the
 * oracle: manifold-3d's minGap on the same solids. It holds single precision, so agreement is asked for to 1e-4 mm
 * (coordinates below 300 mm: rounded to 1.5e-5 mm each).
 */
const require = createRequire(import.meta.url)
const bunny: { positions: number[][]; cells: number[][] } = require('bunny')

let folder: string
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'open-'))
  const bytes = plyFile({ positions: bunny.positions.flat(), triangles: bunny.cells.flat() }, 'binary_little_endian')
  await writeFile(join(folder, 'bunny.ply'), bytes)
})
afterAll(() => rm(folder, { recursive: true }))

const core = { depth: 80, width: 200, height: 120 }
const bunnyAt = [-150, 20, 10] as const
/** Y up in the file; in centimetres it is a good 9 cm long. */
const bunnyTurn = [90, 0, 30] as const

async function gapInOracle(at: readonly number[], turn: readonly number[]): Promise<number> {
  const library = await (await import('manifold-3d')).default()
  library.setup()
  const { Manifold, Mesh } = library
  const mesh = new Mesh({
    numProp: 3,
    vertProperties: Float32Array.from(bunny.positions.flat()),
    triVerts: Uint32Array.from(bunny.cells.flat()),
  })
  const keepOut = new Manifold(mesh)
    .scale(10)
    .rotate([...bunnyTurn])
    .translate([...bunnyAt])
  const part = Manifold.cube([core.depth, core.width, core.height], true)
    .rotate([turn[0], turn[1], turn[2]])
    .translate([at[0], at[1], at[2]])
  return part.minGap(keepOut, 400)
}

const bayWith = (at: [number, number, number], turn: [number, number, number]): Bay => ({
  format: 'gapwright-bay',
  version: 1,
  name: 'Bay with a scan',
  frame: { origin: 'anywhere' },
  units: 'mm',
  keepOuts: [
    {
      id: 'scan',
      name: 'Scan',
      role: 'body',
      clearance: 10,
      uncertainty: 2,
      shape: { kind: 'mesh', file: 'bunny.ply', unit: 'cm', at: [...bunnyAt], turn: [...bunnyTurn] },
    },
  ],
  candidates: [{ id: 'first', name: 'First', at, turn, core }],
})

test.each<[string, [number, number, number], [number, number, number]]>([
  ['straight', [0, 0, 0], [0, 0, 0]],
  ['turned', [-10, 5, 30], [12, -25, 40]],
  ['below', [-150, 20, -150], [0, 15, 0]],
])('a core near the scan, %s: the same gap as the oracle', async (name, at, turn) => {
  const path = join(folder, `${name}.bay.json`)
  await writeFile(path, JSON.stringify(bayWith(at, turn)))
  const { status, out } = await cli(['check', path, '--json'])
  const { pairs, verdict } = JSON.parse(out)
  const oracle = await gapInOracle(at, turn)
  expect(oracle).toBeGreaterThan(5)
  expect(Math.abs(pairs[0].gap - oracle)).toBeLessThan(1e-4)
  expect(pairs[0].error).toBeLessThanOrEqual(0.001)
  // Required 10, uncertainty 2: clears from 12 on, short below 8.
  expect(verdict).toBe(oracle >= 12 ? 'clears' : oracle < 8 ? 'short' : 'unproved')
  expect(status).toBe(verdict === 'clears' ? 0 : 1)
  expect(pairs[0].open).toBeUndefined()
})

test('a core inside the scan is contact, though no surface touches another', async () => {
  const bay = bayWith([-150, 20, 45], [0, 0, 0])
  bay.candidates[0].core = { depth: 4, width: 4, height: 4 }
  const path = join(folder, 'inside.bay.json')
  await writeFile(path, JSON.stringify(bay))
  const { status, out } = await cli(['check', path, '--json'])
  expect(status).toBe(1)
  expect(JSON.parse(out)).toMatchObject({ verdict: 'fouls', pairs: [{ gap: 0, overlap: { kind: 'atLeast' } }] })
})
