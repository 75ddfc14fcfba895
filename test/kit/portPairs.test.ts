import { expect, test } from 'vitest'
import { openBay } from '../../app/files/bayFolder.ts'
import { checkBay } from '../../core/bay/read.ts'
import { distance } from '../../core/shape/vec.ts'
import { portPair } from './portPairs.ts'

test('random ports stand in a right bay, apart from each other, the same for the same seed', async () => {
  const opened = await openBay('assets/tarnbeck/tarnbeck.bay.json')
  if (!opened.ok) throw new Error(JSON.stringify(opened.faults))
  const { bay, meshes } = opened.value
  const pairs = [1, 2, 3].map((seed) => portPair(bay, meshes, seed, 85.5))
  for (const pair of pairs) {
    const [a, b] = pair.bay.ports?.slice(-2) ?? []
    expect(distance(a.at, b.at)).toBeGreaterThanOrEqual(350)
    expect(checkBay(pair.bay)).toMatchObject({ ok: true })
  }
  expect(portPair(bay, meshes, 2, 85.5)).toEqual(pairs[1])
  expect(pairs[0].bay.ports).not.toEqual(pairs[1].bay.ports)
})
