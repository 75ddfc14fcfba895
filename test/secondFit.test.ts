import { expect, test } from 'vitest'
import { keepOutSolids } from '../core/bay/keepOuts.ts'
import type { Bay, Candidate, KeepOut } from '../core/bay/schema.ts'
import { largest } from '../core/largest/largest.ts'
import { seeded } from './kit/random.ts'
import { fitProblem } from './kit/secondFit/fit.ts'
import { FitSearch } from './kit/secondFit/fitSearch.ts'

const none = new Map()

test('60 random bays with tanks, turned boxes, rods and planes: two searches written apart bound each other (seed 88)', () => {
  const random = seeded(88)
  let compared = 0
  for (let run = 0; run < 60; run++) {
    const keepOuts: KeepOut[] = Array.from({ length: 3 + random.int(4) }, (_, i) => {
      const at = random.point(150)
      const shape: KeepOut['shape'] = random.pick([
        {
          kind: 'box',
          at: [...at],
          size: [random.real(20, 120), random.real(20, 120), random.real(20, 120)],
          turn: [0, random.real(-20, 20), random.real(-20, 20)],
        },
        { kind: 'cylinder', from: [...at], to: [at[0] + 90, at[1] - 40, at[2] + 60], radius: random.real(8, 30) },
        {
          kind: 'halfSpace',
          point: [0, 0, -random.real(60, 140)],
          normal: [random.real(-0.2, 0.2), random.real(-0.2, 0.2), 1],
        },
      ])
      return {
        id: `k${i}`,
        name: 'k',
        role: 'body',
        clearance: random.real(0, 10),
        uncertainty: random.real(0, 2),
        shape,
      }
    })
    const tank = {
      length: 30,
      front: 0,
      rear: 2,
      below: -3,
      above: 0,
      ...(random.chance(0.5) && { taper: { depth: 0.7, height: 0.8 } }),
    }
    const candidate: Candidate = {
      id: 'c',
      name: 'c',
      at: [0, 0, 0],
      turn: [0, 0, 0],
      core: { depth: 40, width: 80, height: 60, tolerance: 0.5 },
      ...(random.chance(0.7) && { tanks: { left: tank } }),
      limits: {
        depth: random.chance(0.5) ? { stock: [40, 65, 90] } : { min: 30, max: 140 },
        width: { min: 40, max: 260 },
        height: { min: 30, max: 200, ...(random.chance(0.5) && { pitch: 10.5, offset: 8 }) },
        centre: { min: [-60, -60, -60], max: [60, 60, 60] },
      },
    }
    const bay: Bay = {
      format: 'gapwright-bay',
      version: 1,
      name: 'x',
      frame: { origin: 'here' },
      units: 'mm',
      keepOuts,
      candidates: [candidate],
    }
    const solids = keepOutSolids(bay, none)
    const one = largest(bay, undefined, none, { within: 0.002, holds: false })
    if (!solids.ok || !one.ok) throw new Error(JSON.stringify([solids, one]))
    const problem = fitProblem(
      { bay, candidate, keepOuts: solids.value, aim: 'volume', limits: candidate.limits ?? {} },
      0,
      0,
    )
    if (!problem.ok) throw new Error(JSON.stringify(problem))
    const other = new FitSearch(problem.value, {
      within: 0.002,
      work: 1500,
      stop: () => null,
      progress: () => undefined,
    }).run()
    const value = one.value.answer === 'found' ? one.value.value : 0
    expect(other.value).toBeLessThanOrEqual(one.value.upperBound * (1 + 1e-9))
    expect(value).toBeLessThanOrEqual(other.upperBound * (1 + 1e-9))
    if (one.value.stopped === 'proved' && other.stopped === 'proved') compared++
  }
  expect(compared).toBeGreaterThan(45)
})
