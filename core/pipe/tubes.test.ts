import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import type { StockElbow } from '../bay/workshopSchema.ts'
import type { Vec3 } from '../shape/vec.ts'
import { type PutTogether, putTogether } from './tubes.ts'

/** Two quarter turns the other way round each: legs of 300, 300 and 300. */
const zigzag: readonly Vec3[] = [
  [0, 0, 0],
  [300, 0, 0],
  [300, 300, 0],
  [600, 300, 0],
]
const elbow = (change: Partial<StockElbow> = {}): StockElbow => ({
  id: 'e90',
  name: 'Elbow 90',
  outsideDiameter: 57,
  wall: 2,
  material: 'aluminium',
  angle: 90,
  radius: 57,
  legs: [20, 30],
  ...change,
})
const put = (
  points: readonly Vec3[],
  elbows: Readonly<Record<number, StockElbow>> = {},
  tool: Parameters<typeof putTogether>[3] = null,
  springBack: number | null = null,
): PutTogether => {
  const made = putTogether(points, { bendRadius: 100 }, (point) => elbows[point], tool, springBack)
  if (!made.ok) throw new Error(JSON.stringify(made.faults))
  return made.value
}

test('without elbows one tube is the run', () => {
  const { run, tubes, elbows } = put(zigzag)
  expect(elbows).toEqual([])
  expect(tubes).toEqual([
    {
      table: run.table,
      straights: [200, expect.closeTo(100, 9), 200],
      arcs: run.arcs,
      developed: run.developed,
      cut: run.developed,
      setAngles: null,
      corners: [1, 2],
      between: [0, 2],
    },
  ])
})

describe('elongation and spring-back, worked by hand', () => {
  test('3 % less tube is cut than the arcs are long', () => {
    const [tube] = put(zigzag, {}, { elongation: 0.03 }).tubes
    // Straights 500, arcs 2 × 100 π/2.
    expect(tube.developed).toBeCloseTo(500 + 100 * Math.PI, 9)
    expect(tube.cut).toBeCloseTo(500 + 97 * Math.PI, 9)
  })

  test('a bend that springs open by a tenth is bent to 100° for 90°', () => {
    const angles = put(zigzag, {}, null, 0.1).tubes[0].setAngles ?? []
    expect(angles.map((angle) => Number(angle.toFixed(9)))).toEqual([100, 100])
  })

  test('none known is not the same as none', () => {
    expect(put(zigzag, {}, null, null).tubes[0].setAngles).toBeNull()
    expect(put(zigzag, {}, null, 0).tubes[0].setAngles).toEqual([90, 90])
  })
})

