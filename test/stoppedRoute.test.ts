import { mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { ended, interrupted, start } from './kit/program.ts'
import { writeSlowRoute } from './kit/slowRoute.ts'

/* Routes among a thousand crumbs, stopped by Ctrl-C and by the clock, in the program as people start it. */
let folder: string
let bay: string
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'slow-route-'))
  bay = await writeSlowRoute(folder)
  // The first start may build.
  await ended(start('--version'))
})
afterAll(() => rm(folder, { recursive: true }))

/** More than there is time for. */
const many = ['--pipe', 'run', '--routes', '50']
/** A route is in hand, and the search goes on. */
const inHand = /cost .*, at least/

test('Ctrl-C gives the routes so far with what is proved, status 130; what it leaves can be adopted, and clears', async () => {
  const copy = join(folder, 'left.bay.json')
  const end = await interrupted(inHand, 'route', bay, ...many, '--json', '--adopt', copy)
  const { status, out, err, milliseconds } = end
  expect(status, err).toBe(130)
  expect(milliseconds).toBeLessThan(10_000)
  const answer = JSON.parse(out)
  expect(answer).toMatchObject({ command: 'route', answer: 'found', stopped: 'cancelled' })
  expect(answer.routes.length).toBeGreaterThan(0)
  expect(answer.proved.lengthAtLeast).toBeGreaterThan(2000)
  expect(err).toMatch(/\d\.\d s {2}.*at least .*\nStopping with the best so far … \(Ctrl-C again ends at once\)\n$/)
  const checked = await ended(start('check', copy, '--json'))
  expect(checked.status).toBe(0)
  expect(JSON.parse(checked.out).verdict).toBe('clears')
})

test('the same in words', async () => {
  const { status, out } = await interrupted(inHand, 'route', bay, ...many)
  expect(status).toBe(130)
  expect(out.replace(/\s+/g, ' ')).toMatch(/✓ found\. \d+ routes?, before you stopped the search/)
})

test('--seconds stops it with the best so far, and status 0', async () => {
  const begin = performance.now()
  const { status, out } = await ended(start('route', bay, ...many, '--seconds', '4', '--json'))
  expect(performance.now() - begin).toBeLessThan(20_000)
  const answer = JSON.parse(out)
  expect(answer.stopped).toBe('time')
  // On a slow machine four seconds may not do for the first route.
  expect(status).toBe(answer.routes.length > 0 ? 0 : 1)
})

test('two processes find the same routes, to the last digit', async () => {
  const asked = ['route', 'assets/tarnbeck/tarnbeck.bay.json', '--pipe', 'cold', '--routes', '3', '--json']
  const [one, other] = [await ended(start(...asked)), await ended(start(...asked))]
  expect(one.status).toBe(0)
  expect(JSON.parse(one.out).routes).toHaveLength(3)
  expect(other.out).toBe(one.out)
})
