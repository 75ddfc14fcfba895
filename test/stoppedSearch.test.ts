import { mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { ended, interrupted, start } from './kit/program.ts'
import { writeSlowBay } from './kit/slowBay.ts'

/* Searches that would go on for minutes, stopped by Ctrl-C and by the clock, in the program as people start it. */
let folder: string
let bay: string
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'slow-'))
  bay = await writeSlowBay(folder)
  // The first start may build.
  await ended(start('--version'))
})
afterAll(() => rm(folder, { recursive: true }))

// Far finer than anyone needs, so that the proof is not there before the finger is.
const fine = ['--within', '0.000000001']

describe.each(['largest', 'place'])('%s', (command) => {
  test('Ctrl-C gives the best so far with its bound, and status 130', async () => {
    const { status, out, err, milliseconds } = await interrupted(/at most/, command, bay, ...fine, '--json')
    expect(status).toBe(130)
    expect(milliseconds).toBeLessThan(10_000)
    const answer = JSON.parse(out)
    expect(answer).toMatchObject({ command, of: 'yolk', stopped: 'cancelled' })
    const [least, most] =
      command === 'largest' ? [answer.value, answer.upperBound] : [answer.margin.atLeast, answer.margin.atMost]
    expect(least).toBeGreaterThan(0)
    expect(most).toBeGreaterThan(least)
    expect(answer.candidate.id).toBe(`yolk-${command === 'largest' ? 'largest' : 'placed'}`)
    expect(err).toMatch(/\d\.\d s {2}.*at most .*\nStopping with the best so far … \(Ctrl-C again ends at once\)\n$/)
  })

  test('what Ctrl-C leaves can be adopted, and clears', async () => {
    const copy = join(folder, `${command}.bay.json`)
    const { status, out } = await interrupted(/at most/, command, bay, ...fine, '--adopt', copy)
    expect(status).toBe(130)
    expect(out).toMatch(/stopped by you/)
    const checked = await ended(start('check', copy, '--json'))
    expect(checked.status).toBe(0)
    expect(JSON.parse(checked.out).verdict).toBe('clears')
  })

  test('--seconds stops it with the best so far, and status 0', async () => {
    const begin = performance.now()
    const { status, out } = await ended(start(command, bay, ...fine, '--seconds', '4', '--json'))
    expect(status).toBe(0)
    expect(performance.now() - begin).toBeLessThan(20_000)
    expect(JSON.parse(out).stopped).toBe('time')
  })
})
