import { describe, expect, it } from 'vitest'
import { band, cornerHose, jointedBay, longHose, straightPipe, turboPort } from '../../../test/kit/jointedBay.ts'
import { keepOut } from '../../../test/kit/tinyBay.ts'
import type { Bay, KeepOut, Pipe } from '../../bay/schema.ts'
import { ledger } from '../../verdict/ledger.ts'
import { certify } from './certify.ts'
import { routeProblem } from './setUp.ts'
import { withRoute } from './withRoute.ts'

const noMeshes = new Map()

const keepOuts: KeepOut[] = [
  keepOut('beam', { kind: 'box', at: [-90, 320, 0], size: [40, 200, 60] }, { clearance: 7, uncertainty: 2 }),
  keepOut('lamp', { kind: 'cylinder', from: [60, 300, 40], to: [60, 300, 90], radius: 12 }, { mirror: true }),
  keepOut(
    'floor',
    { kind: 'halfSpace', point: [0, 0, -120], normal: [0, 0, 1] },
    { role: 'hot', clearance: undefined },
  ),
  keepOut('engine', { kind: 'box', at: [0, 460, 0], size: [300, 90, 200] }, { clearance: 3 }),
  keepOut('gone', { kind: 'box', at: [0, 300, 0], size: [50, 50, 50] }, { enabled: false }),
]
const coupled = (coupler: string) => ({
  kind: 'coupler' as const,
  coupler,
  clamps: { port: { clamp: band.id, roll: 30 }, pipe: { clamp: band.id } },
})
const bender = {
  id: 'shop',
  name: 'Shop',
  tools: [
    { outsideDiameter: 32, radii: [48], grip: 20, leastStraight: 10, leastEnd: 12, largestAngle: 100 },
    { outsideDiameter: 20, radii: [30], grip: 8, leastStraight: 15, leastEnd: 18, largestAngle: 120, springBack: 0.02 },
  ],
}

/** Two pipes from stub to moving port, with couplers and clamps; the second one beside the first. */
function twoPipes(change: Partial<Pipe> = {}): Bay {
  const ports = [
    turboPort({ movement: 4, sitsOn: 'engine' }),
    turboPort({ id: 'outlet', at: [90, 400, 0], direction: [0, -1, 0], sitsOn: 'engine' }),
    turboPort({ id: 'inlet', at: [90, 190, 0], direction: [0, 1, 0] }),
  ]
  const pipes = [
    straightPipe({ clearance: 6, tolerance: 1, joints: { from: coupled('short'), to: coupled('short') }, ...change }),
    straightPipe({
      id: 'cold',
      from: 'outlet',
      to: 'inlet',
      clearance: 2,
      tolerance: 0.5,
      joints: { to: coupled('hump') },
    }),
  ]
  return { ...jointedBay(pipes, keepOuts, ports), benders: [bender] }
}

const setUp = (bay: Bay, pipe: string) => {
  const made = routeProblem(bay, undefined, pipe, noMeshes)
  if (!made.ok) throw new Error(JSON.stringify(made.faults))
  return made.value
}

