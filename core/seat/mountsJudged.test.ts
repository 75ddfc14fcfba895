import { describe, expect, test } from 'vitest'
import { mountedBay, plate, rail, stud } from '../../test/kit/mountedBay.ts'
import { seeded } from '../../test/kit/random.ts'
import { keepOut } from '../../test/kit/tinyBay.ts'
import type { Fixing, Mount, MountHole } from '../bay/mountSchema.ts'
import type { Bay, KeepOut } from '../bay/schema.ts'
import { add, distance, length, scale, type Vec3 } from '../shape/vec.ts'
import { judgeMounts, type JointJudged, type MountsJudged } from './mountsJudged.ts'

function judgedIn(bay: Bay): MountsJudged {
  const answer = judgeMounts(bay, bay.candidates[0], new Map())
  if (!answer.ok) throw new Error(JSON.stringify(answer.faults))
  return answer.value
}
const only = (bay: Bay): JointJudged => judgedIn(bay).mounts[0].joints[0]

/** Leaves the core no margin at all in front, so that nothing may be shifted. */
const stop: KeepOut = keepOut('stop', { kind: 'box', at: [-60, 0, 0], size: [20, 20, 20] })
const fixedBay = (mounts: Mount[], fixings: Fixing[]) => mountedBay(mounts, fixings, {}, [rail, stop])

describe('one hole over one stud, worked by hand', () => {
  // Stud 8 in a hole of 10: 1 mm of clearance. Mount ±0.3, stud ±0.5: worst case 0.8, root-sum-square 0.583095.
  const own = plate({ tolerance: 0.3 })
  const off = (x: number) => stud({ at: [x, 0, -60] })

  test('in its middle: 0.2 mm to spare', () => {
    const joint = only(fixedBay([own], [off(0)]))
    expect(joint).toMatchObject({ verdict: 'goes on', hindrance: null, improve: null, fastener: 8, angle: 0, lean: 0 })
    expect(joint.clearance).toEqual({ mount: 1, fixing: 0 })
    expect(joint.stack.worstCase).toBeCloseTo(0.8, 12)
    expect(joint.stack.rootSumSquare).toBeCloseTo(Math.hypot(0.3, 0.5), 12)
    expect(joint.spare.worstCase).toBeCloseTo(0.2, 9)
    expect(joint.apart).toBeCloseTo(0, 9)
    // As small as 8 + 2 · 0.8.
    expect(joint.needs.hole).toBeCloseTo(9.6, 9)
  })

  test('0.3 mm off: by root-sum-square only; the stud wants measuring to 0.4, or the hole 10.2, or a slot 9.6 × 10.2', () => {
    const joint = only(fixedBay([own], [off(0.3)]))
    expect(joint.verdict).toBe('goes on by root-sum-square')
    expect(joint.spare.worstCase).toBeCloseTo(-0.1, 9)
    expect(joint.spare.rootSumSquare).toBeCloseTo(1 - 0.3 - Math.hypot(0.3, 0.5), 9)
    expect(joint.improve).toMatchObject({ of: 'fixing', name: 'stud', from: 0.5, enough: true })
    expect(joint.improve?.to).toBeCloseTo(0.4, 9)
    expect(joint.needs.hole).toBeCloseTo(10.2, 9)
    expect(joint.needs.slot?.width).toBeCloseTo(9.6, 5)
    expect(joint.needs.slot?.length).toBeCloseTo(10.2, 5)
    expect(joint.offset.by).toBeCloseTo(0.3, 9)
    expect(joint.offset.across.map((x) => Math.round(x * 1e9) / 1e9)).toEqual([-0.3, 0, 0])
  })

  test('0.9 mm off: not at all, and measuring alone does not help', () => {
    const joint = only(fixedBay([own], [off(0.9)]))
    expect(joint.verdict).toBe('does not go on')
    expect(joint.improve).toEqual({ of: 'fixing', name: 'stud', from: 0.5, to: 0, enough: false })
  })

  test('what is said to be needed is just enough', () => {
    const joint = only(fixedBay([own], [off(0.9)]))
    const { hole, slot } = joint.needs
    const spareOf = (change: Partial<MountHole>) =>
      only(fixedBay([plate({ tolerance: 0.3 }, change)], [off(0.9)])).spare.worstCase
    expect(spareOf({ diameter: hole })).toBeCloseTo(0, 9)
    // The plate's second side runs along X, as the stud is off.
    expect(spareOf({ diameter: slot?.width ?? 0, length: slot?.length, angle: 90 })).toBeGreaterThanOrEqual(0)
    expect(spareOf({ diameter: slot?.width ?? 0, length: slot?.length, angle: 90 })).toBeLessThan(1e-5)
  })

  test('a slot takes it along, not across', () => {
    const slotted = (angle: number) => only(fixedBay([plate({ tolerance: 0.3 }, { length: 14, angle })], [off(1.9)]))
    expect(slotted(90).spare.worstCase).toBeCloseTo(0.2, 9)
    expect(slotted(90).travel).toEqual({ mount: 2, fixing: 0 })
    expect(slotted(0).verdict).toBe('does not go on')
  })

  test('a hole smaller than its stud is judged, and no shift is looked for', () => {
    const answer = judgedIn(mountedBay([plate({}, { diameter: 7.5 })], [stud()]))
    expect(answer).toMatchObject({ verdict: 'does not go on', shift: null })
    expect(answer.mounts[0].joints[0].hindrance).toBe('hole too small')
  })

  test('a default uncertainty is said to be one', () => {
    const { contributions } = only(fixedBay([own], [stud({ uncertainty: undefined })]))
    expect(contributions.filter(({ assumed }) => assumed)).toEqual([
      { of: 'fixing', name: 'stud', limit: 3, spread: 'measured', assumed: true },
    ])
  })

  test('leaning by 2°: half the plate · tan 2° and the wider shank are taken off; by 4° it is askew', () => {
    const leaning = (angle: number) => {
      const a = (angle * Math.PI) / 180
      // Leaned about the hole's middle, so that it is not off.
      return only(fixedBay([own], [stud({ axis: [Math.sin(a), 0, Math.cos(a)], at: [0, 0, -58.5] })]))
    }
    const t = (2 * Math.PI) / 180
    expect(leaning(2).lean).toBeCloseTo(1.5 * Math.tan(t) + 4 * (1 / Math.cos(t) - 1), 9)
    expect(leaning(2).spare.worstCase).toBeCloseTo(0.2 - leaning(2).lean, 9)
    expect(leaning(2).hindrance).not.toBe('askew')
    expect(leaning(4)).toMatchObject({ hindrance: 'askew', verdict: 'does not go on' })
  })

  test('a plate that would stand in the car does not go on; one that stands off does', () => {
    const at = (z: number) => only(fixedBay([own], [stud({ at: [0, 0, z] })]))
    expect(at(-59)).toMatchObject({ hindrance: 'beyond its seat', verdict: 'does not go on' })
    expect(at(-59).apart).toBeCloseTo(-1, 9)
    // Within tolerances of its seat.
    expect(at(-59.3).verdict).toBe('goes on')
    expect(at(-65).apart).toBeCloseTo(5, 9)
    expect(at(-65).verdict).toBe('goes on')
  })
})

