import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { anyPoint, anyTurn } from '../../test/kit/anyShape.ts'
import { everySolid } from '../../test/kit/everySolid.ts'
import { solidVolume } from './measure.ts'
import { checkMesh } from './meshCheck.ts'
import { scaledMesh } from './meshShape.ts'
import type { Shape } from './registry.ts'
import { solidOf } from './solid.ts'

const cubeCorners = Float64Array.from({ length: 24 }, (_, i) => ((Math.floor(i / 3) >> (i % 3)) & 1) * 4)
const cubeTriangles = Uint32Array.of(
  0,
  4,
  6,
  0,
  6,
  2,
  1,
  3,
  7,
  1,
  7,
  5,
  0,
  1,
  5,
  0,
  5,
  4,
  2,
  6,
  7,
  2,
  7,
  3,
  0,
  2,
  3,
  0,
  3,
  1,
  4,
  5,
  7,
  4,
  7,
  6,
)
const checked = (positions: Float64Array, triangles: Uint32Array) => {
  const made = checkMesh(positions, triangles)
  if (!made.ok) throw new Error(JSON.stringify(made.faults))
  return made.value.mesh
}
const meshes = new Map([
  ['cube.stl', checked(cubeCorners, cubeTriangles)],
  ['lid.stl', checked(cubeCorners, cubeTriangles.slice(0, 6))],
  [
    'far.stl',
    checked(
      cubeCorners.map((x) => x + 9e6),
      cubeTriangles,
    ),
  ],
])
const plain = { kind: 'mesh', file: 'cube.stl', unit: 'mm' }

everySolid({
  kind: 'mesh',
  seed: 4107,
  meshes,
  any: fc.record({
    kind: fc.constant('mesh'),
    file: fc.constantFrom('cube.stl', 'lid.stl'),
    unit: fc.constantFrom('mm', 'cm', 'm', 'inch', 'foot'),
    at: anyPoint,
    turn: anyTurn,
  }),
  broken: [
    { name: 'a missing unit', shape: { kind: 'mesh', file: 'cube.stl' }, fault: 'schema' },
    { name: 'an unknown unit', shape: { ...plain, unit: 'yard' }, fault: 'schema' },
    { name: 'an empty file name', shape: { ...plain, file: '' }, fault: 'schema' },
    { name: 'a mesh that was not read', shape: { ...plain, file: 'other.stl' }, fault: ['mesh-missing', 'shape.file'] },
    {
      name: 'a mesh of ten thousand kilometres',
      shape: { ...plain, file: 'far.stl', unit: 'm' },
      fault: ['mesh-too-large', 'shape.unit'],
    },
  ],
})

describe('mesh', () => {
  const solid = (shape: Shape, mirrored = false) => {
    const made = solidOf(shape, { meshes, mirrored })
    if (!made.ok) throw new Error(JSON.stringify(made.faults))
    return made.value
  }

  it('should scale, then turn about its own origin, then move', () => {
    const made = solid({ kind: 'mesh', file: 'cube.stl', unit: 'inch', at: [100, 0, 0], turn: [0, 0, 90] })
    // 0 … 101.6 along X becomes 0 … 101.6 along Y, and 0 … 101.6 along Y becomes −101.6 … 0 along X.
    expect(made.bounds.min[0]).toBeCloseTo(-1.6, 9)
    expect(made.bounds.max[0]).toBeCloseTo(100, 9)
    expect(made.bounds.max[1]).toBeCloseTo(101.6, 9)
    expect(solidVolume(made)).toBeCloseTo(101.6 ** 3, 6)
  })

  it('should be open where its mesh is', () => {
    expect(solid({ kind: 'mesh', file: 'cube.stl', unit: 'mm' }).open).toBe(false)
    expect(solid({ kind: 'mesh', file: 'lid.stl', unit: 'mm' }).open).toBe(true)
  })

  it('should give one mesh object for each unit, mirrored or not, so that trees are found again', () => {
    const [cube] = meshes.values()
    expect(scaledMesh(cube, 'inch')).toBe(scaledMesh(cube, 'inch'))
    expect(scaledMesh(cube, 'mm')).toBe(cube)
    const [a] = solid({ kind: 'mesh', file: 'cube.stl', unit: 'cm' }).forms
    const [b] = solid({ kind: 'mesh', file: 'cube.stl', unit: 'cm', at: [1, 2, 3] }, true).forms
    if (a.form !== 'mesh' || b.form !== 'mesh') throw new Error('not a mesh')
    expect(b.mesh).toBe(a.mesh)
    expect(b.pose).toEqual({ turn: [1, 0, 0, 0, -1, 0, 0, 0, 1], at: [1, -2, 3] })
  })
})