describe('the problem of a route', () => {
  it.each(['hot', 'cold'])('holds against pipe %s what the ledger holds against it, with what it asks', (id) => {
    const bay = twoPipes()
    const told = ledger(bay, undefined, noMeshes)
    if (!told.ok) throw new Error(JSON.stringify(told.faults))
    const rows = told.value.pairs
      .filter((pair) => pair.part === `pipe-${id}` || pair.keepOut === `pipe-${id}`)
      .map((pair) => ({
        name: pair.part === `pipe-${id}` ? pair.keepOut : pair.part,
        need: pair.required + pair.uncertainty + pair.tolerance,
        margin: pair.margin,
      }))
      .sort((a, b) => (a.name < b.name ? -1 : 1))
    expect(rows.length).toBeGreaterThan(10)
    const problem = setUp(bay, id)
    const obstacles = problem.obstacles
      .map(({ name, need }) => ({ name, need }))
      .sort((a, b) => (a.name < b.name ? -1 : 1))
    expect(obstacles.map(({ name }) => name)).toEqual(rows.map(({ name }) => name))
    obstacles.forEach(({ need }, k) => {
      expect(need).toBeCloseTo(rows[k].need, 12)
    })
    const least = rows.reduce((a, b) => (a.margin <= b.margin ? a : b))
    const { leastMargin, obstacle } = certify(problem, [])
    expect(leastMargin).toBeCloseTo(least.margin, 9)
    expect(obstacle).toBe(least.name)
  })

  it('begins and ends where the tube does, beyond its couplers, whatever path it has', () => {
    const { from, to } = setUp(twoPipes(), 'hot')
    expect(from.at).toEqual([0, 400, 0])
    expect(from.direction).toEqual([0, -1, 0])
    expect(to.at).toEqual([0, 200, 0])
    const path: Pipe['path'] = [
      [0, 340, 0],
      [70, 300, 0],
    ]
    const routed = setUp(twoPipes({ path }), 'hot')
    expect(routed.obstacles.map(({ name, need, exempt }) => ({ name, need, exempt }))).toEqual(
      setUp(twoPipes(), 'hot').obstacles.map(({ name, need, exempt }) => ({ name, need, exempt })),
    )
    const elbow = setUp(twoPipes({ joints: { to: coupled('corner') } }), 'hot')
    const reach = cornerHose.form === 'elbow' ? cornerHose.radius + 10 + 10 : 0
    expect(elbow.to.at[1]).toBeCloseTo(200 + 10 + 30, 9)
    expect(Math.hypot(elbow.to.at[0], elbow.to.at[2])).toBeCloseTo(reach - 10, 9)
  })

  it('leaves out what is exempt near the ends that are joined, by as much as the ledger', () => {
    const { obstacles } = setUp(twoPipes(), 'hot')
    const exemptOf = (name: string) => obstacles.find((each) => each.name === name)?.exempt
    expect(exemptOf('engine')).toEqual({ from: 30, to: 0 })
    expect(exemptOf('tank-right')).toEqual({ from: 0, to: 30 })
    expect(exemptOf('stub-right-p')).toEqual({ from: 0, to: 30 })
    expect(exemptOf('core')).toEqual({ from: 0, to: 0 })
    expect(exemptOf('gone')).toBeUndefined()
  })

  it('has the limits of the tool for its diameter, less spring-back, and of what is held in couplers', () => {
    const { from, to, leastStraight, largestAngle } = setUp(twoPipes(), 'hot')
    expect(leastStraight).toBe(15)
    expect((largestAngle * 180) / Math.PI).toBeCloseTo(120 / 1.02, 9)
    // In a hose of 44 without a gap: 22, more than the 18 of the bender; in one of 100: 50.
    expect([from.leastStraight, to.leastStraight]).toEqual([22, 22])
    const long = longHose.form === 'straight' ? longHose.length / 2 : 0
    expect(setUp(twoPipes({ joints: { from: coupled('long') } }), 'hot')).toMatchObject({
      from: { leastStraight: long },
      to: { leastStraight: 18 },
    })
    const bare = setUp({ ...twoPipes({ joints: {} }), benders: [] }, 'hot')
    expect(bare).toMatchObject({ leastStraight: 0, largestAngle: Math.PI, from: { leastStraight: 0 } })
    const other = setUp(twoPipes({ joints: {}, outsideDiameter: 21 }), 'hot')
    expect(other).toMatchObject({ leastStraight: 0, largestAngle: Math.PI })
  })

  it('looks for it past all bounded obstacles near, and not beyond an upright wall', () => {
    const { box } = setUp(twoPipes(), 'hot')
    expect(box.min[0]).toBeLessThan(-110 - 10 - 30)
    expect(box.max[1]).toBeGreaterThan(505 + 10 + 30)
    // 25 for a hot one, movement 4 and tolerance 1 and half the tube above it.
    expect(box.min[2]).toBeCloseTo(-120 + 25 + 5 + 10, 9)
    expect(Math.abs(box.max[2])).toBeLessThan(1000)
  })

  it('of a pipe or candidate that is not there is a fault', () => {
    const bay = twoPipes()
    expect(routeProblem(bay, undefined, 'hott', noMeshes)).toMatchObject({
      ok: false,
      faults: [{ code: 'unknown-pipe', nearest: 'hot' }],
    })
    expect(routeProblem(bay, 'nobody', 'hot', noMeshes)).toMatchObject({ faults: [{ code: 'unknown-candidate' }] })
    const meshes = [keepOut('shell', { kind: 'mesh', file: 'shell.stl', unit: 'mm' })]
    expect(routeProblem(jointedBay([straightPipe()], meshes), undefined, 'hot', noMeshes)).toMatchObject({
      faults: [{ code: 'mesh-missing' }],
    })
  })

  it('stays what it is with the route in the bay', () => {
    const bay = twoPipes()
    const path = [
      [0, 330, 0],
      [0, 270, 0],
    ] as const
    const routed = withRoute(bay, bay.candidates[0].id, 'hot', { path, bendRadius: 30 })
    expect(setUp(routed, 'hot').box).toEqual(setUp(bay, 'hot').box)
  })
})
