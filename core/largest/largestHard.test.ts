import { describe, expect, test } from 'vitest'
import { boxesMesh, ellipsoidMesh, needles } from '../../test/kit/hardMeshes.ts'
import { seeded } from '../../test/kit/random.ts'
import { bareCandidate, cubeMesh, keepOut, tinyBay } from '../../test/kit/tinyBay.ts'
import type { Meshes } from '../bay/part.ts'
import type { Candidate, KeepOut } from '../bay/schema.ts'
import { type LargestAnswer, type LargestRequest, largest } from './largest.ts'

type Corner = [number, number, number]
const none: Meshes = new Map()
const room = { min: [0, -750, 0], max: [350, 750, 600] } as const

const block = (id: string, low: Corner, high: Corner, clearance = 0): KeepOut =>
  keepOut(
    id,
    {
      kind: 'box',
      at: low.map((x, k) => (x + high[k]) / 2) as Corner,
      size: low.map((x, k) => high[k] - x) as Corner,
    },
    { clearance },
  )
const skin = (id: string, clearance: number): KeepOut =>
  keepOut(id, { kind: 'mesh', file: id, unit: 'mm' }, { clearance })

function asked(
  keepOuts: KeepOut[],
  request: LargestRequest,
  meshes: Meshes = none,
  candidate: Partial<Candidate> = {},
) {
  const answer = largest(tinyBay(keepOuts, bareCandidate({ at: [175, 0, 300], ...candidate })), undefined, meshes, {
    withinBox: room,
    holds: false,
    within: 1e-4,
    ...request,
  })
  if (!answer.ok) throw new Error(JSON.stringify(answer.faults))
  return answer.value
}

function found(...given: Parameters<typeof asked>): LargestAnswer {
  const answer = asked(...given)
  if (answer.answer !== 'found') throw new Error(JSON.stringify(answer))
  expect(answer.stopped).toBe('proved')
  return answer
}

/** As large as expected to the share that was asked for, and not excluded by the bound. */
function expectValue({ value, upperBound, within }: LargestAnswer, expected: number): void {
  expect(upperBound).toBeGreaterThanOrEqual(expected * (1 - 1e-9))
  expect(value).toBeGreaterThanOrEqual(expected / (1 + within) - 1e-9 * expected)
  expect(value).toBeLessThanOrEqual(expected * (1 + 1e-9))
}

const field = (points: readonly (readonly [number, number])[], size: number) =>
  found(
    points.map(([y, z], i) => block(`p${i}`, [-50, y - 1e-6, z - 1e-6], [50, y + 1e-6, z + 1e-6])),
    { for: 'face', within: 1e-7, withinBox: { min: [-5, 0, 0], max: [5, size, size] } },
    none,
    { limits: { depth: { min: 10, max: 10 } } },
  )

describe('largest empty rectangles: A. Dumitrescu, M. Jiang, On the largest empty axis-parallel box amidst n points (2013)', () => {
  // Values derived there, or found by optimisation and printed in the paper's bounds; a field of 1000 × 1000 mm.
  test('A7.1: one point in the middle leaves a half', () => {
    expect(field([[500, 500]], 1000).value / 1e6).toBeCloseTo(1 / 2, 5)
  })

  test('A7.2: two points at the golden section leave (3 − √5)/2', () => {
    const g = 1000 * ((3 - Math.sqrt(5)) / 2)
    expect(field([[g, g], [1000 - g, 1000 - g]], 1000).value / 1e6).toBeCloseTo((3 - Math.sqrt(5)) / 2, 5) // biome-ignore format: one line a check
  })

  test('A7.4: no n points leave less than max(1/(n + 1), 5/(4(n + 5))) (seed 74)', () => {
    const random = seeded(74)
    for (let run = 0; run < 60; run++) {
      const n = 1 + (run % 15)
      const points = Array.from({ length: n }, () => [random.real(0, 1000), random.real(0, 1000)] as const)
      expect(field(points, 1000).value / 1e6).toBeGreaterThan(Math.max(1 / (n + 1), 5 / (4 * (n + 5))) - 1e-6)
    }
  })
})

