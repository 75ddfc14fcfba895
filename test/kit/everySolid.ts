import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { pointAt } from '../../core/shape/centreline.ts'
import { displayOf } from '../../core/shape/display.ts'
import type { Display } from '../../core/shape/displayData.ts'
import type { Bounds, Form, Polytope, Solid } from '../../core/shape/form.ts'
import { loopNormal, vertexAt } from '../../core/shape/polytope.ts'
import { measureForm, solidVolume } from '../../core/shape/measure.ts'
import type { Mesh } from '../../core/shape/mesh.ts'
import { checkMesh, type MeshReport } from '../../core/shape/meshCheck.ts'
import { mirroredSolid } from '../../core/shape/mirror.ts'
import { type Shape, type ShapeKind, shapeSchema } from '../../core/shape/registry.ts'
import { solidOf } from '../../core/shape/solid.ts'
import { dot, length, type Vec3 } from '../../core/shape/vec.ts'
import { exactSignOfDot } from './exact.ts'

export interface SolidKit<K extends ShapeKind> {
  readonly kind: K
  /** Any shape of the kind that stands for a solid, sizes and places as they come. */
  readonly any: fc.Arbitrary<Shape & { kind: K }>
  readonly seed: number
  /** Wrong values of the shape: `schema`, or the code and field of the fault. */
  readonly broken: readonly {
    readonly name: string
    readonly shape: unknown
    readonly fault: 'schema' | readonly [code: string, field: string]
  }[]
  readonly meshes?: ReadonlyMap<string, Mesh>
}

const options = { numRuns: 150 }

/**
 * What every shape of the bay file must keep. Called once by each shape's own test; the registry's test fails for a
 * shape without a call.
 */
export function everySolid<K extends ShapeKind>({ kind, any, seed, broken, meshes = new Map() }: SolidKit<K>): void {
  const solid = (shape: Shape): Solid => {
    const made = solidOf(shape, { meshes })
    if (!made.ok) throw new Error(`no solid: ${JSON.stringify({ faults: made.faults, shape })}`)
    return made.value
  }
  const always = (check: (solid: Solid, shape: Shape & { kind: K }) => void) =>
    fc.assert(
      fc.property(any, (shape) => {
        check(solid(shape), shape)
      }),
      { ...options, seed },
    )

  describe(`every solid: ${kind} (seed ${seed})`, () => {
    it('should read back from JSON as the same shape', () =>
      always((_, shape) => expect(shapeSchema.parse(JSON.parse(JSON.stringify(shape)))).toEqual(shape)))

    it('should give the same solid each time, and only numbers', () =>
      always((made, shape) => {
        expect(solid(shape)).toEqual(made)
        expect(JSON.stringify(made.forms)).not.toContain('null')
      }))

    it('should have forms that keep their own promises', () => always(({ forms }) => forms.forEach(expectSoundForm)))

    it('should lie in its bounds and touch each side of them', () =>
      always((made) => {
        const { min, max } = made.bounds
        if (![...min, ...max].every(Number.isFinite)) return expect(kind).toBe('halfSpace')
        const size = sizeOf(made.bounds)
        const shown = pointsBounds(displayOf(made, { within: made.bounds, sag: size * 1e-4 }).positions)
        // Single precision, and facets inside the true surface.
        const rounding = 1e-6 * Math.max(...[...min, ...max].map(Math.abs))
        for (let k = 0; k < 3; k++) {
          expect(shown.min[k]).toBeGreaterThanOrEqual(min[k] - rounding)
          expect(shown.max[k]).toBeLessThanOrEqual(max[k] + rounding)
          expect(shown.min[k]).toBeLessThanOrEqual(min[k] + rounding + 0.02 * size)
          expect(shown.max[k]).toBeGreaterThanOrEqual(max[k] - rounding - 0.02 * size)
        }
      }))

    it('should be itself when mirrored twice, and as large when mirrored once', () =>
      always((made, shape) => {
        const once = mirroredSolid(made)
        expect(mirroredSolid(once)).toEqual(made)
        const asked = solidOf(shape, { meshes, mirrored: true })
        expect(asked).toEqual({ ok: true, value: { ...once, bounds: expect.anything() } })
        const [there, back] = [solidVolume(once), solidVolume(made)]
        if (back === null) expect(there).toBeNull()
        else expect(there).toBeCloseTo(back, 9 - Math.round(Math.log10(back)))
        once.forms.forEach(expectSoundForm)
      }))

    it('should show a closed surface around its volume', () => {
      let shown = 0
      always((made) => {
        const volume = solidVolume(made)
        if (volume === null) return expect(kind === 'halfSpace' || made.open).toBe(true)
        expect(volume).toBeGreaterThan(0)
        if (tooSmallToShow(made)) return
        shown++
        const surface = surfaceOf(displayOf(made, { within: made.bounds, sag: 1e-5 * sizeOf(made.bounds) }))
        expect(surface).toMatchObject({ openEdges: 0, misdirectedEdges: 0, turnedBack: 0 })
      })
      expect(shown).toBeGreaterThan(kind === 'halfSpace' ? -1 : options.numRuns / 3)
    })

    for (const { name, shape, fault } of broken)
      it(`should refuse ${name}`, () => {
        const read = shapeSchema.safeParse(shape)
        if (fault === 'schema') return expect(read.success).toBe(false)
        if (!read.success) throw new Error(`refused by the schema already: ${read.error.message}`)
        const made = solidOf(read.data, { meshes })
        expect(made).toMatchObject({
          ok: false,
          faults: [{ code: fault[0], field: fault[1], expected: expect.any(String) }],
        })
      })
  })
}

