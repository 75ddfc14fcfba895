import { parentPort, Worker, workerData } from 'node:worker_threads'
import { type SearchAsk, type SearchAnswer, type Searcher, type SearchName, runSearch, type Stop } from './searches.ts'

/** What the thread is started with. `flag` is shared: 0 go on, else a place in `stops` plus 1. */
interface Errand<N extends SearchName = SearchName> {
  readonly name: N
  readonly ask: SearchAsk<N>
  readonly flag: SharedArrayBuffer
}
const stops: readonly Stop[] = ['time', 'cancelled']

type Told<N extends SearchName = SearchName> =
  | { readonly kind: 'progress'; readonly inHand: number; readonly bound: number }
  | { readonly kind: 'answer'; readonly answer: SearchAnswer<N> }

/** Between two messages about progress, ms: a search can have thousands of steps a second. */
const pause = 50
/** A timer with more than that goes off at once, ms. */
const longestTimer = 2 ** 31 - 1
/** One press of Ctrl-C may arrive twice, from the terminal and from a program in between such as npx, ms. */
const onePress = 500

/**
 * Searches in a thread of their own, so that Ctrl-C and the clock are heard while they compute.
 * Ctrl-C once: the search ends with what it has. Twice: it is ended at once, without an answer.
 * @param program module to start in the thread; it must call `searchForParent` when it finds that it is not the main one
 */
export const searchInThread =
  (program: URL): Searcher =>
  (name, ask, { seconds, progress, stopping }) =>
    new Promise((resolve, reject) => {
      const flag = new SharedArrayBuffer(4)
      const view = new Int32Array(flag)
      const stop = (why: Stop) => Atomics.compareExchange(view, 0, 0, stops.indexOf(why) + 1)
      const worker = new Worker(program, { workerData: { name, ask, flag } satisfies Errand })
      const timer = setTimeout(() => stop('time'), Math.min(1000 * seconds, longestTimer))
      let asked: number | undefined
      const interrupted = () => {
        const now = performance.now()
        if (asked !== undefined) {
          if (now - asked > onePress) done(() => resolve(null))
          return
        }
        asked = now
        stop('cancelled')
        stopping()
      }
      const done = (finish: () => void) => {
        clearTimeout(timer)
        process.off('SIGINT', interrupted)
        void worker.terminate()
        finish()
      }
      process.on('SIGINT', interrupted)
      worker.on('message', (told: Told<typeof name>) => {
        if (told.kind === 'progress') progress(told.inHand, told.bound)
        else done(() => resolve(told.answer))
      })
      worker.on('error', (error) => done(() => reject(error)))
      worker.on('exit', () => done(() => reject(new Error('the search ended without an answer'))))
    })

/** The thread's side: does its errand, and ends. */
export async function searchForParent(): Promise<void> {
  const { name, ask, flag } = workerData as Errand
  const view = new Int32Array(flag)
  const tell = (told: Told) => parentPort?.postMessage(told)
  let next = 0
  const answer = await runSearch(name, ask, {
    stop: () => stops[Atomics.load(view, 0) - 1] ?? null,
    progress: (inHand, bound) => {
      if (performance.now() < next) return
      next = performance.now() + pause
      tell({ kind: 'progress', inHand, bound })
    },
  })
  tell({ kind: 'answer', answer })
}
