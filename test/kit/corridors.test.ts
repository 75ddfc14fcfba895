import { describe, expect, test } from 'vitest'
import { checkBay } from '../../core/bay/read.ts'
import { certify } from '../../core/pipe/route/certify.ts'
import { routeProblem } from '../../core/pipe/route/setUp.ts'
import { withRoute } from '../../core/pipe/route/withRoute.ts'
import type { Vec3 } from '../../core/shape/vec.ts'
import { ledger } from '../../core/verdict/ledger.ts'
import {
  type Corridor,
  cornerCorridor,
  doubleCorridor,
  freeRun,
  shortestRun,
  slotCorridor,
  turnWidth,
} from './corridors.ts'

const problemOf = ({ bay, candidate, pipe }: Corridor) => {
  const problem = routeProblem(bay, candidate, pipe, new Map())
  if (!problem.ok) throw new Error(JSON.stringify(problem.faults))
  return problem.value
}

test.each([
  ['one turn', cornerCorridor],
  ['two turns', doubleCorridor],
  ['slot', slotCorridor],
  ['free', () => freeRun(600, 150)],
])('%s is a right bay', (_, made) => {
  expect(checkBay(made(0.1).bay)).toMatchObject({ ok: true })
})

/** Along both outer walls, a quarter of a hundredth from them. */
const hugging = (spare: number): Vec3[] => {
  const off = 30.0025
  const outer = 200 + turnWidth + spare - off
  const end = turnWidth + spare + 200 + 140
  return [
    [-140, off, 0],
    [outer, off, 0],
    [outer, end, 0],
  ]
}

describe('the width that a turn needs', () => {
  test('with a hundredth to spare the pipe goes through, as the ledger says too', () => {
    const corridor = cornerCorridor(0.01)
    const { valid, leastMargin, bends } = certify(problemOf(corridor), hugging(0.01))
    expect({ valid, bends }).toEqual({ valid: true, bends: 3 })
    expect(leastMargin).toBeLessThan(0.01)
    const routed = withRoute(corridor.bay, corridor.candidate, corridor.pipe, { path: hugging(0.01), bendRadius: 60 })
    const checked = ledger(routed, undefined, new Map())
    expect(checked).toMatchObject({ ok: true, value: { verdict: 'clears' } })
  })

  test('with a hundredth too little it touches a wall or the corner, wherever it is', () => {
    const problem = problemOf(cornerCorridor(-0.01))
    for (let k = -4; k <= 4; k++) {
      const moved = hugging(-0.01).map(([x, y, z]): Vec3 => [x > 0 ? x - k * 0.005 : x, y < 100 ? y + k * 0.005 : y, z])
      expect(certify(problem, moved).valid).toBe(false)
    }
  })
})

test('the shortest free curve is two equal arcs and their tangent, by figures of a drawing', () => {
  // By hand: t = 30°: across = 90 + m·cos 30°, aside = 180·(1 − cos 30°) + m/2; with m = 100.
  const [ahead, aside] = [120 + 90 + 100 * Math.cos(Math.PI / 6), 180 * (1 - Math.cos(Math.PI / 6)) + 50]
  expect(shortestRun(ahead, aside)).toBeCloseTo(120 + 180 * (Math.PI / 6) + 100, 9)
})
