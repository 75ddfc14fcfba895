import { describe, expect, test } from 'vitest'
import { anyBody, boxBody, movedBody } from '../../test/kit/bodies.ts'
import { bumpyMesh, meshOf } from '../../test/kit/meshes.ts'
import { type Random, seeded } from '../../test/kit/random.ts'
import { bareCandidate, keepOut, tinyBay } from '../../test/kit/tinyBay.ts'
import { placedMesh } from '../../test/kit/triangleSoups.ts'
import { anyTube } from '../../test/kit/tubes.ts'
import { clearance } from '../clearance/clearance.ts'
import { recentred } from '../clearance/recentred.ts'
import type { Form, Solid } from '../shape/form.ts'
import { solidFrom } from '../shape/solid.ts'
import { identity, scale, type Vec3 } from '../shape/vec.ts'
import { ledger } from '../verdict/ledger.ts'
import {
  type AxisWay,
  axisWays,
  type ClearingMoves,
  clearingMoves,
  clearingMovesOf,
  directionOf,
} from './clearingMoves.ts'

const wants = (required: number) => ({ required, uncertainty: 0, tolerance: 0 })
const boxAt = (at: Vec3, half: Vec3): Form => ({
  form: 'convex',
  body: movedBody(boxBody(...half), { turn: identity, at }),
})
const box = (at: Vec3, half: Vec3): Solid => solidFrom([boxAt(at, half)])
/** 100 × 60 × 40 about the origin. */
const part = box([0, 0, 0], [50, 30, 20])
const asMesh = (at: Vec3, half: Vec3): Solid =>
  solidFrom([placedMesh(meshOf(boxBody(...half)), { turn: identity, at })])

/** Moves to a hundredth, null where there is none; each held to its own bounds. */
function tidy(moves: ClearingMoves): Record<AxisWay, number | null> {
  return Object.fromEntries(
    axisWays.map((way) => {
      const move = moves[way]
      if (move) {
        expect(move.notBefore).toBeLessThanOrEqual(move.by)
        expect(move.by - move.notBefore).toBeLessThan(0.01)
      }
      return [way, move && Math.round(move.by * 100) / 100]
    }),
  ) as Record<AxisWay, number | null>
}

describe('closed forms', () => {
  test.each([
    ['box', box([40, 0, 0], [20, 100, 10])],
    ['mesh of a box', asMesh([40, 0, 0], [20, 100, 10])],
  ])('out of an overlapping %s along each axis, with 5 mm to spare', (_, solid) => {
    // Part X −50…50, keep-out X 20…60, Y ±100, Z ±10.
    expect(tidy(clearingMovesOf(part, solid, wants(5)))).toEqual({
      '+x': 115,
      '-x': 35,
      '+y': 135,
      '-y': 135,
      '+z': 35,
      '-z': 35,
    })
  })

  test('past a corner the move ends on the quarter circle about it', () => {
    // Corner of the keep-out 3 mm over the part in Z: wanted 5 in all leaves 4 in X.
    const moves = tidy(clearingMovesOf(part, box([60, 0, 33], [10, 100, 10]), wants(5)))
    expect(moves).toMatchObject({ '-x': 4, '+x': 124, '-z': 2, '+z': 68 })
  })

  test('a wall without an end lets out to one side only', () => {
    const wall = solidFrom([{ form: 'halfSpace', point: [45, 0, 0], normal: [-1, 0, 0] }])
    expect(tidy(clearingMovesOf(part, wall, wants(2)))).toEqual({
      '-x': 7,
      '+x': null,
      '+y': null,
      '-y': null,
      '+z': null,
      '-z': null,
    })
    const leaning = solidFrom([{ form: 'halfSpace', point: [50, 0, 0], normal: [-0.6, 0, 0.8] }])
    // Deepest corner (50, z −20): 16 mm inside. Along X a way of 1 gives 0.6, along Z 0.8.
    expect(tidy(clearingMovesOf(part, leaning, wants(2)))).toMatchObject({
      '-x': 30,
      '+z': 22.5,
      '+x': null,
      '+y': null,
    })
  })

  test('a round bar', () => {
    const bar = solidFrom([
      { form: 'round', radius: 8, centreline: [{ kind: 'straight', from: [56, -300, 23], to: [56, 300, 23] }] },
    ])
    // Corner (50, 20) must be 8 + 2 from the axis (56, 23): √(100 − 9) back in X, √(100 − 36) down in Z.
    const moves = tidy(clearingMovesOf(part, bar, wants(2)))
    expect(moves['-x']).toBe(Math.round((Math.sqrt(91) - 6) * 100) / 100)
    expect(moves['-z']).toBe(5)
    expect(moves['+y']).toBe(null)
  })

  test('a clear slot on the way is taken, a narrower one is passed', () => {
    const teeth = (slot: number) =>
      solidFrom([boxAt([60, 0, 0], [20, 20, 20]), boxAt([60 + 40 + 100 + slot, 0, 0], [20, 20, 20])])
    // From X 80 on the part (100 long) fits between the teeth where the slot leaves 2 × 4.
    expect(tidy(clearingMovesOf(part, teeth(9), wants(4)))['+x']).toBe(134)
    expect(clearingMovesOf(part, teeth(7), wants(4))['+x']).toBe(null)
    expect(tidy(clearingMovesOf(part, teeth(7), wants(4), 400))['+x']).toBe(281)
  })

  test('wholly inside a solid mesh', () => {
    const moves = clearingMovesOf(box([10, 0, 0], [10, 10, 10]), asMesh([0, 0, 0], [80, 80, 80]), wants(3))
    expect(moves['+x']?.by).toBeCloseTo(83, 2)
    expect(moves['-x']?.by).toBeCloseTo(103, 2)
    expect(moves['+z']?.by).toBeCloseTo(93, 2)
  })

  test('nothing to do where it clears already; null beyond reach', () => {
    const far = clearingMovesOf(part, box([100, 0, 0], [20, 100, 100]), wants(5))
    for (const way of axisWays) expect(far[way]).toEqual({ by: 0, notBefore: 0 })
    expect(clearingMovesOf(part, box([0, 0, 0], [300, 300, 10]), wants(5), 25)['+z']).toBe(null)
    expect(clearingMovesOf(part, box([0, 0, 0], [300, 300, 10]), wants(5), 36)['+z']?.by).toBeCloseTo(35, 3)
  })

  test('tolerance and uncertainty are held against the part', () => {
    const asked = { required: 5, uncertainty: 2, tolerance: 1 }
    expect(tidy(clearingMovesOf(part, box([40, 0, 0], [20, 100, 10]), asked))['-x']).toBe(38)
  })
})

