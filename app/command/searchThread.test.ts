import { mkdtemp, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { pathToFileURL } from 'node:url'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { roomBay } from '../../test/kit/roomBay.ts'
import type { SearchLimits } from './searches.ts'
import { searchInThread } from './searchThread.ts'

let folder: string
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'thread-'))
})
afterAll(() => rm(folder, { recursive: true }))

let programs = 0
/** A program for the thread, in place of the real one: the real one is tested as a whole. */
async function programOf(text: string): Promise<URL> {
  const path = join(folder, `${programs++}.mjs`)
  await writeFile(path, `import { parentPort, workerData } from 'node:worker_threads'\n${text}`)
  return pathToFileURL(path)
}
const ask = { bay: roomBay(), candidate: undefined, meshes: new Map(), request: {} }
const limits = (change: Partial<SearchLimits> = {}): SearchLimits => ({
  seconds: 100,
  progress: () => {},
  stopping: () => {},
  ...change,
})
/** Calls what the search has put on Ctrl-C, without ending the test itself. */
function press(known: readonly unknown[]): void {
  for (const heard of process.listeners('SIGINT')) if (!known.includes(heard)) heard('SIGINT')
}
const pause = (ms: number) => new Promise((done) => setTimeout(done, ms))

describe('a search in a thread', () => {
  test('gets its question and the flag, tells progress, and brings the answer back', async () => {
    const program = await programOf(`
      const { name, ask, flag } = workerData
      parentPort.postMessage({ kind: 'progress', inHand: 1, bound: 2 })
      parentPort.postMessage({ kind: 'answer', answer: { ok: true, value: [name, ask.bay.name, flag.byteLength] } })
    `)
    const told: number[][] = []
    const answer = await searchInThread(program)('place', ask, limits({ progress: (a, b) => told.push([a, b]) }))
    expect(answer).toEqual({ ok: true, value: ['place', 'Room', 4] })
    expect(told).toEqual([[1, 2]])
  })

  test.each([
    ['the clock', 1, { seconds: 0.1 }],
    ['Ctrl-C', 2, {}],
  ])('%s is heard through the flag while the thread computes', async (_, expected, change) => {
    const program = await programOf(`
      const flag = new Int32Array(workerData.flag)
      while (Atomics.load(flag, 0) === 0);
      parentPort.postMessage({ kind: 'answer', answer: { ok: true, value: Atomics.load(flag, 0) } })
    `)
    const known = process.listeners('SIGINT')
    let stopping = 0
    const search = searchInThread(program)('place', ask, limits({ ...change, stopping: () => stopping++ }))
    if (expected === 2) {
      await pause(100)
      press(known)
      // The same press, by way of a program in between.
      press(known)
    }
    expect(await search).toEqual({ ok: true, value: expected })
    expect(stopping).toBe(expected - 1)
    expect(process.listeners('SIGINT')).toEqual(known)
  })

  test('a second Ctrl-C ends at once what does not listen', async () => {
    const program = await programOf('for (;;);')
    const known = process.listeners('SIGINT')
    const search = searchInThread(program)('place', ask, limits())
    await pause(50)
    press(known)
    await pause(600)
    press(known)
    expect(await search).toBeNull()
  })

  test('a thread that breaks, or ends without an answer, is no answer', async () => {
    const broken = await programOf('throw new RangeError("out of room")')
    await expect(searchInThread(broken)('place', ask, limits())).rejects.toThrow('out of room')
    const silent = await programOf('')
    await expect(searchInThread(silent)('place', ask, limits())).rejects.toThrow('without an answer')
  })
})