describe('fasteners as the standards size them', () => {
  // ASME Y14.5, appendix on positional tolerance formulas (from memory): floating fastener H = F + T; fixed fastener
  // H = F + 2T, T the diameter of each part's positional zone, so that each may be off by T/2.
  const [bolt, zone] = [8, 0.6]
  test.each([
    ['floating', bolt + zone, stud({ kind: 'hole', diameter: bolt + zone, uncertainty: zone / 2 }), { bolt }],
    ['fixed', bolt + 2 * zone, stud({ diameter: bolt, uncertainty: zone / 2 }), {}],
  ])('%s: just goes on', (_, diameter, fixing, hole) => {
    const joint = only(fixedBay([plate({ tolerance: zone / 2 }, { diameter, ...hole })], [fixing]))
    expect(joint.spare.worstCase).toBeCloseTo(0, 9)
    expect(joint.needs.hole).toBeCloseTo(diameter, 9)
  })
})

describe('pins', () => {
  const pin = (change: object = {}): Mount => ({
    ...plate({ tolerance: 0.3 }),
    shape: { kind: 'pin', diameter: 8, length: 30, fixing: 'stud', ...change },
  })
  const hole = (change: Partial<Fixing> = {}) => stud({ kind: 'hole', diameter: 10, ...change })

  test('into a hole: 1 mm of clearance, 10 mm deep', () => {
    const joint = only(fixedBay([pin()], [hole({ at: [0.1, 0, -60] })]))
    expect(joint).toMatchObject({ hole: null, verdict: 'goes on', reach: null, clearance: { mount: 0, fixing: 1 } })
    expect(joint.spare.worstCase).toBeCloseTo(0.1, 9)
    expect(joint.apart).toBeCloseTo(-10, 9)
    expect(joint.needs).toMatchObject({ slot: null })
    expect(joint.needs.hole).toBeCloseTo(9.8, 9)
  })

  test('too short, too thick, or from behind', () => {
    expect(only(fixedBay([pin({ length: 20.5 })], [hole()])).hindrance).toBe('out of reach')
    expect(only(fixedBay([pin({ diameter: 10.5 })], [hole()])).hindrance).toBe('fixing too small')
    expect(only(fixedBay([pin()], [hole({ axis: [0, 0, -1] })])).hindrance).toBe('askew')
  })

  test('a slot in the car takes it along', () => {
    const slot = hole({ kind: 'slot', length: 16, along: [1, 0, 0.3], at: [3, 0, -60] })
    expect(only(fixedBay([pin()], [slot])).spare.worstCase).toBeCloseTo(0.2, 9)
  })
})