describe('boxes in smooth bodies: calculus textbooks (Lagrange multipliers)', () => {
  test('A7.11: in an ellipsoid of 300 × 200 × 100 mm half axes the largest box has 8abc/(3√3), less what flat faces cut off', () => {
    const meshes = new Map([['skin', ellipsoidMesh([175, 0, 300], [300, 200, 100], 80, 120)]])
    const expected = (8 * 300 * 200 * 100) / (3 * Math.sqrt(3))
    const answer = found(
      [skin('skin', 0)],
      { within: 0.03, withinBox: { min: [-200, -300, 150], max: [550, 300, 450] } },
      meshes,
      { limits: { centre: { min: [100, -60, 270], max: [250, 60, 330] } } },
    )
    expect(answer.value).toBeLessThanOrEqual(expected)
    expect(answer.value).toBeGreaterThan(expected * 0.965)
    expect(answer.upperBound).toBeGreaterThan(expected * 0.995)
  }, 60_000)

  test('A7.10: a slice of it, the largest rectangle in an ellipse of 5 : 3 has 2ab', () => {
    // A fence of half-spaces round the ellipse, tangent to it: it is met at (a, b)/√2, where one of them touches.
    const [a, b] = [500, 300]
    const keepOuts = Array.from({ length: 64 }, (_, i) => {
      const t = Math.PI / 4 + (i * Math.PI) / 32
      const normal: Corner = [0, -Math.cos(t) / a, -Math.sin(t) / b]
      return keepOut(`t${i}`, { kind: 'halfSpace', point: [0, a * Math.cos(t), b * Math.sin(t)], normal })
    })
    const answer = found(
      keepOuts,
      { for: 'face', within: 1e-6, withinBox: { min: [-5, -600, -600], max: [5, 600, 600] } },
      none,
      {
        at: [0, 0, 0],
        limits: { depth: { min: 10, max: 10 } },
      },
    )
    expect(Math.abs(answer.value / (2 * a * b) - 1)).toBeLessThan(2e-6)
  })
})

