import { expect, test } from 'vitest'
import { seeded, type Random } from '../../test/kit/random.ts'
import { bar, block, coverKeepOut, coverMesh, coverMeshes, subjectOf, wall } from '../../test/kit/seatBays.ts'
import { keepOut, tinyBay } from '../../test/kit/tinyBay.ts'
import type { KeepOut } from '../bay/schema.ts'
import { clearance } from '../clearance/clearance.ts'
import { keepOutSolids } from '../bay/keepOuts.ts'
import { candidateParts } from '../bay/parts.ts'
import { hullSolid } from '../../test/kit/hullSolid.ts'
import { add, placed, type Vec3 } from '../shape/vec.ts'
import type { Move, SeatPath } from './answer.ts'
import { certify, decide } from './certify.ts'
import { posesOf, poseAt, reversed } from './move.ts'
import type { SeatSubject } from './subject.ts'
import { Sweeps } from './sweeps.ts'

const still: Move = { shift: [0, 0, 0], pivot: [0, 0, 0], axis: [0, 0, 1], angle: 0 }
const path = (...moves: Partial<Move>[]): SeatPath => ({
  start: { at: [0, 0, 0], turn: [0, 0, 0] },
  moves: moves.map((move) => ({ ...still, ...move })),
})

/** Check A8.8: a 300 × 76 section that turns 90° about a corner sweeps a radius of √(300² + 76²) = 309.476978. */
const swept = 309.476978
const turnAboutCorner = path({ pivot: [38, 0, -150], axis: [0, 1, 0], angle: 90 })
const upright = bar(76, 500, 300)

/** The far corner turns over the top to the rear: it passes straight above the pivot. */
const above = (gap: number): KeepOut => wall('wall', [0, 0, -150 + swept + gap], [0, 0, -1])

test('a section that turns about its corner: the swept radius to the wall, any wall (A8.8)', () => {
  const plate = block('wall', [-900, 900], [-900, 900], [-150 + swept + 5, 900])
  const sheet = coverMesh(0, [-600, 600], [-600, 600], 0, 230, 230)
  const laid = { positions: sheet.positions.slice(), triangles: sheet.triangles, closed: false }
  for (let i = 0; i < laid.positions.length; i += 3) {
    const y = laid.positions[i + 1]
    laid.positions[i + 1] = laid.positions[i + 2]
    laid.positions[i] = y
    laid.positions[i + 2] = -150 + swept + 5
  }
  for (const [keepOuts, meshes] of [
    [[above(5)], new Map()],
    [[plate], new Map()],
    [[coverKeepOut()], coverMeshes(laid)],
  ] as const) {
    const sweeps = new Sweeps()
    const least = certify(subjectOf(tinyBay([...keepOuts], upright), meshes), turnAboutCorner, { sweeps })
    expect(least.atLeast).toBeLessThanOrEqual(5 + 1e-6)
    expect(least.atMost).toBeGreaterThanOrEqual(5 - 1e-6)
    expect(least.atMost - least.atLeast).toBeLessThanOrEqual(0.05)
    expect(least.keepOut).toBe(keepOuts[0].id)
    expect(least.part).toBe('core')
    expect(sweeps.queries).toBeLessThan(100)
  }
})

test('grazing by a hundredth of a millimetre, on either side, is told apart', () => {
  const near = subjectOf(tinyBay([above(0.01)], upright))
  const past = subjectOf(tinyBay([above(-0.01)], upright))
  expect(decide(near, turnAboutCorner)).toBe('proved')
  const refuted = decide(past, turnAboutCorner)
  expect(refuted).toMatchObject({ part: 'core', keepOut: 'wall', move: 0 })
  expect(certify(near, turnAboutCorner, { within: 0.002 }).atLeast).toBeGreaterThan(0)
  // Where they meet, the gap is 0 and the margin with it.
  expect(certify(past, turnAboutCorner).atMost).toBeLessThanOrEqual(0)
})

