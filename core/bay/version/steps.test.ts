import { expect, test } from 'vitest'
import { baySchema } from '../schema.ts'
import { broughtUp, newestVersion, steps } from './steps.ts'
import type { VersionStep } from './steps.ts'

test('the steps have no holes and lead to the version of the schema', () => {
  expect(steps.map((step) => step.from)).toEqual(steps.map((_, index) => index + 1))
  expect(baySchema.shape.version.value).toBe(newestVersion)
})

test('steps are taken one after the other from the version of the bay on', () => {
  const list: VersionStep[] = [1, 2, 3].map((from) => ({
    from,
    up: (bay) => ({ ...bay, trail: `${bay.trail ?? ''}${from}` }),
  }))
  expect(broughtUp({ version: 1 }, 1, list)).toEqual({ version: 4, trail: '123' })
  expect(broughtUp({ version: 3 }, 3, list)).toEqual({ version: 4, trail: '3' })
  expect(broughtUp({ version: 4 }, 4, list)).toEqual({ version: 4 })
})
