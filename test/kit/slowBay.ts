import { writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import type { Bay } from '../../core/bay/schema.ts'
import { stlBinary } from './meshWriters.ts'

/** An egg-shaped shell about the origin with a pinhole, so that it is a surface and not a solid. */
function shell(half: readonly [number, number, number], around: number) {
  const positions: number[] = []
  const triangles: number[] = []
  const rows = around / 2
  for (let row = 0; row <= rows; row++)
    for (let column = 0; column < around; column++) {
      const [a, b] = [(Math.PI * row) / rows, (2 * Math.PI * column) / around]
      positions.push(half[0] * Math.sin(a) * Math.cos(b), half[1] * Math.sin(a) * Math.sin(b), half[2] * Math.cos(a))
    }
  for (let row = 0; row < rows; row++)
    for (let column = 0; column < around; column++) {
      const [p, q] = [column, (column + 1) % around].map((c) => row * around + c)
      // At the poles one of the two has no area.
      if (row > 0) triangles.push(p, p + around, q)
      if (row < rows - 1) triangles.push(q, p + around, q + around)
    }
  return { positions, triangles: triangles.slice(3) }
}

/**
 * A bay whose searches go on for minutes: smooth walls on all sides, tapered tanks, any tilt. For tests of what happens
 * when somebody does not want to wait.
 * @returns path of the bay
 */
export async function writeSlowBay(folder: string): Promise<string> {
  const tank = { length: 40, front: 0, rear: 0, below: 0, above: 0, taper: { depth: 0.7, height: 0.6 } }
  const bay: Bay = {
    format: 'gapwright-bay',
    version: 1,
    name: 'Egg',
    frame: { origin: 'its middle' },
    units: 'mm',
    keepOuts: [
      {
        id: 'shell',
        name: 'Shell',
        role: 'body',
        clearance: 5,
        uncertainty: 1,
        shape: { kind: 'mesh', file: 'shell.stl', unit: 'mm' },
      },
    ],
    candidates: [
      {
        id: 'yolk',
        name: 'Yolk',
        at: [3, -2, 4],
        turn: [0, 0, 0],
        core: { depth: 80, width: 200, height: 120 },
        tanks: { left: tank, right: tank },
        limits: {
          depth: { min: 20, max: 400 },
          width: { min: 20, max: 600 },
          height: { min: 20, max: 400 },
          tilt: { min: -45, max: 45 },
          centre: { min: [-60, -60, -60], max: [60, 60, 60] },
        },
      },
    ],
  }
  await writeFile(join(folder, 'shell.stl'), stlBinary(shell([150, 320, 180], 160)))
  const path = join(folder, 'egg.bay.json')
  await writeFile(path, JSON.stringify(bay))
  return path
}