describe('elbows', () => {
  test('cut the run into tubes at the ends of their legs', () => {
    const { run, tubes, elbows } = put(zigzag, { 2: elbow() })
    // Setbacks 100 and 57: straights 200, 143, 243; the elbow brings 20 before its arc and 30 after it.
    expect(run.straights).toEqual([200, 143, 243])
    expect(elbows).toEqual([{ point: 2, elbow: 'e90', angle: 90, cutDown: false }])
    expect(tubes.map(({ straights, corners, between }) => ({ straights, corners, between }))).toEqual([
      { straights: [200, 123], corners: [1], between: [0, 1] },
      { straights: [213], corners: [], between: [2, 2] },
    ])
  })

  test('begin a tube’s rotations anew, and leave the run’s', () => {
    const points: readonly Vec3[] = [...zigzag, [600, 300, 400], [900, 300, 400]]
    const { run, tubes } = put(points, { 2: elbow() })
    expect(run.table.map(({ rotation }) => rotation)).toEqual([
      0,
      180,
      // Feed +X, bent about −Z before and about −Y now: a left-hand quarter turn.
      -90,
      180,
      undefined,
    ])
    expect(tubes[1].table.map(({ rotation }) => rotation)).toEqual([0, 180, undefined])
    expect(tubes[1].corners).toEqual([3, 4])
  })

  test('cut down to a smaller turn, lose arc and leg on the side of the shorter leg', () => {
    const points: readonly Vec3[] = [
      [0, 0, 0],
      [300, 0, 0],
      [300 + 300 * Math.SQRT1_2, 300 * Math.SQRT1_2, 0],
    ]
    const { run, tubes, elbows } = put(points, { 1: elbow() })
    expect(elbows[0].angle).toBeCloseTo(45, 9)
    expect(elbows[0].cutDown).toBe(true)
    const straight = 300 - 57 * Math.tan(Math.PI / 8)
    expect(run.straights[0]).toBeCloseTo(straight, 9)
    expect(tubes.map(({ developed }) => Number(developed.toFixed(6)))).toEqual(
      [straight, straight - 30].map((x) => Number(x.toFixed(6))),
    )
    const turned = put(points, { 1: elbow({ legs: [30, 20] }) })
    expect(turned.tubes[0].developed).toBeCloseTo(straight - 30, 9)
    expect(turned.tubes[1].developed).toBeCloseTo(straight, 9)
  })

  test('one welded to the next leaves no tube between, and legs that do not fit are cut in proportion', () => {
    // Between the two arcs: 150 − 2 × 57 = 36, of legs of 30 and 20.
    const points: readonly Vec3[] = [
      [0, 0, 0],
      [300, 0, 0],
      [300, 150, 0],
      [600, 150, 0],
    ]
    const { tubes, elbows } = put(points, { 1: elbow(), 2: elbow() })
    expect(tubes.map(({ straights }) => straights)).toEqual([[300 - 57 - 20], [300 - 57 - 30]])
    expect(elbows.map(({ cutDown }) => cutDown)).toEqual([true, true])
  })

  test('at a port, without a tube before it', () => {
    const points: readonly Vec3[] = [
      [0, 0, 0],
      [77, 0, 0],
      [77, 300, 0],
    ]
    const { tubes, elbows } = put(points, { 1: elbow() })
    expect(elbows[0].cutDown).toBe(false)
    expect(tubes.map(({ straights, between }) => ({ straights, between }))).toEqual([
      { straights: [300 - 57 - 30], between: [1, 1] },
    ])
  })

  test('tubes and elbows together are as long as the run (seed 503)', () => {
    let cutDown = 0
    const angle = fc.integer({ min: 20, max: 90 })
    const legs = fc.tuple(fc.integer({ min: 0, max: 60 }), fc.integer({ min: 0, max: 60 }))
    fc.assert(
      fc.property(
        fc.array(fc.record({ angle, legs, welded: fc.boolean() }), { minLength: 1, maxLength: 6 }),
        (bends) => {
          const points: Vec3[] = [[0, 0, 0]]
          let way = 0
          for (const [k, bend] of [...bends, null].entries()) {
            const [x, y] = points[points.length - 1]
            points.push([x + 260 * Math.cos(way), y + 260 * Math.sin(way), 0])
            way += ((k % 2 === 0 ? 1 : -1) * (bend?.angle ?? 0) * Math.PI) / 180
          }
          const elbows = Object.fromEntries(
            bends.flatMap((bend, k) => (bend.welded ? [[k + 1, elbow({ legs: bend.legs as [number, number] })]] : [])),
          )
          const made = put(points, elbows)
          cutDown += made.elbows.filter((each) => each.cutDown).length
          const inTubes = made.tubes.reduce((sum, tube) => sum + tube.developed, 0)
          const inArcs = made.run.corners.reduce((sum, point, k) => sum + (elbows[point] ? made.run.arcs[k] : 0), 0)
          // What legs bring is left over, and no more than they can.
          const brought = made.run.developed - inTubes - inArcs
          const most = Object.values(elbows).reduce((sum, { legs: [a, b] }) => sum + a + b, 0)
          expect(brought).toBeGreaterThan(-1e-6)
          expect(brought).toBeLessThan(most + 1e-6)
          for (const { straights } of made.tubes)
            for (const straight of straights) expect(straight).toBeGreaterThan(-1e-9)
        },
      ),
      { seed: 503, numRuns: 200 },
    )
    expect(cutDown).toBeGreaterThan(100)
  })
})