describe('all holes at once', () => {
  const twoHoles = (change: Partial<Mount> = {}): Mount => ({
    ...plate({ tolerance: 0.1, ...change }),
    shape: {
      kind: 'plate',
      size: [80, 40],
      thickness: 3,
      standOff: 17,
      holes: [
        { at: [-30, 0], diameter: 10, fixing: 'one' },
        { at: [30, 0], diameter: 10, fixing: 'two' },
      ],
    },
  })
  const studs = (one: Vec3, two: Vec3): Fixing[] => [
    stud({ id: 'one', uncertainty: 0.3, at: [one[0], -30 + one[1], -60] }),
    stud({ id: 'two', uncertainty: 0.3, at: [two[0], 30 + two[1], -60] }),
  ]

  test('one stud 1 mm off along the pair: half a millimetre of shift leaves 0.1 at both', () => {
    const answer = judgedIn(mountedBay([twoHoles()], studs([0, 0, 0], [0, 1, 0])))
    expect(answer.verdict).toBe('goes on')
    // As it stands the second hole has 1 − 1 − 0.4 = −0.4; halved, both have 1 − 0.5 − 0.4.
    expect(answer.mounts[0].joints.map(({ asItStands }) => Math.round(asItStands.worstCase * 1e6) / 1e6)).toEqual([
      0.6, -0.4,
    ])
    for (const { spare } of answer.mounts[0].joints) expect(spare.worstCase).toBeGreaterThan(0.08)
    expect(answer.shift?.shift[1]).toBeCloseTo(0.5, 1)
    expect(answer.shift?.turn).toEqual([0, 0, 0])
  })

  test('1.3 mm off: no shift is enough, since 1 − 0.65 − 0.4 < 0; but by root-sum-square', () => {
    const answer = judgedIn(mountedBay([twoHoles()], studs([0, 0, 0], [0, 1.3, 0])))
    expect(answer.verdict).toBe('goes on by root-sum-square')
    expect(1 - 0.65 - Math.hypot(0.1, 0.3)).toBeGreaterThan(0)
  })

  test('off across, against each other: a turn takes it', () => {
    const answer = judgedIn(mountedBay([twoHoles()], studs([1, 0, 0], [-1, 0, 0])))
    expect(answer.verdict).toBe('goes on')
    expect(Math.abs(answer.shift?.turn[2] ?? 0)).toBeCloseTo(1 / 30, 1)
    for (const { spare } of answer.mounts[0].joints) expect(spare.worstCase).toBeGreaterThan(0.3)
  })

  test('no farther than the least margin in the ledger', () => {
    const near = keepOut('near', { kind: 'box', at: [0, 110.2, 0], size: [20, 20, 20] })
    const bay = mountedBay([twoHoles()], studs([0, 0, 0], [0, 1, 0]), {}, [rail, near])
    expect(judgedIn(bay)).toMatchObject({ verdict: 'does not go on', shift: null })
    const answer = judgedIn({ ...bay, keepOuts: [rail, { ...near, clearance: 0 }] })
    expect(answer.mounts[0].joints.map(({ spare, asItStands }) => spare.worstCase === asItStands.worstCase)).toEqual([
      true,
      true,
    ])
  })

  test('a candidate without mounts has no verdict', () => {
    expect(judgedIn(mountedBay([]))).toMatchObject({ verdict: null, mounts: [], reached: true, shift: null })
  })
})

test('what goes on in the worst case takes any errors within its limits; what does not fails at some (seed 77)', () => {
  const random = seeded(77)
  const seen = { goes: 0, not: 0 }
  for (let round = 0; round < 300; round++) {
    const tolerance = random.real(0, 0.4)
    const uncertainty = random.real(0, 0.4)
    const slot = random.chance(0.5) ? { length: random.real(10, 16), angle: random.real(0, 180) } : {}
    const own = plate({ tolerance }, { diameter: random.real(9, 10.5), ...slot })
    const at: [number, number, number] = [random.real(-0.8, 0.8), random.real(-0.8, 0.8), -60]
    const joint = only(fixedBay([own], [stud({ at, uncertainty })]))
    if (own.shape.kind !== 'plate') throw new Error('no plate')
    const [hole] = own.shape.holes ?? []
    const angle = ((hole.angle ?? 0) * Math.PI) / 180
    const half = ((hole.length ?? hole.diameter) - hole.diameter) / 2
    // In the bay the first side runs along +Y, the second along +X.
    const way: Vec3 = [Math.sin(angle), Math.cos(angle), 0]
    const goesThrough = (holeAt: Vec3, studAt: Vec3) => {
      const share = Math.max(-half, Math.min(half, (studAt[0] - holeAt[0]) * way[0] + (studAt[1] - holeAt[1]) * way[1]))
      return distance(add(holeAt, scale(way, share)), studAt) <= (hole.diameter - 8) / 2 + 1e-9
    }
    let fails = 0
    for (let k = 0; k < 360; k++) {
      const error: Vec3 = [Math.cos((k * Math.PI) / 180), Math.sin((k * Math.PI) / 180), 0]
      const moved = scale(error, tolerance + uncertainty)
      if (!goesThrough(moved, [at[0], at[1], 0])) fails++
    }
    expect(length(joint.offset.across)).toBeCloseTo(Math.hypot(at[0], at[1]), 9)
    if (joint.spare.worstCase >= 0) {
      seen.goes++
      expect(fails).toBe(0)
    } else if (joint.spare.worstCase < -1e-3) {
      seen.not++
      expect(fails).toBeGreaterThan(0)
    }
  }
  expect(seen.goes).toBeGreaterThan(30)
  expect(seen.not).toBeGreaterThan(30)
})