describe('scenes that are made to mislead', () => {
  test('faces in one plane, at zero clearance and at ten', () => {
    const blocks = (r: number) => [
      block('a', [0, -750, 0], [350, 0, 300], r),
      block('b', [0, 0, 300], [350, 750, 600], r),
    ]
    expectValue(found(blocks(0), {}), 350 * 750 * 300)
    expectValue(found(blocks(10), {}), 350 * 740 * 290)
  })

  test('one sliver of a hundredth of a millimetre through the room', () => {
    const meshes = new Map([['n', needles([[0, 300]], 350)]])
    expectValue(found([skin('n', 0)], {}, meshes), 350 * 1500 * 300)
    expectValue(found([skin('n', 5)], {}, meshes), 350 * 745 * 600)
  })

  test('200 slivers, found by trying every pair of them', () => {
    const random = seeded(1)
    const places = Array.from({ length: 200 }, () => [random.real(-750, 750), random.real(0, 600)] as const)
    const best = largestRectangle(places, [-750, 0], [750, 600])
    const answer = found([skin('n', 0)], { within: 1e-3 }, new Map([['n', needles(places, 350)]]))
    // The slivers are a hundredth of a millimetre wide: what lies between two of them is that much less.
    expect(answer.value).toBeGreaterThan((350 * best) / 1.0012)
    expect(answer.value).toBeLessThanOrEqual(350 * best * (1 + 1e-9))
  })

  test('2,500 equal blocks on a lattice, as one mesh', () => {
    const boxes: { low: Corner; high: Corner }[] = []
    for (let i = 0; i < 5; i++)
      for (let j = 0; j < 25; j++)
        for (let k = 0; k < 20; k++) {
          const at = [35 + 70 * i, -720 + 60 * j, 15 + 30 * k]
          boxes.push({ low: at.map((x) => x - 4) as Corner, high: at.map((x) => x + 4) as Corner })
        }
    const meshes = new Map([['l', boxesMesh(boxes)]])
    // Between two sheets of blocks: 70 − 8 = 62 deep, the whole width and height.
    expectValue(found([skin('l', 0)], {}, meshes), 62 * 1500 * 600)
    expectValue(found([skin('l', 2)], {}, meshes), 58 * 1500 * 600)
  })

  test('specks of half a millimetre with 60 mm asked: as random cores have it', () => {
    const random = seeded(5)
    const specks = Array.from({ length: 12 }, () => {
      const low: Corner = [random.real(0, 350), random.real(-750, 750), random.real(0, 600)]
      return { low, high: low.map((x) => x + 0.5) as Corner }
    })
    const answer = found([skin('s', 60)], { within: 1e-3 }, new Map([['s', boxesMesh(specks)]]))
    expect(answer.value).toBeGreaterThan(9e7)
  })

  test.each([
    [90.000001, 90],
    [90.1, 90],
    [89.999, 76],
  ])('a slot of %d mm takes the stock of %d', (slot, depth) => {
    const walls = [block('a', [0, -750, 0], [130, 750, 600]), block('b', [130 + slot, -750, 0], [350, 750, 600])]
    expectValue(found(walls, {}, none, { limits: { depth: { stock: [65, 76, 90, 102] } } }), depth * 1500 * 600)
  })

  test('a core wholly inside a solid mesh is not free', () => {
    const meshes = new Map([['solid', cubeMesh([-10, -200, 100], 400)]])
    const answer = found([skin('solid', 4)], { withinBox: { min: [0, -190, 110], max: [500, 190, 490] } }, meshes, {
      limits: { depth: { max: 60 }, width: { max: 60 }, height: { max: 60 } },
    })
    expect(answer.at[0] - answer.core.depth / 2).toBeGreaterThanOrEqual(394)
  })

  test('nothing fits: proved, with what conflicts and nothing else', () => {
    const answer = asked(
      [
        block('left', [0, -750, 0], [150, 750, 600], 10),
        block('right', [220, -750, 0], [350, 750, 600], 10),
        block('far', [0, 700, 0], [350, 750, 50], 10),
      ],
      {},
      none,
      { limits: { depth: { stock: [65, 76] }, centre: { min: [0, -700, 0], max: [350, 700, 600] } } },
    )
    expect(answer).toMatchObject({ answer: 'nothing fits', stopped: 'proved', upperBound: 0 })
    const conflict = answer.answer === 'found' ? [] : answer.conflict
    expect(conflict).toEqual(expect.arrayContaining(['left', 'right', 'depth.stock']))
    expect(conflict).not.toContain('far')
  })

  test('a thousand boxes: proved', () => {
    const random = seeded(7)
    const boxes = Array.from({ length: 1000 }, (_, i) => {
      const size = [350, 1500, 600].map((x) => x * random.real(0.01, 0.08)) as Corner
      const at: Corner = [random.real(0, 350), random.real(-750, 750), random.real(0, 600)]
      return keepOut(`b${i}`, { kind: 'box', at, size }, { clearance: 3 })
    })
    expect(found(boxes, { within: 0.005 }).value).toBeGreaterThan(2e6)
  })
})

/** Largest rectangle between points, by every pair of left and right sides; O(n³). */
function largestRectangle(points: readonly (readonly [number, number])[], low: number[], high: number[]): number {
  const ys = [low[0], ...points.map(([y]) => y), high[0]].sort((a, b) => a - b)
  let best = 0
  for (let i = 0; i < ys.length; i++)
    for (let j = i + 1; j < ys.length; j++) {
      const between = points.filter(([y]) => y > ys[i] && y < ys[j]).map(([, z]) => z)
      const cuts = [low[1], ...between.sort((a, b) => a - b), high[1]]
      for (let k = 1; k < cuts.length; k++) best = Math.max(best, (ys[j] - ys[i]) * (cuts[k] - cuts[k - 1]))
    }
  return best
}
