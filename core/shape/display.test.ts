import { describe, expect, it } from 'vitest'
import { displayOf } from './display.ts'
import type { Display } from './displayData.ts'
import type { Mesh } from './mesh.ts'
import { checkMesh } from './meshCheck.ts'
import type { Shape } from './registry.ts'
import { solidOf } from './solid.ts'
import { cross, dot, length, sub, type Vec3 } from './vec.ts'

const at = (array: Float32Array, i: number): Vec3 => [array[3 * i], array[3 * i + 1], array[3 * i + 2]]
const corners = (shown: Display, t: number): Vec3[] =>
  [0, 1, 2].map((k) => at(shown.positions, shown.triangles[3 * t + k]))
const show = (
  shape: Shape,
  options: { sag?: number; mirrored?: boolean; meshes?: Map<string, Mesh> } = {},
): Display => {
  const made = solidOf(shape, { meshes: options.meshes ?? new Map(), mirrored: options.mirrored })
  if (!made.ok) throw new Error(JSON.stringify(made.faults))
  return displayOf(made.value, { within: made.value.bounds, sag: options.sag })
}
const checked = (positions: number[], triangles: number[]): Mesh => {
  const made = checkMesh(Float64Array.from(positions), Uint32Array.from(triangles))
  if (!made.ok) throw new Error('no mesh')
  return made.value.mesh
}
const cubeMesh = checked(
  Array.from({ length: 24 }, (_, i) => ((Math.floor(i / 3) >> (i % 3)) & 1) * 4),
  [0, 4, 6, 0, 6, 2, 1, 3, 7, 1, 7, 5, 0, 1, 5, 0, 5, 4, 2, 6, 7, 2, 7, 3, 0, 2, 3, 0, 3, 1, 4, 5, 7, 4, 7, 6],
)
const tube: Shape = {
  kind: 'tube',
  path: [
    [0, 0, 0],
    [300, 0, 0],
    [300, 300, 0],
    [300, 300, 300],
  ],
  radius: 30,
  bendRadius: 60,
}

/** Normals are unit, and lie on the outer side of their triangles. */
function expectOutward(shown: Display): void {
  for (let t = 0; t < shown.triangles.length / 3; t++) {
    const [a, b, c] = corners(shown, t)
    const face = cross(sub(b, a), sub(c, a))
    for (let k = 0; k < 3; k++) {
      const normal = at(shown.normals, shown.triangles[3 * t + k])
      expect(Math.abs(length(normal) - 1)).toBeLessThan(1e-6)
      expect(dot(normal, face)).toBeGreaterThan(0)
    }
  }
}

describe('displayOf', () => {
  it('should show a box with its twelve edges and flat faces', () => {
    const shown = show({ kind: 'box', at: [10, 20, 30], size: [2, 4, 6], turn: [10, 20, 30] })
    expect([shown.triangles.length / 3, shown.edges.length / 6, shown.positions.length / 3]).toEqual([12, 12, 24])
    expectOutward(shown)
  })

  it('should show a tube with the circles of its ends as its only edges', () => {
    const shown = show(tube)
    expectOutward(shown)
    for (let i = 0; i < shown.edges.length / 3; i++) {
      const [x, y, z] = at(shown.edges, i)
      const end = Math.abs(x) < 1e-4 ? Math.hypot(y, z) : Math.abs(z - 300) < 1e-4 ? Math.hypot(x - 300, y - 300) : 0
      expect(end).toBeCloseTo(30, 4)
    }
  })

  it('should keep facets within the sag asked for, at corners on the surface', () => {
    for (const sag of [0.02, 0.05, 0.5]) {
      const shown = show({ kind: 'cylinder', from: [0, 0, 0], to: [0, 0, 50], radius: 20 }, { sag })
      const wall = Array.from({ length: shown.triangles.length / 3 }, (_, t) => corners(shown, t))
      let deepest = 0
      for (const [a, b, c] of wall)
        for (const [p, q] of [
          [a, b],
          [b, c],
          [c, a],
        ]) {
          expect(Math.hypot(p[0], p[1])).toBeCloseTo(20, 4)
          // Only facets of the wall: chords of the flat ends cross the disc.
          if (p[2] !== q[2]) deepest = Math.max(deepest, 20 - Math.hypot((p[0] + q[0]) / 2, (p[1] + q[1]) / 2))
        }
      expect(deepest).toBeLessThanOrEqual(sag + 1e-5)
      expect(deepest).toBeGreaterThan(sag / 10)
    }
  })

  it('should draw the creases of a mesh and no edge inside its flat faces', () => {
    const shown = show({ kind: 'mesh', file: 'cube', unit: 'mm' }, { meshes: new Map([['cube', cubeMesh]]) })
    expect(shown.edges.length / 6).toBe(12)
    expectOutward(shown)
  })

  it('should keep a mirrored mesh and a mirrored tube outside out', () => {
    const mirrored = { mirrored: true, meshes: new Map([['cube', cubeMesh]]) }
    expectOutward(show({ kind: 'mesh', file: 'cube', unit: 'mm', at: [5, 6, 7], turn: [10, 20, 30] }, mirrored))
    expectOutward(show(tube, mirrored))
    expectOutward(
      show(
        {
          kind: 'hull',
          points: [
            [0, 0, 0],
            [9, 0, 0],
            [0, 9, 0],
            [0, 0, 9],
          ],
        },
        mirrored,
      ),
    )
  })

  it('should draw the rim of a shell, and shade it smooth where it bends gently', () => {
    const sheet = Array.from({ length: 9 }, (_, i) => [10 * (i % 3), 10 * Math.floor(i / 3), i === 4 ? 1 : 0]).flat()
    const quads = [0, 1, 3, 4].flatMap((i) => [i, i + 1, i + 4, i, i + 4, i + 3])
    const shown = show(
      { kind: 'mesh', file: 'sheet', unit: 'mm' },
      { meshes: new Map([['sheet', checked(sheet, quads)]]) },
    )
    expect(shown.edges.length / 6).toBe(8)
    expect(shown.positions.length / 3).toBe(9)
  })

  it('should draw no edge where two triangles of a flat shell are wound differently', () => {
    const square = checked([0, 0, 0, 9, 0, 0, 9, 9, 0, 0, 9, 0], [0, 1, 2, 0, 3, 2])
    expect(
      show({ kind: 'mesh', file: 'square', unit: 'mm' }, { meshes: new Map([['square', square]]) }).edges.length / 6,
    ).toBe(4)
  })

  it('should join the forms of a solid into one display with numbers that fit', () => {
    const shown = show({
      kind: 'sweep',
      section: [
        [0, 0],
        [30, 0],
        [30, 20],
        [20, 20],
        [20, 10],
        [0, 10],
      ],
      path: [
        [0, 0, 0],
        [200, 0, 0],
        [300, 200, 0],
      ],
      up: [0, 0, 1],
    })
    expect(Math.max(...shown.triangles)).toBeLessThan(shown.positions.length / 3)
    expect(shown.normals.length).toBe(shown.positions.length)
    expectOutward(shown)
  })
})
