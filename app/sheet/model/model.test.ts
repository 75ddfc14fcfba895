import Module from 'manifold-3d'
import { Matrix4 } from 'three'
import { GLTFLoader } from 'three/examples/jsm/loaders/GLTFLoader.js'
import { STLLoader } from 'three/examples/jsm/loaders/STLLoader.js'
import { expect, test } from 'vitest'
import { type DrawnThing, drawnThings } from '../../../core/sheet/drawing/drawing.ts'
import { centrelineLength } from '../../../core/shape/centreline.ts'
import { closedMesh } from '../../../core/shape/closedMesh.ts'
import { measureForm, solidVolume } from '../../../core/shape/measure.ts'
import { openBay } from '../../files/bayFolder.ts'
import { candidateGlb } from './glb.ts'
import { candidateStl, modelSag } from './stl.ts'

/* Read back by three's loaders, and judged closed by manifold-3d, which refuses what is not; neither shares a line with the writers. */

const manifold = await Module()
manifold.setup()

async function things(bay: string, candidate: number): Promise<readonly DrawnThing[]> {
  const opened = await openBay(`assets/${bay}/${bay}.bay.json`)
  if (!opened.ok) throw new Error(JSON.stringify(opened.faults))
  const drawn = drawnThings(opened.value.bay, opened.value.bay.candidates[candidate], opened.value.meshes)
  if (!drawn.ok) throw new Error(JSON.stringify(drawn.faults))
  return drawn.value
}

/** Of a closed surface, mm³ for mm; throws where it is not closed. */
function volumeOf(vertProperties: Float32Array, triVerts: Uint32Array): number {
  const mesh = new manifold.Mesh({ numProp: 3, vertProperties, triVerts })
  mesh.merge()
  const solid = new manifold.Manifold(mesh)
  expect(solid.status()).toBe('NoError')
  return solid.volume()
}

/** Both kinds of error of facets stay within the sag times the surface; single precision adds 1e-7 of the size of the car. */
function allowed(thing: DrawnThing): number {
  return thing.solid.forms.reduce((sum, form) => {
    const flat = form.form === 'convex' && form.body.kind === 'polytope'
    return sum + ((flat ? 0 : modelSag) + 1e-4) * (measureForm(form)?.area ?? 0)
  }, 0)
}

test.each([
  ['tarnbeck', 0],
  ['tarnbeck', 2],
  ['corvane', 0],
] as const)('the STL of %s, candidate %i: closed, and as much volume as the solids', async (bay, candidate) => {
  const drawn = await things(bay, candidate)
  const parts = drawn.filter(({ role }) => role === 'part')
  const bytes = candidateStl(drawn)
  const positions = new STLLoader().parse(bytes.buffer as ArrayBuffer).getAttribute('position').array as Float32Array
  expect(positions.length).toBeGreaterThan(3000)
  const triangles = Uint32Array.from({ length: positions.length / 3 }, (_, i) => i)
  const exact = parts.reduce((sum, { solid }) => sum + (solidVolume(solid) ?? Number.NaN), 0)
  const slack = parts.reduce((sum, thing) => sum + allowed(thing), 0)
  expect(Math.abs(volumeOf(positions, triangles) - exact)).toBeLessThan(slack)
  expect(slack / exact).toBeLessThan(0.005)
  // The judge of what is closed can say no.
  expect(() =>
    volumeOf(
      positions.subarray(9),
      triangles.subarray(3).map((i) => i - 3),
    ),
  ).toThrow()
})

test('the GLB: each part by its name, closed, in metres, Y up and the car’s front towards +Z', async () => {
  const drawn = await things('tarnbeck', 0)
  const bytes = await candidateGlb(drawn, 'wide')
  const { scene } = await new GLTFLoader().parseAsync(bytes.buffer as ArrayBuffer, '')
  scene.updateMatrixWorld(true)
  const parts = drawn.filter(({ role }) => role === 'part')
  expect(scene.children.map(({ name }) => name)).toEqual(parts.map(({ name }) => name))
  // Back to the bay: what the writer says of its axes, turned round by hand.
  const back = new Matrix4().set(0, 0, -1000, 0, -1000, 0, 0, 0, 0, 1000, 0, 0, 0, 0, 0, 1)
  for (const [n, thing] of parts.entries()) {
    let volume = 0
    const [low, high] = [
      [Infinity, Infinity, Infinity],
      [-Infinity, -Infinity, -Infinity],
    ]
    scene.children[n].traverse((object) => {
      if (!('geometry' in object)) return
      const { geometry } = object as unknown as { geometry: import('three').BufferGeometry }
      const own = geometry.clone().applyMatrix4(object.matrixWorld).applyMatrix4(back)
      const positions = own.getAttribute('position').array as Float32Array
      volume += volumeOf(positions, Uint32Array.from(own.index?.array ?? []))
      for (let i = 0; i < positions.length; i++) {
        low[i % 3] = Math.min(low[i % 3], positions[i])
        high[i % 3] = Math.max(high[i % 3], positions[i])
      }
    })
    expect(Math.abs(volume - (solidVolume(thing.solid) ?? 0)), thing.name).toBeLessThan(allowed(thing))
    const { min, max } = thing.solid.bounds
    for (let k = 0; k < 3; k++) {
      expect(Math.abs(low[k] - min[k]), thing.name).toBeLessThan(2 * modelSag)
      expect(Math.abs(high[k] - max[k]), thing.name).toBeLessThan(2 * modelSag)
    }
  }
})

test('a bend as facets has the volume that Pappus gives it within the sag times its surface, and tells a wrong one (checks A6.5)', () => {
  const angle = Math.PI / 2
  const form = {
    form: 'round',
    radius: 31.75,
    centreline: [{ kind: 'arc', centre: [0, 0, 0], x: [1, 0, 0], y: [0, 1, 0], radius: 90, angle }],
  } as const
  const made = closedMesh(form, 0.05)
  if (!made) throw new Error('a round form has a surface')
  const volume = volumeOf(Float32Array.from(made.positions), Uint32Array.from(made.triangles))
  // A quarter of the torus R 90, r 31.75: 1 790 852.05558 mm³ and 112 809.578304 mm² (checks A6.5), ends besides.
  const exact = 1790852.05558 / 4
  expect(Math.abs(volume - exact)).toBeLessThan(0.05 * (112809.578304 / 4))
  expect(Math.abs(volume - exact)).toBeGreaterThan(0)
  expect(centrelineLength(form.centreline)).toBeCloseTo(90 * angle, 9)
})

test('the same bytes every time', async () => {
  const drawn = await things('corvane', 1)
  expect(Buffer.from(candidateStl(drawn)).equals(candidateStl(drawn))).toBe(true)
  expect(Buffer.from(await candidateGlb(drawn, 'deep')).equals(await candidateGlb(drawn, 'deep'))).toBe(true)
})
