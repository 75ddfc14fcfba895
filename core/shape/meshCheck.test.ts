import { createRequire } from 'node:module'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { checkMesh, type MeshReport } from './meshCheck.ts'

interface Cells {
  readonly positions: readonly number[][]
  readonly cells: readonly number[][]
}
const packaged = (name: string): Cells => createRequire(import.meta.url)(name) as Cells
const arrays = ({ positions, cells }: Cells): [Float64Array, Uint32Array] => [
  Float64Array.from(positions.flat()),
  Uint32Array.from(cells.flat()),
]

const checked = (positions: Float64Array, triangles: Uint32Array | null) => {
  const made = checkMesh(positions, triangles)
  if (!made.ok) throw new Error(JSON.stringify(made.faults))
  return made.value
}
const refused = (positions: number[], triangles: number[] | null) => {
  const made = checkMesh(Float64Array.from(positions), triangles && Uint32Array.from(triangles))
  return made.ok ? null : made.faults[0]
}

/** A cube from its low corner and side; `out` −1: facing inward. */
function cube(low: number[], side: number, out: 1 | -1 = 1): Cells {
  const positions = Array.from({ length: 8 }, (_, i) => low.map((x, k) => x + ((i >> k) & 1) * side))
  const quads = [
    [0, 4, 6, 2],
    [1, 3, 7, 5],
    [0, 1, 5, 4],
    [2, 6, 7, 3],
    [0, 2, 3, 1],
    [4, 5, 7, 6],
  ]
  const cells = quads.flatMap(([a, b, c, d]) => [
    [a, b, c],
    [a, c, d],
  ])
  return { positions, cells: out > 0 ? cells : cells.map(([a, b, c]) => [a, c, b]) }
}
function together(...parts: Cells[]): Cells {
  const positions: number[][] = []
  const cells: number[][] = []
  for (const part of parts) {
    const first = positions.length
    positions.push(...part.positions)
    cells.push(...part.cells.map((cell) => cell.map((i) => i + first)))
  }
  return { positions, cells }
}
const soup = ({ positions, cells }: Cells) =>
  Float64Array.from(cells.flatMap((cell) => cell.flatMap((i) => positions[i])))
const report = (cells: Cells): MeshReport => checked(...arrays(cells)).report