/** Some solid near the origin that a part of a few tens of millimetres runs into. */
function anySolid(random: Random): Solid {
  const at = random.point(25)
  const moved = (form: Form) => recentred(form, scale(at, -1))
  switch (random.int(4)) {
    case 0:
      return solidFrom([moved({ form: 'convex', body: anyBody(random, 40) })])
    case 1:
      return solidFrom([0, 1, 2].map(() => recentred({ form: 'convex', body: anyBody(random, 30) }, random.point(50))))
    case 2:
      return solidFrom([moved(anyTube(random, 40))])
    default:
      return solidFrom([placedMesh(bumpyMesh(8, 8, random.int(99)), { turn: random.turn(), at })])
  }
}

test('60 random pairs: nothing clears before, the move itself does, and none is missed (steps of 0.5 mm, seed 5)', () => {
  const random = seeded(5)
  const mix = { moves: 0, none: 0, clear: 0 }
  for (let run = 0; run < 60; run++) {
    const solid = anySolid(random)
    const moving = solidFrom([{ form: 'convex', body: anyBody(random, 35) }])
    const required = random.real(0, 6)
    const reach = 80
    const moves = clearingMovesOf(moving, solid, wants(required), reach)
    for (const way of axisWays) {
      const move = moves[way]
      const clearsAt = (by: number) => {
        const there = solidFrom(moving.forms.map((form) => recentred(form, scale(directionOf(way), -by))))
        const { atLeast, overlap } = clearance(there, solid)
        return atLeast >= required && (overlap === undefined || overlap.depthAtMost === 0)
      }
      const firstClear = Array.from({ length: 161 }, (_, i) => i / 2).find(clearsAt) ?? Infinity
      expect(firstClear).toBeGreaterThanOrEqual(move?.notBefore ?? reach - 0.5)
      if (move === null) {
        mix.none++
        continue
      }
      expect(clearsAt(move.by)).toBe(true)
      expect(move.by - move.notBefore).toBeLessThan(0.1)
      mix[move.by === 0 ? 'clear' : 'moves']++
    }
  }
  expect(mix.moves).toBeGreaterThan(100)
  expect(mix.none).toBeGreaterThan(10)
  expect(mix.clear).toBeGreaterThan(10)
})

describe('a row of a ledger', () => {
  const bay = tinyBay(
    [keepOut('plate', { kind: 'box', at: [60, 0, 0], size: [30, 400, 400] }, { clearance: 4, uncertainty: 1 })],
    bareCandidate({
      tanks: { right: { length: 30, front: 0, rear: 0, below: 0, above: 0, tolerance: 0.5 } },
    }),
  )
  test.each([
    ['core', 10],
    ['tank-right', 10.5],
  ])('%s forward by %d mm, and the ledger then says that it clears', (name, by) => {
    const answer = clearingMoves(bay, undefined, new Map(), { part: name, keepOut: 'plate' })
    if (!answer.ok || !answer.value) throw new Error(JSON.stringify(answer))
    const move = answer.value['-x']
    expect(move?.by).toBeCloseTo(by, 3)
    const at: [number, number, number] = [-(move?.by ?? 0), 0, 0]
    const moved = ledger({ ...bay, candidates: [{ ...bay.candidates[0], at }] }, undefined, new Map())
    if (!moved.ok) throw new Error(JSON.stringify(moved.faults))
    expect(moved.value.pairs.find((pair) => pair.part === name)?.verdict).toBe('clears')
  })

  test('pipes, couplers, clamps and pairs of parts have none, and a pair that is not there is a fault', () => {
    const none = new Map()
    for (const part of ['pipe-hot', 'coupler-hot-to', 'clamp-hot-from-port'])
      expect(clearingMoves(bay, undefined, none, { part, keepOut: 'plate' })).toEqual({ ok: true, value: null })
    expect(clearingMoves(bay, undefined, none, { part: 'core', keepOut: 'pipe-hot', between: 'parts' })).toEqual({
      ok: true,
      value: null,
    })
    const unknown = clearingMoves(bay, undefined, none, { part: 'core', keepOut: 'nobody' })
    expect(unknown.ok ? [] : unknown.faults.map((fault) => fault.code)).toEqual(['unknown-pair'])
  })
})
