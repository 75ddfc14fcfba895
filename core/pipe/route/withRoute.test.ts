import { expect, test } from 'vitest'
import { checkBay } from '../../bay/read.ts'
import { sampleBay } from '../../../test/kit/sampleBay.ts'
import { withRoute } from './withRoute.ts'

const bay = sampleBay()
const path = [
  [90, -300, 40],
  [90, 300, 60],
] as const

test('a route goes into its pipe, and nothing else changes', () => {
  const routed = withRoute(bay, 'wide', 'cold', { path, bendRadius: 70 })
  const [{ pipes: before = [], ...rest }] = bay.candidates
  expect(routed.candidates).toEqual([{ ...rest, pipes: [{ ...before[0], path, bendRadius: 70 }] }])
  expect({ ...routed, candidates: [] }).toEqual({ ...bay, candidates: [] })
  expect(bay).toEqual(sampleBay())
  expect(checkBay(routed)).toMatchObject({ ok: true })
})

test('elbows of the former path go with it', () => {
  const [candidate] = bay.candidates
  const pipes = candidate.pipes?.map((pipe) => ({ ...pipe, elbows: [{ corner: 4, elbow: 'cast' }] }))
  const routed = withRoute({ ...bay, candidates: [{ ...candidate, pipes }] }, 'wide', 'cold', { path, bendRadius: 70 })
  expect(routed.candidates[0].pipes?.[0]).not.toHaveProperty('elbows')
})

test('a candidate or a pipe that is not there changes nothing', () => {
  expect(withRoute(bay, 'wider', 'cold', { path, bendRadius: 70 })).toEqual(bay)
  expect(withRoute(bay, 'wide', 'hot', { path, bendRadius: 70 })).toEqual(bay)
})
