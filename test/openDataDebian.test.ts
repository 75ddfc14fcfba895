import { existsSync, readdirSync, readFileSync } from 'node:fs'
import { basename, join } from 'node:path'
import { describe, expect, test } from 'vitest'
import type { Mesh } from '../core/shape/mesh.ts'
import { loadMesh } from '../app/files/bayMeshes.ts'

/*
 * Meshes from Debian packages, good and broken ones, that nobody here made; they are read where they are installed and
 * are not kept here. What they must come out as was measured with other programs: checks G4 to G7. To have them:
 * apt-get install netgen-doc occt-misc gmsh-doc assimp-testmodels
 */
const share = '/usr/share'
const packages = {
  'netgen-doc': 'doc/netgen/examples',
  'occt-misc': 'opencascade/data/stl',
  'gmsh-doc': 'doc/gmsh-doc',
  'assimp-testmodels': 'assimp/models',
}
type Package = keyof typeof packages

/** Tests on a package's files, counted as skipped where it is not installed. */
const forPackage = (name: Package, tests: (file: (path: string) => string) => void) => {
  const folder = join(share, packages[name])
  describe.skipIf(!existsSync(folder))(`${name}${existsSync(folder) ? '' : ' (not installed)'}`, () =>
    tests((path) => join(folder, path)),
  )
}

async function read(path: string) {
  return loadMesh(basename(path), new Uint8Array(readFileSync(path)))
}
async function meshOf(path: string) {
  const loaded = await read(path)
  if (!loaded.ok) throw new Error(JSON.stringify(loaded.faults))
  return loaded.value
}
/** Within one unit of the last place that the list of checks gives. */
function expectClose(value: number | null, listed: string): void {
  const places = listed.split('.')[1]?.length ?? 0
  expect(Math.abs((value ?? Number.NaN) - Number(listed))).toBeLessThanOrEqual(10 ** -places)
}
/** Sum of the signed volumes under all triangles, closed or not, as the list of checks took it. */
function volumeAsWound({ positions: p, triangles }: Mesh): number {
  let six = 0
  for (let t = 0; t < triangles.length; t += 3) {
    const [a, b, c] = [3 * triangles[t], 3 * triangles[t + 1], 3 * triangles[t + 2]]
    six +=
      p[a] * (p[b + 1] * p[c + 2] - p[b + 2] * p[c + 1]) -
      p[a + 1] * (p[b] * p[c + 2] - p[b + 2] * p[c]) +
      p[a + 2] * (p[b] * p[c + 1] - p[b + 1] * p[c])
  }
  return six / 6
}

forPackage('netgen-doc', (file) => {
  test.each([
    [
      'part1.stl',
      { vertices: 190, triangles: 380, eulerCharacteristic: 0, closed: true },
      '122.957273',
      '76.367474',
      [6, 5, 3],
    ],
    [
      'hinge.stl',
      { vertices: 598, triangles: 1212, eulerCharacteristic: -8, closed: true },
      '4325.538528',
      '6336.382860',
      [50, 30, 10],
    ],
  ])('G4 %s', async (name, expected, area, volume, size) => {
    const { report } = await meshOf(file(name))
    expect(report).toMatchObject(expected)
    expectClose(report.area, area)
    expectClose(report.volume, volume)
    size.forEach((x, axis) => {
      expect(report.bounds.max[axis] - report.bounds.min[axis]).toBeCloseTo(x, 5)
    })
  })
})

forPackage('occt-misc', (file) => {
  test.each([
    ['shape.stl', { vertices: 249, triangles: 494, eulerCharacteristic: 2, closed: true }, '328752.588'],
    ['sh2.stl', { eulerCharacteristic: 2, closed: true }, '53997.744'],
    ['TR12J_OCC.stl', { triangles: 26_966, eulerCharacteristic: -42, closed: true }, '8714532.25'],
  ])('G5 %s, closed', async (name, expected, volume) => {
    const { report } = await meshOf(file(name))
    expect(report).toMatchObject(expected)
    expectClose(report.volume, volume)
  })

  test('G5 TR12J_OCC.stl is 506 × 500.5 × 320.5', async () => {
    const { bounds } = (await meshOf(file('TR12J_OCC.stl'))).report
    expect(bounds.max.map((x, axis) => x - bounds.min[axis])).toEqual([506, 500.5, 320.5])
  })

  test('G5 propeller.stl: each edge has two triangles, but 12 edges have them wound against each other, so no solid', async () => {
    const { mesh, report } = await meshOf(file('propeller.stl'))
    expect(report).toMatchObject({
      vertices: 3689,
      triangles: 7374,
      eulerCharacteristic: 2,
      openEdges: 0,
      nonManifoldEdges: 0,
    })
    expect(report).toMatchObject({ closed: false, volume: null, misdirectedEdges: 12 })
    expectClose(volumeAsWound(mesh), '1952924.47')
  })

  test('G5 bearing.stl and motor.stl are no solids', async () => {
    expect((await meshOf(file('bearing.stl'))).report).toMatchObject({
      openEdges: 134,
      nonManifoldEdges: 0,
      closed: false,
    })
    const { report } = await meshOf(file('motor.stl'))
    expect(report).toMatchObject({ nonManifoldEdges: 162, closed: false })
    // 10 open edges in the list; each of the triangles without area that are left out opens three more.
    expect(report.openEdges).toBe(10 + 3 * report.dropped.zeroArea)
  })

  test('every other file is read, with finite coordinates', async () => {
    const names = readdirSync(file('')).filter((name) => name.endsWith('.stl'))
    expect(names.length).toBeGreaterThanOrEqual(9)
    for (const name of names) expect((await meshOf(file(name))).mesh.positions.every(Number.isFinite)).toBe(true)
  })
})