const sizeOf = ({ min, max }: Bounds): number => Math.hypot(max[0] - min[0], max[1] - min[1], max[2] - min[2])

/** Single precision has 24 bits: what is small for its distance from the origin melts into one point. */
const tooSmallToShow = ({ forms, bounds }: Solid): boolean =>
  1e-4 * Math.max(...[...bounds.min, ...bounds.max].map(Math.abs)) > Math.min(...forms.map((form) => thinnest(form)))

function thinnest(form: Form): number {
  const measure = measureForm(form)
  return measure ? measure.volume / measure.area : 0
}

function surfaceOf({ positions, triangles }: Display): MeshReport {
  const surface = checkMesh(Float64Array.from(positions), triangles)
  if (!surface.ok) throw new Error(JSON.stringify(surface.faults))
  return surface.value.report
}

function pointsBounds(positions: Float32Array): Bounds {
  const side = (pick: (...x: number[]) => number, start: number) =>
    [0, 1, 2].map((k) => positions.reduce((m, x, i) => (i % 3 === k ? pick(m, x) : m), start)) as unknown as Vec3
  return { min: side(Math.min, Infinity), max: side(Math.max, -Infinity) }
}

function expectSoundForm(form: Form): void {
  switch (form.form) {
    case 'convex':
      if (form.body.kind === 'polytope') expectSoundPolytope(form.body)
      else expect(form.body.radius).toBeGreaterThan(0)
      return
    case 'round':
      expectTangentContinuous(form.centreline)
      return
    case 'halfSpace':
      expect(length(form.normal)).toBeCloseTo(1, 14)
      return
    case 'mesh':
      expect(form.mesh.triangles.length).toBeGreaterThan(0)
  }
}

/** Planes that hold in exact arithmetic, faces that face outward, one closed surface, the centre inside. */
function expectSoundPolytope(body: Polytope): void {
  const { vertices, faces, planes } = body
  expect(planes.length).toBe(4 * faces.length)
  const directed = new Set<string>()
  faces.forEach((loop, f) => {
    const normal: Vec3 = [planes[4 * f], planes[4 * f + 1], planes[4 * f + 2]]
    expect(Math.abs(length(normal) - 1)).toBeLessThan(1e-15 * 4)
    expect(dot(normal, loopNormal(vertices, loop))).toBeGreaterThan(0)
    for (let i = 0; i < vertices.length / 3; i++)
      expect(exactSignOfDot([...normal, -planes[4 * f + 3]], [...vertexAt(body, i), 1])).toBeLessThanOrEqual(0)
    loop.forEach((a, i) => {
      const edge = `${a} ${loop[(i + 1) % loop.length]}`
      expect(directed.has(edge)).toBe(false)
      directed.add(edge)
    })
  })
  for (const edge of directed) expect(directed.has(edge.split(' ').reverse().join(' '))).toBe(true)
  const corners = new Set(faces.flat()).size
  expect(corners - directed.size / 2 + faces.length).toBe(2)
  const centre = measureForm({ form: 'convex', body })?.centroid as Vec3
  for (let f = 0; f < faces.length; f++)
    expect(dot([planes[4 * f], planes[4 * f + 1], planes[4 * f + 2]], centre)).toBeLessThan(planes[4 * f + 3])
}

function expectTangentContinuous(pieces: Parameters<typeof pointAt>[0]): void {
  expect(pieces.length).toBeGreaterThan(0)
  for (let i = 1; i < pieces.length; i++) {
    const [end, start] = [pointAt([pieces[i - 1]], Infinity), pointAt([pieces[i]], 0)]
    for (let k = 0; k < 3; k++) {
      expect(Math.abs(end.point[k] - start.point[k])).toBeLessThan(1e-8)
      expect(Math.abs(end.direction[k] - start.direction[k])).toBeLessThan(1e-7)
    }
  }
}