test('contact is a refusal even where nothing is wanted; a hair apart is none', () => {
  const touching = subjectOf(tinyBay([block('beside', [38, 100], [-900, 900], [-900, 900])], upright))
  const apart = subjectOf(tinyBay([block('beside', [38.001, 100], [-900, 900], [-900, 900])], upright))
  const slide = path({ shift: [0, 700, 0] })
  expect(decide(touching, slide)).not.toBe('proved')
  expect(decide(apart, slide)).toBe('proved')
  const meets = subjectOf(tinyBay([block('beside', [37.9, 100], [-900, 900], [-900, 900])], upright))
  expect(decide(meets, slide)).toMatchObject({ keepOut: 'beside', move: 0 })
})

test('a plain shift is settled by one query a pair, however long', () => {
  const sweeps = new Sweeps()
  const subject = subjectOf(tinyBay([block('beside', [40.5, 100], [-9000, 9000], [-900, 900], 1)], upright))
  const least = certify(subject, path({ shift: [0, 5000, 0] }), { sweeps })
  expect(sweeps.queries).toBe(1)
  expect(least.atLeast).toBeCloseTo(1.5, 6)
  expect(least.atMost).toBeCloseTo(1.5, 6)
})

test('inside a closed mesh without touching it nothing is proved; in an open one it is', () => {
  const cube = (closed: boolean) => ({
    ...coverMesh(0, [-2000, 2000], [-2000, 2000], 0, 2, 2),
    ...cubeOf(4000),
    closed,
  })
  const of = (closed: boolean) => subjectOf(tinyBay([coverKeepOut()], upright), coverMeshes(cube(closed)))
  expect(decide(of(true), path({ shift: [0, 10, 0] }))).toMatchObject({ keepOut: 'cover' })
  expect(certify(of(true), path({ shift: [0, 10, 0] })).atMost).toBeLessThanOrEqual(0)
})

function cubeOf(size: number) {
  const h = size / 2
  const positions = new Float64Array(24)
  for (let i = 0; i < 8; i++) positions.set([i & 1 ? h : -h, i & 2 ? h : -h, i & 4 ? h : -h], 3 * i)
  const triangles = Uint32Array.of(
    ...[0, 2, 1, 1, 2, 3, 4, 5, 6, 5, 7, 6, 0, 1, 4, 1, 5, 4, 2, 6, 3, 3, 6, 7, 0, 4, 2, 2, 4, 6, 1, 3, 5, 3, 7, 5],
  )
  return { positions, triangles }
}

function someKeepOut(random: Random, id: string): KeepOut {
  const at = (): [number, number, number] => random.point(400) as [number, number, number]
  switch (random.int(5)) {
    case 0:
      return keepOut(id, { kind: 'box', at: at(), size: [random.real(20, 200), random.real(20, 200), 90], turn: at() })
    case 1:
      return keepOut(id, { kind: 'cylinder', from: at(), to: at(), radius: random.real(5, 60) })
    case 2:
      return keepOut(id, {
        kind: 'halfSpace',
        point: [0, 0, -random.real(300, 700)],
        normal: [random.real(-1, 1), 0, 1],
      })
    case 3: {
      const [x, y, z] = at()
      const r = random.real(20, 60)
      return keepOut(id, {
        kind: 'tube',
        path: [
          [x - 300, y, z],
          [x, y, z],
          [x, y + 300, z + 50],
        ],
        radius: r / 2,
        bendRadius: r,
      })
    }
    default: {
      const [x, y, z] = at()
      const path: [number, number, number][] = [
        [x, y - 300, z],
        [x + 80, y, z],
        [x, y + 300, z],
      ]
      const section: [number, number][] = [
        [-20, -30],
        [20, -30],
        [20, 30],
        [-20, 30],
      ]
      return keepOut(id, { kind: 'sweep', section, path, up: [0, 0, 1] })
    }
  }
}

