import { mkdirSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import type { Bay, KeepOut } from '../../core/bay/schema.ts'
import { roles } from '../../core/bay/schema.ts'
import { type PlainMesh, stlBinary } from './meshWriters.ts'
import { type Random, seeded } from './random.ts'

/** Meshes of a big bay: so many files, each used by so many keep-outs, of about so many triangles. */
const files = 12
const uses = 5
const around = 160
const along = 156
const others = 240

/**
 * Writes a bay of 300 keep-outs about a core that clears them all, 60 of them closed meshes with three million triangles
 * together (seed 2031). Too large to be kept with the tests.
 * @returns the path of the bay
 */
export function writeBigBay(folder: string): string {
  mkdirSync(folder, { recursive: true })
  const random = seeded(2031)
  for (let i = 0; i < files; i++) writeFileSync(join(folder, `lump-${i}.stl`), stlBinary(lump(random)))
  const meshes = Array.from({ length: files * uses }, (_, i): KeepOut => {
    const shape = {
      kind: 'mesh',
      file: `lump-${i % files}.stl`,
      unit: 'mm',
      at: placeOf(random, 260),
      turn: turnOf(random),
    }
    return thing(`lump-${i}`, i, shape as KeepOut['shape'])
  })
  const plain = Array.from({ length: others }, (_, i) => thing(`thing-${i}`, i, plainShape(random, i)))
  const bay: Bay = {
    format: 'gapwright-bay',
    version: 1,
    name: 'Big bay',
    frame: { origin: 'the middle' },
    units: 'mm',
    keepOuts: [...meshes, ...plain],
    candidates: [
      { id: 'core', name: 'Core', at: [0, 0, 0], turn: [0, 0, 0], core: { depth: 90, width: 500, height: 260 } },
    ],
  }
  const path = join(folder, 'big.bay.json')
  writeFileSync(path, JSON.stringify(bay))
  return path
}

const thing = (id: string, i: number, shape: KeepOut['shape']): KeepOut => ({
  id,
  name: id,
  role: roles[i % roles.length],
  clearance: 5,
  uncertainty: 1,
  shape,
})

/** A closed bumpy ball of 60 to 90 mm, poles left out and closed by a corner each. */
function lump(random: Random): PlainMesh {
  const [size, bumps, phase] = [random.real(60, 90), random.int(5) + 4, random.real(0, 6)]
  const positions: number[] = []
  for (let j = 1; j < along; j++)
    for (let i = 0; i < around; i++) {
      const [t, p] = [(Math.PI * j) / along, (2 * Math.PI * i) / around]
      const r = size * (1 + 0.05 * Math.sin(bumps * p + phase) * Math.sin(bumps * t))
      positions.push(r * Math.sin(t) * Math.cos(p), r * Math.sin(t) * Math.sin(p), r * Math.cos(t))
    }
  const poles = [positions.length / 3, positions.length / 3 + 1]
  positions.push(0, 0, size, 0, 0, -size)
  const at = (j: number, i: number) => (j - 1) * around + (i % around)
  const triangles: number[] = []
  for (let i = 0; i < around; i++) {
    triangles.push(poles[0], at(1, i), at(1, i + 1), poles[1], at(along - 1, i + 1), at(along - 1, i))
    for (let j = 1; j < along - 1; j++)
      triangles.push(at(j, i), at(j + 1, i), at(j + 1, i + 1), at(j, i), at(j + 1, i + 1), at(j, i + 1))
  }
  return { positions, triangles }
}

/** Outside the core by so much at least, in a room of three metres. */
function placeOf(random: Random, clear: number): [number, number, number] {
  for (;;) {
    const [x, y, z] = random.point(1400)
    if (Math.abs(x) > 45 + clear || Math.abs(y) > 250 + clear || Math.abs(z) > 130 + clear) return [x, y, z]
  }
}

const turnOf = (random: Random): [number, number, number] => [random.real(0, 360), random.real(0, 90), 0]

function plainShape(random: Random, i: number): KeepOut['shape'] {
  const at = placeOf(random, 150)
  const size = () => random.real(20, 120)
  if (i % 3 === 0) return { kind: 'box', at, size: [size(), size(), size()], turn: turnOf(random) }
  if (i % 3 === 1)
    return { kind: 'cylinder', from: at, to: [at[0], at[1] + size(), at[2] + size()], radius: size() / 3 }
  const points = Array.from({ length: 12 }, () => random.point(60).map((x, k) => x + at[k]) as [number, number, number])
  return { kind: 'hull', points }
}
