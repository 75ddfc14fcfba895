import { describe, expect, it } from 'vitest'
import type { Form, Piece } from './form.ts'
import { hullPolytope } from './hull.ts'
import { measureForm, solidVolume, surfaceMeasure } from './measure.ts'
import { checkMesh } from './meshCheck.ts'
import { roundCorners } from './centreline.ts'
import { solidFrom } from './solid.ts'
import { identity, mirrorY, turnMatrix, type Vec3 } from './vec.ts'

const measured = (form: Form) => {
  const measure = measureForm(form)
  if (!measure) throw new Error('no measure')
  return measure
}
const hull = (points: readonly Vec3[]): Form => {
  const body = hullPolytope(points)
  if (!body.ok) throw new Error(JSON.stringify(body.faults))
  return { form: 'convex', body: body.value }
}
const round = (centreline: readonly Piece[], radius: number): Form => ({ form: 'round', centreline, radius })
/** A whole ring, as two half circles. */
const ring = (radius: number): Piece[] => [
  { kind: 'arc', centre: [0, 0, 0], x: [1, 0, 0], y: [0, 1, 0], radius, angle: Math.PI },
  { kind: 'arc', centre: [0, 0, 0], x: [-1, 0, 0], y: [0, -1, 0], radius, angle: Math.PI },
]

describe('measureForm', () => {
  it('should give a wedge bh(2a + c)/6: base 40 × 60, edge 20, height 10 (checks A6.4, handbook)', () => {
    const wedge = hull([
      [0, 0, 0],
      [40, 0, 0],
      [40, 60, 0],
      [0, 60, 0],
      [10, 30, 10],
      [30, 30, 10],
    ])
    expect(measured(wedge).volume).toBeCloseTo(10_000, 9)
  })

  it('should give a torus 2π²Rr²: R 90, r 31.75, and its surface with both flat ends (checks A6.5, Pappus and Guldin)', () => {
    const { volume, area } = measured(round(ring(90), 31.75))
    expect(volume / 1_790_852.05558).toBeCloseTo(1, 11)
    expect((area - 2 * Math.PI * 31.75 ** 2) / 112_809.578304).toBeCloseTo(1, 11)
  })

  it('should give the metal of a 90° bend: CLR 95.25, OD 63.5, wall 1.6 (checks A6.6, Pappus)', () => {
    const bend = roundCorners(
      [
        [-300, 0, 0],
        [0, 0, 0],
        [0, 300, 0],
      ],
      95.25,
    )
    if (!bend.ok) throw new Error('no bend')
    const arc = [bend.value[1]]
    const metal = measured(round(arc, 31.75)).volume - measured(round(arc, 30.15)).volume
    expect(metal).toBeCloseTo(46_552.7526, 4)
    expect(metal * 2700e-9).toBeCloseTo(0.12569, 5)
    expect(metal * 7850e-9).toBeCloseTo(0.36544, 5)
  })

  it('should give the tetrahedron of a published example its volume and centre (checks A6.9, Tonon 2005)', () => {
    const { volume, centroid } = measured(
      hull([
        [8.3322, -11.86875, 0.93355],
        [0.75523, 5, 16.37072],
        [52.61236, 5, -5.3858],
        [2, 5, 3],
      ]),
    )
    expect(volume).toBeCloseTo(1873.233364, 5)
    ;[15.92492, 0.78281, 3.72962].forEach((x, k) => {
      expect(centroid[k]).toBeCloseTo(x, 4)
    })
  })

  it('should give a cylinder πr²h and 2πr(r + h)', () => {
    const { volume, area, centroid } = measured({
      form: 'convex',
      body: { kind: 'cylinder', from: [1, 1, 1], to: [1, 1, 11], radius: 3 },
    })
    expect(volume).toBeCloseTo(90 * Math.PI, 10)
    expect(area).toBeCloseTo(2 * Math.PI * 3 * 13, 10)
    expect(centroid).toEqual([1, 1, 6])
  })

  it('should put the centre of a half ring where adding up thin wedges does', () => {
    const [half] = ring(90)
    const { centroid } = measured(round([half], 30))
    // Sum over angle and over the disc, each part weighed by its distance from the axis.
    let [weight, moment] = [0, 0]
    const n = 400
    for (let i = 0; i < n; i++)
      for (let j = 0; j < n; j++) {
        const a = (Math.PI * (i + 0.5)) / n
        const out = -30 + (60 * (j + 0.5)) / n
        const part = (90 + out) * Math.sqrt(900 - out * out)
        weight += part
        moment += part * (90 + out) * Math.sin(a)
      }
    expect(centroid[1]).toBeCloseTo(moment / weight, 2)
    expect(centroid[0]).toBeCloseTo(0, 9)
  })

  it('should give a mesh the same in any pose, its centre moved along, and null to shells and half-spaces', () => {
    const corner = {
      positions: Float64Array.of(0, 0, 0, 6, 0, 0, 0, 6, 0, 0, 0, 6),
      triangles: Uint32Array.of(0, 2, 1, 0, 1, 3, 0, 3, 2, 1, 2, 3),
    }
    const made = checkMesh(corner.positions, corner.triangles)
    if (!made.ok) throw new Error('no mesh')
    const { mesh } = made.value
    for (const turn of [identity, mirrorY, turnMatrix([10, 20, 30])])
      expect(measured({ form: 'mesh', mesh, pose: { turn, at: [100, 200, 300] } }).volume).toBeCloseTo(36, 12)
    expect(measured({ form: 'mesh', mesh, pose: { turn: mirrorY, at: [100, 200, 300] } }).centroid).toEqual([
      101.5, 198.5, 301.5,
    ])
    expect(
      measureForm({ form: 'mesh', mesh: { ...mesh, closed: false }, pose: { turn: identity, at: [0, 0, 0] } }),
    ).toBeNull()
    expect(measureForm({ form: 'halfSpace', point: [0, 0, 0], normal: [0, 0, 1] })).toBeNull()
    expect(solidVolume(solidFrom([{ form: 'halfSpace', point: [0, 0, 0], normal: [0, 0, 1] }]))).toBeNull()
  })

  it('should converge to a cone frustum πh(R² + Rr + r²)/3 as the hull of two circles gets finer (checks A6.3, handbook)', () => {
    const circle = (r: number, z: number, n: number) =>
      Array.from(
        { length: n },
        (_, i): Vec3 => [r * Math.cos((2 * Math.PI * i) / n), r * Math.sin((2 * Math.PI * i) / n), z],
      )
    const n = 720
    // An inscribed n-gon has the area of the circle times sin(2π/n) / (2π/n), and so have all sections.
    const share = Math.sin((2 * Math.PI) / n) / ((2 * Math.PI) / n)
    expect(measured(hull([...circle(38, 0, n), ...circle(25, 60, n)])).volume / share).toBeCloseTo(189_689.364424, 5)
  })
})

describe('surfaceMeasure', () => {
  it('should lose no digits far from the origin', () => {
    const at = [1e5, -1e5, 1e5]
    const positions = Float64Array.of(0, 0, 0, 1, 0, 0, 0, 1, 0, 0, 0, 1).map((x, i) => x + at[i % 3])
    expect(surfaceMeasure(positions, [0, 2, 1, 0, 1, 3, 0, 3, 2, 1, 2, 3]).volume).toBe(1 / 6)
  })
})
