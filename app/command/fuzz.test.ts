import { mkdtemp, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { cli } from '../../test/kit/cli.ts'
import { type Random, seeded } from '../../test/kit/random.ts'
import { sampleBay } from '../../test/kit/sampleBay.ts'

let folder: string
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'fuzz-'))
})
afterAll(() => rm(folder, { recursive: true }))

const oddNumbers = [0, -0, 1, -1, 1e-9, 1e-300, 1e6, 9_999_999, -1e7, 1e8, 1e300, 0.1 + 0.2, 90, 180, 360]
const oddValues = ['', 'a', '90', 'beam', 'tank-left:in', null, true, [], {}, [0, 0, 0], [[0, 0, 0]], { kind: 'box' }]

interface Slot {
  readonly holder: Record<string, unknown>
  readonly key: string
}
function slotsOf(value: unknown): Slot[] {
  if (typeof value !== 'object' || value === null) return []
  const holder = value as Record<string, unknown>
  return Object.keys(holder).flatMap((key) => [{ holder, key }, ...slotsOf(holder[key])])
}

function changeSomething(bay: object, random: Random): void {
  const { holder, key } = random.pick(slotsOf(bay))
  const former = holder[key]
  if (!Array.isArray(holder) && random.chance(0.1)) delete holder[key]
  else if (typeof former !== 'number' || random.chance(0.3))
    holder[key] = structuredClone(random.pick<unknown>([...oddNumbers, ...oddValues]))
  else holder[key] = random.chance(0.5) ? former * random.pick([0.5, -1, 2, 1.001, 10]) : random.real(-1000, 1000)
}

test('any field changed to anything gives a verdict or a sentence, never a failure of our own (seed 7, 400 bays)', async () => {
  const random = seeded(7)
  const path = join(folder, 'a.bay.json')
  let read = 0
  for (let i = 0; i < 400; i++) {
    const bay = sampleBay()
    for (let changes = 1 + random.int(3); changes > 0; changes--) changeSomething(bay, random)
    const text = JSON.stringify(bay)
    await writeFile(path, text)
    const { status, out, err } = await cli(['check', path, ...(i % 2 === 0 ? ['--json'] : [])])
    const told = `bay ${i}, ${text}`
    expect([0, 1, 2], told).toContain(status)
    expect(out + err, told).not.toMatch(/mistake of its own|NaN|undefined|Infinity/)
    expect(out === '', told).toBe(status === 2)
    expect(err === '', told).toBe(status !== 2)
    if (status !== 2) read++
  }
  // The test is only worth something if both ways are gone often.
  expect(read).toBeGreaterThan(40)
  expect(read).toBeLessThan(360)
})
