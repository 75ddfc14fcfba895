import type { LedgerPair } from '../verdict/answer.ts'
import { type FitQuestion, fitProblem } from './fit.ts'
import { dimension, type Faces } from './fitFrame.ts'
import { FitSearch } from './fitSearch.ts'

/** What keeps the core from being larger: a keep-out and the side of the part it stands at, or a limit. */
export type Hold =
  | {
      readonly keepOut: string
      readonly part: string
      readonly side: 'front' | 'rear' | 'left' | 'right' | 'below' | 'above'
      /** What the value gains when this clearance is a millimetre less, mm³ or mm² a mm; null where time ran out first. */
      readonly gainPerMm: number | null
    }
  | { readonly limit: string; readonly gainPerMm: number | null }

/** A pair holds where its margin is no more than this, mm. */
const touching = 0.02

/**
 * Each hold's gain comes from searching again, from the core in hand, with that clearance eased (or that limit raised) by
 * 1 mm. A gain is what the second search found; it may be short of the true one by the width it was searched to.
 */
export function holdsOf(
  question: FitQuestion,
  tilt: number,
  faces: Faces,
  pairs: readonly LedgerPair[],
  stop: () => 'time' | 'cancelled' | null = () => null,
): Hold[] {
  const before = worthOf(question, faces)
  const seen = new Set<string>()
  const holds: Hold[] = []
  // A search that is stopped has found nothing, which is not the same as that there is nothing.
  const gainOf = (solve: () => number, by = 1): number | null => {
    const change = stop() ? null : solve() - before
    return change === null || stop() ? null : Math.max(0, by * change)
  }
  for (const pair of pairs) {
    if (pair.margin > touching || seen.has(pair.keepOut)) continue
    seen.add(pair.keepOut)
    // Where less than a millimetre is asked for, none can be given: what one more would cost is told instead.
    const by = pair.required + pair.uncertainty + pair.tolerance >= 1 ? 1 : -1
    const gainPerMm = gainOf(() => solvedAgain(question, tilt, faces, stop, { keepOut: pair.keepOut, by }), by)
    holds.push({ keepOut: pair.keepOut, part: pair.part, side: sideOf(pair), gainPerMm })
  }
  ;(['depth', 'width', 'height'] as const).forEach((name, k) => {
    const limit = question.limits[name]
    if (limit?.max === undefined || limit.stock || dimension(faces, k) < limit.max - 1e-3) return
    const raised = { ...question, limits: { ...question.limits, [name]: { ...limit, max: limit.max + 1 } } }
    holds.push({ limit: `${name}.max`, gainPerMm: gainOf(() => solvedAgain(raised, tilt, faces, stop)) })
  })
  return holds.sort((a, b) => (b.gainPerMm ?? 0) - (a.gainPerMm ?? 0))
}

const worthOf = ({ aim }: FitQuestion, faces: Faces): number =>
  (aim === 'volume' ? dimension(faces, 0) : 1) * dimension(faces, 1) * dimension(faces, 2)

function solvedAgain(
  question: FitQuestion,
  tilt: number,
  start: Faces,
  stop: () => 'time' | 'cancelled' | null,
  eased?: { keepOut: string; by: number },
): number {
  const problem = fitProblem(question, tilt, 0)
  if (!problem.ok) return worthOf(question, start)
  // A clearance made larger leaves less than there was: then nothing is known to begin with.
  const above = eased && eased.by < 0 ? 0 : worthOf(question, start) * (1 - 1e-9)
  return new FitSearch(problem.value, {
    within: 2e-4,
    work: 2000,
    above,
    start,
    eased,
    stop,
    progress: () => undefined,
  }).run().value
}

/** Where the keep-out stands from the part, by the longest component of the way between the witnesses. */
function sideOf({ onPart, onKeepOut, overlap }: LedgerPair): 'front' | 'rear' | 'left' | 'right' | 'below' | 'above' {
  const away = [0, 1, 2].map((k) => (overlap?.direction ? -overlap.direction[k] : onKeepOut[k] - onPart[k]))
  const k = away.map(Math.abs).indexOf(Math.max(...away.map(Math.abs)))
  const names = [
    ['front', 'rear'],
    ['left', 'right'],
    ['below', 'above'],
  ] as const
  return names[k][away[k] > 0 ? 1 : 0]
}
