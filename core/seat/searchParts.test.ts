import { expect, test } from 'vitest'
import { seeded } from '../../test/kit/random.ts'
import { bar, block, subjectOf, tiltBay, wall } from '../../test/kit/seatBays.ts'
import { tinyBay } from '../../test/kit/tinyBay.ts'
import { cross, distance, dot, length, placed, product, sub, type Vec3 } from '../shape/vec.ts'
import { Advancer } from './advance.ts'
import { aim } from './aim.ts'
import { certifyMotions } from './certify.ts'
import { connect, turnBetween } from './connect.ts'
import { contactsOf } from './contacts.ts'
import { leastAlong, waysOut } from './exits.ts'
import { insetOf } from './inset.ts'
import { minNorm } from './minNorm.ts'
import { turnAbout } from './move.ts'
import { SeatSearch } from './search.ts'
import { after, motionOf, motionsAlong, shareOfStep, shiftStep, type Step, turnStep } from './steps.ts'
import { Sweeps } from './sweeps.ts'
import { Work } from './work.ts'
import { yieldingTurn } from './yielding.ts'

test('the shortest vector of a hull: two by hand, and no chance combination is shorter (seed 1)', () => {
  expect(minNorm([[3, 4]])).toEqual([3, 4])
  const [x, y] = minNorm([
    [1, 1],
    [1, -3],
  ])
  expect([x, y]).toEqual([expect.closeTo(1, 3), expect.closeTo(0, 3)])
  const random = seeded(1)
  for (let run = 0; run < 50; run++) {
    const all = Array.from({ length: 5 }, () =>
      [...random.point(1), ...random.point(1)].map((v, k) => v + (k === 0 ? 0.8 : 0)),
    )
    const least = Math.hypot(...minNorm(all))
    for (let k = 0; k < 40; k++) {
      const weights = all.map(() => random.real(0, 1) ** 3)
      const sum = weights.reduce((a, b) => a + b)
      const mixed = all[0].map((_, i) => all.reduce((v, g, n) => v + (g[i] * weights[n]) / sum, 0))
      expect(Math.hypot(...mixed)).toBeGreaterThanOrEqual(least - 0.02)
    }
  }
})

test('the turn between two attitudes leads from one to the other, half turns included (seed 2)', () => {
  const random = seeded(2)
  for (let run = 0; run < 200; run++) {
    const from = random.turn()
    const angle = run % 5 === 0 ? 180 : random.real(0, 180)
    const axis = random.unit()
    const to = product(turnAbout(axis, (angle * Math.PI) / 180), from)
    const found = turnBetween(from, to)
    const back = product(turnAbout(found.axis, (found.angle * Math.PI) / 180), from)
    expect(Math.max(...back.map((x, k) => Math.abs(x - to[k])))).toBeLessThan(1e-6)
    expect(found.angle).toBeCloseTo(angle, 3)
  }
})

const { bay, meshes } = tiltBay()
const subject = subjectOf(bay, meshes)
const marginOf = (steps: readonly Step[], from = subject.seat): number =>
  certifyMotions(subject, motionsAlong(from, steps), new Sweeps(), 100_000).atLeast

test('120 moves from the seat: what is called clear is, and a move goes as far as it can (seed 7)', () => {
  const random = seeded(7)
  const advancer = new Advancer(subject, new Sweeps())
  let cut = 0
  for (let run = 0; run < 120; run++) {
    const step = random.chance(0.5)
      ? shiftStep(random.unit(), random.real(5, 120))
      : turnStep(random.unit(), random.point(100) as Vec3, random.real(2, 40))
    const { share, away } = advancer.advance(motionOf(step, subject.seat), 0.005)
    expect(advancer.isClear(motionOf(step, subject.seat), 0.005)).toBe(share === 1)
    if (share > 0) expect(marginOf([shareOfStep(step, share)])).toBeGreaterThan(-0.06)
    if (share === 1) continue
    cut++
    // A millimetre more, or as much as a degree brings, and it is too near.
    const more = Math.min(1, share + 1.5 / motionOf(step, subject.seat).travel(400))
    expect(marginOf([shareOfStep(step, more)])).toBeLessThan(1.6)
    if (away) expect(length(away)).toBeCloseTo(1, 9)
  }
  expect(cut).toBeGreaterThan(30)
  expect(cut).toBeLessThan(110)
})