forPackage('gmsh-doc', (file) => {
  test.each([
    [
      'doc/gmsh/tutorial/t13_data.stl.gz',
      { vertices: 788, triangles: 1580, eulerCharacteristic: -2, closed: true },
      '67815.766',
    ],
    // Binary, though its header begins with 'solid'.
    [
      'converters/stl_to_cartesian/lever.stl.gz',
      { vertices: 377, triangles: 774, eulerCharacteristic: -10, closed: true },
      '102309.536',
    ],
  ])('G6 %s', async (name, expected, volume) => {
    const { report } = await meshOf(file(name))
    expect(report).toMatchObject(expected)
    expectClose(report.volume, volume)
  })

  test('every packed STL is read', async () => {
    const found = readdirSync(file(''), { recursive: true, encoding: 'utf8' }).filter((name) =>
      name.endsWith('.stl.gz'),
    )
    expect(found.length).toBeGreaterThanOrEqual(8)
    for (const name of found) expect((await meshOf(file(name))).report.triangles).toBeGreaterThan(0)
  })
})

forPackage('assimp-testmodels', (file) => {
  test('G7 Wuson.stl: 3732 triangles, 412 open edges; the OBJ of it has as many', async () => {
    const expected = { triangles: 3732, openEdges: 412, closed: false }
    expect((await meshOf(file('STL/Wuson.stl'))).report).toMatchObject(expected)
    expect((await meshOf(file('OBJ/WusonOBJ.obj'))).report).toMatchObject(expected)
  })

  test('G7 the same spider in ASCII and in binary', async () => {
    const [ascii, binary] = [
      (await meshOf(file('STL/Spider_ascii.stl'))).report,
      (await meshOf(file('STL/Spider_binary.stl'))).report,
    ]
    expect(ascii.triangles).toBe(binary.triangles)
    expect(ascii.area).toBeCloseTo(binary.area, 4)
  })

  // Cubes with an edge of 1 (by their names and coordinates): area 6, volume 1.
  test.each([
    ...[
      'box.obj',
      'box_mat_with_spaces.obj',
      'box_without_lineending.obj',
      'cube_usemtl.obj',
      'cube_with_vertexcolors.obj',
      'testmixed.obj',
    ].map((n) => `OBJ/${n}`),
    ...['PLY/cube.ply', 'PLY/cube_binary.ply'],
    ...['BoxBadNormals-glTF-Binary/BoxBadNormals.glb', 'BoxTextured-glTF-Binary/BoxTextured.glb'].map(
      (n) => `glTF2/${n}`,
    ),
  ])('G7 unit cube %s', async (name) => {
    const { report } = await meshOf(file(name))
    expect(report).toMatchObject({ vertices: 8, triangles: 12, closed: true })
    expect(report.area).toBeCloseTo(6, 12)
    expect(report.volume).toBeCloseTo(1, 12)
  })

  test.each([
    ['invalid/empty.obj', { code: 'mesh-empty-file' }],
    ['invalid/empty.ply', { code: 'mesh-empty-file' }],
    ['invalid/malformed.obj', { code: 'mesh-bad-index', line: 23, item: 'face 1', got: '12' }],
    ['invalid/malformed2.obj', { code: 'mesh-syntax', line: 23, expected: 'at least 3 corners' }],
    ['OBJ/box_UTF16BE.obj', { code: 'mesh-syntax', got: 'text in UTF-16' }],
    ['OBJ/box_longline.obj', { code: 'mesh-face-crosses-itself', line: 24 }],
    ['OBJ/number_formats.obj', { code: 'mesh-not-finite', line: 11, got: '3.1+e2' }],
    ['OBJ/point_cloud.obj', { code: 'mesh-no-triangles' }],
    ['OBJ/testpoints.obj', { code: 'mesh-no-triangles' }],
    ['PLY/points.ply', { code: 'mesh-no-triangles' }],
    ['PLY/issue623.ply', { code: 'mesh-no-triangles' }],
    ['PLY/Wuson.ply', { code: 'mesh-syntax', line: 3 }],
    [
      'glTF2/BoxWithInfinites-glTF-Binary/BoxWithInfinites.glb',
      { code: 'mesh-not-finite', item: 'vertex 1', got: '-Infinity' },
    ],
    ['glTF/BoxTextured-glTF-Binary/BoxTextured.glb', { code: 'mesh-unsupported', got: 'version 1' }],
  ])('G7 broken or foreign %s is refused by name', async (name, fault) => {
    expect(await read(file(name))).toMatchObject({ ok: false, faults: [{ file: basename(name), ...fault }] })
  })

  test('no file of any kind makes a reader throw, whatever name it comes under', async () => {
    const files = readdirSync(file(''), { recursive: true, withFileTypes: true }).filter((entry) => entry.isFile())
    let good = 0
    for (const entry of files) {
      const bytes = new Uint8Array(readFileSync(join(entry.parentPath, entry.name)))
      for (const ending of ['stl', 'obj', 'ply', 'glb']) {
        const loaded = await loadMesh(`x.${ending}`, bytes)
        if (!loaded.ok) continue
        good++
        expect(loaded.value.mesh.positions.every(Number.isFinite)).toBe(true)
      }
    }
    expect(files.length).toBeGreaterThan(100)
    expect(good).toBeGreaterThan(20)
  })
})
