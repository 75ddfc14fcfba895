import { type FitQuestion, fitProblem } from './fit.ts'
import type { Faces } from './fitFrame.ts'
import { type FitResult, FitSearch } from './fitSearch.ts'
import type { LargestRequest } from './largest.ts'

/** The best over a range of tilts, at which tilt, and the bound over all of them. */
export interface Tilted {
  readonly result: FitResult
  /** Degrees. */
  readonly tilt: number
}

const degree = Math.PI / 180
/** Tilts tried first, as shares of the way to either end of the range, nearest to its middle first. */
const firstTries = [0, 0.1, -0.1, 0.25, -0.25, 0.45, -0.45, 0.75, -0.75, 1, -1]
/** Nodes spent on a slice of tilts before it is halved. */
const nodesASlice = 250
/** A slice as narrow as this is searched to the end, degrees. */
const narrow = 0.01

/**
 * Fixed tilts first, each beginning with the best known; then the whole range is proved slice by slice: in a slice every
 * rule is loosened by what its point may move, and a slice that does not close is halved.
 */
export function tiltedSearch(
  question: FitQuestion,
  { min, max }: { min: number; max: number },
  request: LargestRequest,
): Tilted {
  const within = request.within ?? 0.005
  const stop = request.stop ?? (() => null)
  const progress = request.progress ?? (() => undefined)
  const work = request.work ?? 20_000
  const run = (
    tilt: number,
    half: number,
    nodes: number,
    above: number,
    above2: (v: number, b: number) => void,
  ): FitResult => {
    const problem = fitProblem(question, tilt, half * degree)
    if (!problem.ok) throw new Error(JSON.stringify(problem.faults))
    return new FitSearch(problem.value, { within, work: nodes, above, stop, progress: above2 }).run()
  }
  if (min === max) return { result: run(min, 0, work, 0, progress), tilt: min }
  let best: { faces: Faces; value: number; tilt: number } | undefined
  let nodes = 0
  const take = (found: FitResult, tilt: number): void => {
    nodes += found.nodes
    if (found.best && found.value > (best?.value ?? 0)) best = { faces: found.best, value: found.value, tilt }
  }
  const middle = (min + max) / 2
  for (const share of firstTries) {
    const tilt = middle + (share * (max - min)) / 2
    take(
      run(tilt, 0, 600, best?.value ?? 0, () => undefined),
      tilt,
    )
  }
  const slices = slicesAround(min, max, best?.tilt ?? middle)
  let upperBound = best?.value ?? 0
  const conflict = new Set<string>()
  const end = (stopped: FitResult['stopped'], bound: number): Tilted => ({
    result: {
      best: best?.faces ?? null,
      value: best?.value ?? 0,
      upperBound: Math.max(bound, best?.value ?? 0),
      stopped,
      conflict: [...conflict].slice(0, 8),
      nodes,
    },
    tilt: best?.tilt ?? middle,
  })
  for (let slice = slices.shift(); slice; slice = slices.shift()) {
    const asked = stop()
    // What is not proved yet is bounded by nothing better than the limits.
    if (asked) return end(asked, Infinity)
    if (nodes >= 10 * work) return end('work', Infinity)
    const tilt = (slice.from + slice.to) / 2
    const half = (slice.to - slice.from) / 2
    const found = run(tilt, half, half < narrow ? work : nodesASlice, best?.value ?? 0, () => undefined)
    take(found, tilt)
    for (const name of found.conflict) conflict.add(name)
    if (found.stopped === 'proved') upperBound = Math.max(upperBound, found.upperBound)
    else if (found.stopped === 'work' && half >= narrow)
      slices.unshift({ from: slice.from, to: tilt }, { from: tilt, to: slice.to })
    else return end(found.stopped, Infinity)
    progress(best?.value ?? 0, Math.max(upperBound, (best?.value ?? 0) * (1 + within)))
  }
  return end('proved', upperBound)
}

/** One degree each, nearest to the best tilt first. */
function slicesAround(min: number, max: number, best: number): { from: number; to: number }[] {
  const count = Math.max(1, Math.ceil(max - min))
  const slices = Array.from({ length: count }, (_, i) => ({
    from: min + ((max - min) * i) / count,
    to: min + ((max - min) * (i + 1)) / count,
  }))
  const away = ({ from, to }: { from: number; to: number }) => Math.abs((from + to) / 2 - best)
  return slices.sort((a, b) => away(a) - away(b))
}