describe('reach', () => {
  // The plate's end hangs over the core's right side: the stud stands at Y 125, 25 mm beside the core.
  const over = plate({
    on: { part: 'core', face: 'below', u: 1, v: 0 },
    shape: {
      kind: 'plate',
      size: [80, 40],
      thickness: 3,
      standOff: 17,
      holes: [{ at: [25, 0], diameter: 10, fixing: 'stud' }],
    },
  })
  const tool = { diameter: 20, length: 100 }
  const reached = (more: KeepOut[] = [], change: Partial<Fixing> = {}, core = {}) =>
    only(mountedBay([over], [stud({ at: [0, 125, -60], tool, ...change })], core, [rail, ...more])).reach

  test('free beside the core, from the plate outward', () => {
    expect(reached()).toMatchObject({ clear: true, closedBy: [], off: [], way: [0, 0, 1] })
    expect(reached()?.from.map((x) => Math.round(x * 1e6) / 1e6)).toEqual([0, 125, -57])
    expect(reached([], { tool: undefined })).toBeNull()
  })

  test('the core in the way: by its gap and what the stud may be off', () => {
    // 15 mm from core to tool; wanted are the core's tolerance and the stud's 0.5.
    const core = (tolerance: number) => ({ core: { depth: 100, width: 200, height: 80, tolerance } })
    expect(reached([], {}, core(14.4))?.clear).toBe(true)
    expect(reached([], {}, core(14.6))?.closedBy).toMatchObject([{ name: 'core', need: 15.1 }])
  })

  test('what stays is in the way, what comes off is named', () => {
    const lid = (change: Partial<KeepOut>) =>
      keepOut('lid', { kind: 'box', at: [0, 125, 40], size: [10, 10, 10] }, change)
    expect(reached([lid({})])).toMatchObject({ clear: false, closedBy: [{ name: 'lid' }] })
    expect(reached([lid({})])?.closedBy[0].gap).toBeLessThan(1e-9)
    expect(reached([lid({ fitting: 'comes-off' })])).toMatchObject({ clear: true, off: ['lid'] })
    expect(reached([lid({ enabled: false })])).toMatchObject({ clear: true, off: [] })
    expect(judgedIn(mountedBay([over], [stud({ tool })], {}, [lid({ enabled: false })])).leftOut).toEqual(['lid'])
  })

  test('just beyond its end nothing stands in the way, just before it something does', () => {
    const beyond = (z: number) => keepOut('lid', { kind: 'halfSpace', point: [0, 0, z], normal: [0, 0, -1] })
    expect(reached([beyond(43.6)])?.clear).toBe(true)
    expect(reached([beyond(43.4)])?.closedBy.map(({ name }) => name)).toEqual(['lid'])
  })

  test('its own mount is not in the way, another is', () => {
    const second = { ...over, id: 'second', on: { part: 'core', face: 'right', u: 0, v: 0 } as const }
    const bay = mountedBay([over, second], [stud({ at: [0, 125, -60], tool })], {}, [rail])
    expect(judgedIn(bay).mounts[0].joints[0].reach?.closedBy.map(({ name }) => name)).toEqual(['mount-second'])
    expect(judgedIn(bay).reached).toBe(false)
  })

  test('of the keep-out that it sits on only contact is in the way', () => {
    const vague = { ...rail, uncertainty: 5 }
    const bay = (sitsOn: string | undefined) =>
      mountedBay([over], [stud({ at: [0, 125, -60], tool, sitsOn })], {}, [vague])
    expect(only(bay('rail')).reach?.clear).toBe(true)
    expect(only(bay(undefined)).reach?.closedBy.map(({ name }) => name)).toEqual(['rail'])
  })
})