function someMoves(random: Random): SeatPath {
  return {
    start: { at: random.point(300), turn: random.point(180) },
    moves: Array.from({ length: 1 + random.int(3) }, () => ({
      shift: random.chance(0.2) ? ([0, 0, 0] as Vec3) : random.point(300),
      pivot: random.point(300),
      axis: random.unit(),
      angle: random.chance(0.2) ? 0 : random.real(-170, 170),
    })),
  }
}

/** Least margin over many poses, each by the ledger's own clearance of the real parts. */
function scanned(subject: SeatSubject, bay: ReturnType<typeof tinyBay>, motion: SeatPath, poses: number): number {
  const solids = keepOutSolids(bay, coverMeshes(skin))
  const parts = candidateParts(bay, bay.candidates[0])
  if (!solids.ok || !parts.ok) throw new Error('a bay of the test is broken')
  const starts = posesOf(motion)
  let least = Infinity
  for (const [i, move] of motion.moves.entries())
    for (let k = 0; k <= poses; k++) {
      const pose = poseAt(starts[i], move, k / poses)
      for (const part of parts.value.parts) {
        const moved = hullSolid(part.solid, (p) => placed(pose, placedBackAt(subject, p)))
        for (const { id, solid } of solids.value) {
          const wanted = subject.keepOuts.find((each) => each.id === id)?.wanted ?? 0
          const asked = wanted + part.tolerance
          if (least + asked <= 0) continue
          const answer = clearance(moved, solid, { depth: false, upTo: least + asked })
          least = Math.min(least, answer.atMost - asked)
        }
      }
    }
  return least
}

const placedBackAt = (subject: SeatSubject, p: Vec3): Vec3 =>
  add(p, [-subject.seat.at[0], -subject.seat.at[1], -subject.seat.at[2]])

const skin = coverMesh(-250, [-500, 500], [-400, 400], 30, 60, 60)

test('60 random motions among everything: no pose ever falls below what is certified, and backwards is the same (seed 6)', () => {
  const random = seeded(6)
  let apart = 0
  let straight = 0
  for (let run = 0; run < 60; run++) {
    const keepOuts = [...Array(1 + random.int(4)).keys()].map((i) => someKeepOut(random, `k${i}`))
    if (random.chance(0.4)) keepOuts.push(coverKeepOut(random.real(0, 4)))
    const tank = { length: 60, front: 5, rear: 5, below: 0, above: 0, taper: { depth: 0.7, height: 0.5 } }
    const port = { id: 'p', face: 'rear' as const, u: 0, v: 0, outsideDiameter: 50, length: 60 }
    const candidate = bar(60, 150, 110, {
      core: { depth: 60, width: 150, height: 110, tolerance: 0.5 },
      tanks: { right: { ...tank, ports: [port] } },
    })
    const bay = tinyBay(keepOuts, candidate)
    const subject = subjectOf(bay, coverMeshes(skin))
    const motion = someMoves(random)
    const least = certify(subject, motion)
    const seen = scanned(subject, bay, motion, 60)
    expect(seen).toBeGreaterThanOrEqual(least.atLeast - 1e-6)
    expect(least.atMost).toBeLessThanOrEqual(seen + 1e-6 + 0.05)
    expect(least.atMost - least.atLeast).toBeLessThanOrEqual(0.0501)
    const back = certify(subject, reversed(motion))
    expect(Math.abs(back.atLeast - least.atLeast)).toBeLessThanOrEqual(0.0501)
    expect(Math.abs(back.atMost - least.atMost)).toBeLessThanOrEqual(0.0501)
    if (least.atLeast > 0) apart++
    if (least.share > 0 && least.share < 1) straight++
    expect(decide(subject, motion, least.atLeast - 0.01)).toBe('proved')
    if (least.atMost > 0)
      expect(decide(subject, motion, least.atMost + 0.01)).toMatchObject({ move: expect.any(Number) })
  }
  expect(apart).toBeGreaterThan(15)
  expect(straight).toBeGreaterThan(20)
})