describe('checkMesh', () => {
  it('should read the bunny as its package has it: 1839 vertices, 3674 triangles, closed (checks G1, measured)', () => {
    const { mesh, report: found } = checked(...arrays(packaged('bunny')))
    expect(found).toMatchObject({
      vertices: 1839,
      triangles: 3674,
      eulerCharacteristic: 2,
      closed: true,
      openEdges: 0,
      nonManifoldEdges: 0,
      turnedBack: 0,
    })
    expect(found.area).toBeCloseTo(218.689271, 6)
    expect(found.volume).toBeCloseTo(194.288372, 6)
    expect(mesh.closed).toBe(true)
    for (const [side, expected] of [
      ['min', [-4.958475, -0.003149, -3.729833]],
      ['max', [4.94885, 9.654748, 3.810639]],
    ] as const)
      expected.forEach((x, k) => {
        expect(found.bounds[side][k]).toBeCloseTo(x, 6)
      })
  })

  it('should read the teapot as a shell (checks G2): 992 triangles, and the counts before merging are those listed there', () => {
    // The list's 792 vertices and 528 open edges are the package's own, unmerged: seams are stored twice. Merged, a
    // plain table of edges written for this comparison finds 529 and 64, and so must we.
    const teapot = packaged('teapot')
    expect([teapot.positions.length, teapot.cells.length]).toEqual([792, 992])
    const found = report(teapot)
    expect(found).toMatchObject({ vertices: 529, triangles: 992, openEdges: 64, closed: false, volume: null })
    expect(found.mergedVertices + found.vertices + found.unusedVertices).toBe(792)
  })

  it('should merge a soup into the mesh it came from', () => {
    const bunny = packaged('bunny')
    const { mesh, report: found } = checked(soup(bunny), null)
    expect(found).toMatchObject({ vertices: 1839, triangles: 3674, closed: true, mergedVertices: 3 * 3674 - 1839 })
    expect(found.volume).toBeCloseTo(194.288372, 6)
    const corner = (i: number) => [...mesh.positions.subarray(3 * mesh.triangles[i], 3 * mesh.triangles[i] + 3)]
    bunny.cells.flat().forEach((v, i) => {
      expect(corner(i)).toEqual(bunny.positions[v])
    })
  })

  it('should keep apart what differs in the last bit, and make −0 and 0 one', () => {
    const apart = checked(
      Float64Array.of(0, 0, 0, 1, 0, 0, 0, 1, 0, 0, 0, 0, 1 + Number.EPSILON, 0, 0, 0, 0, 1),
      null,
    ).report
    expect(apart).toMatchObject({ vertices: 5, mergedVertices: 1 })
    const { mesh, report: found } = checked(
      Float64Array.of(0, 0, 0, 1, 0, 0, 0, 1, 0, -0, 0, -0, 0, 0, 1, 1, 0, 0),
      null,
    )
    expect(found).toMatchObject({ vertices: 4, mergedVertices: 2 })
    for (const x of mesh.positions) expect(Object.is(x, -0)).toBe(false)
  })

  it('should drop and count triangles with a repeated corner and corners exactly on a line, and no other', () => {
    const positions = Float64Array.of(0, 0, 0, 4, 0, 0, 0, 4, 0, 1, 1, 1, 2, 2, 2, 3, 3, 3, 3, 3, 3 + 4e-16, 9, 9, 9)
    const { report: found } = checked(positions, Uint32Array.of(0, 1, 2, 0, 1, 1, 3, 4, 5, 3, 4, 6))
    expect(found).toMatchObject({ triangles: 2, dropped: { repeatedCorner: 1, zeroArea: 1 }, unusedVertices: 2 })
    expect(found.bounds.max).toEqual([4, 4, 3 + 4e-16])
  })

  it('should call a cube closed whose face is cut by a triangle without area, and keep what is inside inside', () => {
    const plain = cube([0, 0, 0], 10)
    // One edge gets a middle on one side only, and a triangle on that line to close what that opens.
    const [from, to] = plain.cells[0]
    const index = plain.cells.findIndex((cell) => cell.some((v, k) => v === from && cell[(k + 1) % 3] === to))
    const cell = plain.cells[index]
    const k = cell.indexOf(from)
    const third = cell[(k + 2) % 3]
    const middle = plain.positions.length
    const positions = [...plain.positions, plain.positions[from].map((x, axis) => (x + plain.positions[to][axis]) / 2)]
    const cells = [
      ...plain.cells.filter((_, i) => i !== index),
      [from, middle, third],
      [middle, to, third],
      [from, to, middle],
    ]
    const { mesh, report } = checked(...arrays({ positions, cells }))
    expect(report).toMatchObject({
      closed: true,
      dropped: { zeroArea: 1 },
      openEdges: 0,
      components: 1,
      eulerCharacteristic: 2,
    })
    expect(report.volume).toBeCloseTo(1000, 9)
    expect(mesh.triangles.length / 3).toBe(13)
    expect(mesh.closed).toBe(true)
    // Without the triangle on the line it is a shell, as before.
    expect(checked(...arrays({ positions, cells: cells.slice(0, -1) })).report.closed).toBe(false)
  })

  it('should keep a sliver of one ulp in each of the three planes, and drop it when it is straight', () => {
    for (const square of [0, 1, 2])
      for (const [third, kept] of [
        [1 + Number.EPSILON, true],
        [1, false],
      ] as const) {
        const flat = [
          [0, 0],
          [3, 3],
          [1, third],
          [0, 9],
        ]
        const positions = flat.flatMap(([u, v]) => [u, v].toSpliced(square, 0, 5))
        const { report: found } = checked(Float64Array.from(positions), Uint32Array.of(0, 1, 2, 0, 1, 3))
        expect(found.dropped).toEqual({ repeatedCorner: 0, zeroArea: kept ? 0 : 1 })
      }
  })

  it('should turn a mesh that is inside out', () => {
    const inward = report(cube([5, 6, 7], 2, -1))
    expect(inward).toMatchObject({ closed: true, turnedBack: 1, cavities: 0, volume: 8, components: 1 })
    const { mesh } = checked(...arrays(cube([5, 6, 7], 2, -1)))
    expect(checked(mesh.positions, mesh.triangles).report).toMatchObject({ turnedBack: 0, volume: 8 })
  })

  it('should turn each body by itself, and leave cavities', () => {
    const solid = cube([0, 0, 0], 10)
    const hollow = cube([2, 2, 2], 6, -1)
    expect(report(together(solid, hollow))).toMatchObject({
      turnedBack: 0,
      cavities: 1,
      volume: 1000 - 216,
      components: 2,
    })
    expect(report(together(cube([0, 0, 0], 10, -1), cube([2, 2, 2], 6)))).toMatchObject({
      turnedBack: 2,
      cavities: 1,
      volume: 1000 - 216,
    })
    expect(report(together(solid, cube([20, 0, 0], 3, -1)))).toMatchObject({ turnedBack: 1, cavities: 0, volume: 1027 })
    expect(report(together(cube([0, 0, 0], 10, -1), cube([20, 0, 0], 3)))).toMatchObject({
      turnedBack: 1,
      volume: 1027,
    })
    // A body in a cavity, written inside out: not a cavity of its own.
    expect(report(together(solid, hollow, cube([4, 4, 4], 2, -1)))).toMatchObject({
      turnedBack: 1,
      cavities: 1,
      volume: 1000 - 216 + 8,
    })
    // Within the bounds of another body but beside it.
    const corner = {
      positions: [
        [0, 0, 0],
        [9, 0, 0],
        [0, 9, 0],
        [0, 0, 9],
      ],
      cells: [
        [0, 2, 1],
        [0, 1, 3],
        [0, 3, 2],
        [1, 2, 3],
      ],
    }
    expect(report(together(corner, cube([7, 7, 7], 1, -1)))).toMatchObject({
      turnedBack: 1,
      cavities: 0,
      volume: 9 ** 3 / 6 + 1,
    })
  })

  it('should take meshes that do not close as shells, and count why', () => {
    const { positions, cells } = cube([0, 0, 0], 10)
    expect(report({ positions, cells: cells.slice(1) })).toMatchObject({
      closed: false,
      openEdges: 3,
      nonManifoldEdges: 0,
      misdirectedEdges: 0,
      volume: null,
    })
    const flipped = cells.map((cell, i) => (i === 0 ? [...cell].reverse() : cell))
    expect(report({ positions, cells: flipped })).toMatchObject({ closed: false, openEdges: 0, misdirectedEdges: 3 })
    expect(report({ positions, cells: [...cells, cells[0]] })).toMatchObject({ closed: false, nonManifoldEdges: 3 })
  })

  it('should count components by common edges: cubes that touch at a corner are two', () => {
    expect(report(together(cube([0, 0, 0], 1), cube([1, 1, 1], 1)))).toMatchObject({
      components: 2,
      vertices: 15,
      closed: true,
    })
  })

  it('should count edges as a plain table of edges does (seed 4160)', () => {
    const anyCells = fc.record({
      positions: fc.array(fc.array(fc.integer({ min: 0, max: 3 }), { minLength: 3, maxLength: 3 }), {
        minLength: 3,
        maxLength: 12,
      }),
      picks: fc.array(fc.tuple(fc.nat(), fc.nat(), fc.nat()), { minLength: 1, maxLength: 40 }),
    })
    const mix = { open: 0, nonManifold: 0, misdirected: 0, empty: 0 }
    fc.assert(
      fc.property(anyCells, ({ positions, picks }) => {
        const cells = picks.map((pick) => pick.map((i) => i % positions.length))
        const made = checkMesh(...arrays({ positions, cells }))
        const names = (cell: number[]) => cell.map((i) => positions[i].join())
        const kept = cells.map(names).filter((cell) => twiceArea(cell) > 0)
        if (!made.ok) {
          mix.empty++
          expect(kept).toEqual([])
          return
        }
        const edges = new Map<string, number[]>()
        for (const cell of kept)
          cell.forEach((a, k) => {
            const b = cell[(k + 1) % 3]
            const key = [a, b].sort().join(' ')
            edges.set(key, [...(edges.get(key) ?? []), a < b ? 1 : -1])
          })
        const uses = [...edges.values()]
        const expected = {
          triangles: kept.length,
          vertices: new Set(kept.flat()).size,
          edges: uses.length,
          openEdges: uses.filter((use) => use.length === 1).length,
          nonManifoldEdges: uses.filter((use) => use.length > 2).length,
          misdirectedEdges: uses.filter((use) => use.length === 2 && use[0] === use[1]).length,
        }
        expect(made.value.report).toMatchObject(expected)
        if (expected.openEdges > 0) mix.open++
        if (expected.nonManifoldEdges > 0) mix.nonManifold++
        if (expected.misdirectedEdges > 0) mix.misdirected++
      }),
      { seed: 4160, numRuns: 500 },
    )
    expect(Math.min(mix.open, mix.nonManifold, mix.misdirected)).toBeGreaterThan(50)
    expect(mix.empty).toBeGreaterThan(5)
  })

  it('should manage a fan of twenty thousand triangles around one vertex', () => {
    const n = 20_000
    const rim = Array.from({ length: n }, (_, i) => [
      Math.cos((2 * Math.PI * i) / n),
      Math.sin((2 * Math.PI * i) / n),
      0,
    ])
    const cone = rim.map((_, i) => [0, 2 + i, 2 + ((i + 1) % n)])
    const base = rim.map((_, i) => [1, 2 + ((i + 1) % n), 2 + i])
    const found = report({ positions: [[0, 0, 3], [0, 0, 0], ...rim], cells: [...cone, ...base] })
    expect(found).toMatchObject({ closed: true, eulerCharacteristic: 2, components: 1 })
    expect(found.volume).toBeCloseTo(Math.PI, 6)
  })

  it('should keep the volume of a mesh far from the origin', () => {
    expect(report(cube([1e8, -1e8, 1e8], 3)).volume).toBe(27)
  })

  it('should not change what it is given', () => {
    const [positions, triangles] = arrays(cube([0, 0, 0], 2, -1))
    const before = [[...positions], [...triangles]]
    checked(positions, triangles)
    expect([[...positions], [...triangles]]).toEqual(before)
  })

  it('should refuse what is no mesh, saying where', () => {
    const triangle = [0, 0, 0, 1, 0, 0, 0, 1, 0]
    expect(refused([], [])).toMatchObject({ code: 'mesh-empty' })
    expect(refused(triangle, [])).toMatchObject({ code: 'mesh-empty' })
    expect(refused(triangle, [0, 1, 1])).toMatchObject({
      code: 'mesh-empty',
      got: { triangles: 1, repeatedCorner: 1, zeroArea: 0 },
    })
    expect(refused(triangle, [0, 1, 3])).toMatchObject({ code: 'index-out-of-range', got: { triangle: 0, vertex: 3 } })
    expect(refused(triangle, [0, 1])).toMatchObject({ code: 'incomplete-triangle' })
    expect(refused([...triangle, 5], [0, 1, 2])).toMatchObject({ code: 'incomplete-triangle' })
    expect(refused(triangle.slice(0, 6), null)).toMatchObject({ code: 'incomplete-triangle' })
    expect(refused([0, 0, 0, 1, Number.NaN, 0, 0, 1, 0], null)).toMatchObject({
      code: 'not-finite',
      got: { vertex: 1, value: 'NaN' },
    })
    expect(refused([0, 0, 0, 1, 0, 0, 0, 1, -Infinity], null)).toMatchObject({
      code: 'not-finite',
      got: { vertex: 2, value: '-Infinity' },
    })
    expect(refused([0, 0, 0, 1e11, 0, 0, 0, 1, 0], null)).toMatchObject({
      code: 'coordinate-too-large',
      got: { vertex: 1 },
    })
    const limited = checkMesh(soup(cube([0, 0, 0], 1)), null, { triangles: 11, reach: 1e6 })
    expect(limited).toMatchObject({ ok: false, faults: [{ code: 'too-many-triangles', got: 12 }] })
  })
})

/** Twice the area squared of a triangle of whole-number points written as text: exact. */
function twiceArea(cell: readonly string[]): number {
  const [a, b, c] = cell.map((name) => name.split(',').map(Number))
  const [u, v] = [b.map((x, k) => x - a[k]), c.map((x, k) => x - a[k])]
  return [0, 1, 2].reduce((sum, k) => sum + (u[k] * v[(k + 1) % 3] - u[(k + 1) % 3] * v[k]) ** 2, 0)
}
