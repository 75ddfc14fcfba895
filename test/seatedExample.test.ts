import { mkdtemp, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { ended, start } from './kit/program.ts'

/* The largest core that also comes in, in the program as people start it: adopted, checked, and its way proved again. */
let folder: string
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'seated-'))
  // The first start may build.
  await ended(start('--version'))
})
afterAll(() => rm(folder, { recursive: true }))

test('Corvane: what largest --seated adopts comes in by its own moves', async () => {
  const copy = join(folder, 'corvane.bay.json')
  const found = await ended(start('largest', 'assets/corvane/corvane.bay.json', '--seated', '--json', '--adopt', copy))
  expect(found.status).toBe(0)
  const { value, upperBound, stopped, seated, candidate } = JSON.parse(found.out)
  expect(stopped).toBe('proved')
  expect(upperBound).toBeGreaterThanOrEqual(value)
  expect(candidate.offering.moves).toHaveLength(seated.path.moves.length)
  const moves = join(folder, 'moves.json')
  await writeFile(moves, JSON.stringify(seated.path))
  const again = await ended(start('seat', copy, '--moves', moves, '--json'))
  expect(JSON.parse(again.out).answer).toBe('proved')
  // Pipes with their couplers and clamps are left out of the search, as in `largest`.
  const { pairs } = JSON.parse((await ended(start('check', copy, '--json'))).out)
  const own = pairs.filter(({ part }: { part: string }) => /^(core|tank|stub|mount)-?/.test(part))
  expect(own.length).toBeGreaterThan(10)
  expect(own.every(({ verdict }: { verdict: string }) => verdict === 'clears')).toBe(true)
})