test('steps that connect two poses are clear and end at the second', () => {
  const search = new SeatSearch(subject, new Work(1e6))
  const goal = after(after(subject.seat, turnStep([0, 1, 0], [0, 0, 0], -4)), shiftStep([0, 0, -1], 12))
  const steps = connect(search, subject.seat, goal, 0.005, true)
  if (!steps) throw new Error('not connected')
  const end = motionsAlong(subject.seat, [...steps, shiftStep([1, 0, 0], 0)])[steps.length].from
  for (const corner of [
    [0, 0, 0],
    [40, 300, 100],
  ] as const)
    expect(distance(placed(end, corner), placed(goal, corner))).toBeLessThan(1e-6)
  expect(marginOf(steps)).toBeGreaterThan(-0.06)
})

test('aiming frees a bar that lies aslant in a slot, and centres it', () => {
  const slot = subjectOf(
    tinyBay(
      [
        wall('below', [0, 0, -30], [0, 0, 1]),
        wall('above', [0, 0, 30], [0, 0, -1]),
        block('far', [900, 950], [-9, 9], [-9, 9]),
      ],
      bar(300, 40, 40),
    ),
  )
  const work = new Work(1e6)
  const leaning = after(slot.seat, turnStep([0, 1, 0], [0, 0, 0], 8))
  const push = shiftStep([-1, 0, 0], 500)
  expect(contactsOf(slot, work.sweeps, leaning, push, 5)).toBeNull()
  expect(contactsOf(insetOf(slot, 16), work.sweeps, leaning, push, 5)?.least).toBeGreaterThan(0)
  const aimed = aim(slot, leaning, push, { target: 9.9, work })
  expect(aimed?.inset).toBe(0)
  // 60 of room and 40 of bar: no more than 10 a side.
  expect(aimed?.margin).toBeGreaterThan(9.5)
  expect(aimed?.margin).toBeLessThanOrEqual(10.000001)
})

test('a turn that gives way goes no nearer to what stopped it (seed 9)', () => {
  const random = seeded(9)
  let yielded = 0
  for (let run = 0; run < 100; run++) {
    const pose = { at: random.point(100), turn: random.turn() }
    const turn = turnStep(random.unit(), random.point(100), random.real(1, 6))
    const stoppers = Array.from({ length: 1 + random.int(2) }, () => ({ away: random.unit(), on: random.point(200) }))
    const step = yieldingTurn(pose, turn, stoppers)
    if (!step) {
      // From both sides at once: there the few rounds do not come to an end.
      expect(dot(stoppers[0].away, stoppers[1].away)).toBeLessThan(-0.7)
      continue
    }
    yielded++
    const middle = placed(pose, turn.pivot)
    for (const { away, on } of stoppers) {
      const speed = cross(turn.axis, sub(on, middle)).map((x) => (x * turn.angle * Math.PI) / 180) as unknown as Vec3
      expect(dot(speed, away) + dot(step.shift, away)).toBeGreaterThan(-0.05)
    }
  }
  expect(yielded).toBeGreaterThan(80)
})

test('a push ends beyond all bounded keep-outs, whichever way it goes', () => {
  const search = new SeatSearch(subject, new Work(1e6))
  const corners = subject.keepOuts.flatMap(({ obstacles }) => obstacles.flatMap(({ box }) => [...box]))
  expect(corners.length).toBeGreaterThan(20)
  search.exits.directions.forEach((way, i) => {
    const push = search.exits.push(subject.seat, i)
    const end = after(subject.seat, push)
    for (const { obstacles } of subject.keepOuts)
      for (const { box } of obstacles)
        for (let k = 0; k < 8; k++) {
          const corner: Vec3 = [box[k & 1 ? 3 : 0], box[k & 2 ? 4 : 1], box[k & 4 ? 5 : 2]]
          expect(leastAlong(subject, end, way)).toBeGreaterThan(dot(corner, way) + 15)
        }
  })
  expect(waysOut(subject.seat).every((way) => Math.abs(length(way) - 1) < 1e-12)).toBe(true)
})
