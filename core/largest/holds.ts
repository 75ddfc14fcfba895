import type { Candidate } from '../bay/schema.ts'
import type { LedgerPair } from '../verdict/answer.ts'
import type { CoreQuestion } from './coreProblem.ts'
import type { Core } from './answers.ts'
import { sizesOf } from './sizes.ts'
import { type SolveOptions, solved } from './tilts.ts'

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
export const touching = 0.02
/** Eased problems are solved to this share: what a millimetre buys is told no finer. */
const within = 2e-4
const workAHold = 3000

/**
 * Each hold's gain comes from searching again, from the core in hand and at its tilt, with that clearance eased (or that
 * limit widened) by 1 mm. It is what the second search found, and never below 0.
 * @param value what the core in hand is worth, mm³ or mm²
 */
export function holdsOf(
  question: CoreQuestion,
  best: Core,
  pairs: readonly LedgerPair[],
  value: number,
  stop: SolveOptions['stop'],
): Hold[] {
  // A search that was stopped has found nothing, which is not to say that there is nothing.
  const again = (changed: CoreQuestion, start: Core | undefined): number | null => {
    if (stop()) return null
    const { tilt } = best.view
    const options = { within, work: workAHold, best: start, stop, progress: () => undefined }
    const found = solved(changed, { min: tilt, max: tilt }, options).best
    if (stop()) return null
    return found ? Math.exp(found.aim) : 0
  }
  const holds: Hold[] = []
  const seen = new Set<string>()
  for (const pair of pairs) {
    if (pair.margin > touching || seen.has(pair.keepOut)) continue
    seen.add(pair.keepOut)
    // Where less than a millimetre is asked for, none can be given: what one more would cost is told instead.
    const by = pair.required + pair.uncertainty + pair.tolerance >= 1 ? 1 : -1
    const found = again(eased(question, pair.keepOut, by), by > 0 ? best : undefined)
    const gainPerMm = found === null ? null : Math.max(0, by * (found - value))
    holds.push({ keepOut: pair.keepOut, part: pair.part, side: sideOf(pair), gainPerMm })
  }
  for (const { limit, changed } of widened(question, best)) {
    const found = again(changed, best)
    if (found === null) holds.push({ limit, gainPerMm: null })
    else if (found - value > 1e-9 * value) holds.push({ limit, gainPerMm: found - value })
  }
  return holds.sort((a, b) => (b.gainPerMm ?? 0) - (a.gainPerMm ?? 0))
}

const eased = (question: CoreQuestion, keepOut: string, by: number): CoreQuestion => ({
  ...question,
  asked: question.asked.map((each) => (each.keepOut.id === keepOut ? { ...each, apart: each.apart - by } : each)),
})

/** Questions with one limit that the core has reached widened by 1 mm; stock and rows are not a matter of millimetres. */
function widened(question: CoreQuestion, { faces, view }: Core): { limit: string; changed: CoreQuestion }[] {
  const { candidate, sizes } = question
  const { limits } = candidate
  const found: { limit: string; changed: CoreQuestion }[] = []
  sizes.forEach((size, k) => {
    const length = faces[3 + k] - faces[k]
    if (size.stepped) return
    for (const [end, by, at] of [
      ['max', 1, size.most],
      ['min', -1, size.least],
    ] as const) {
      const own = limits?.[size.name]?.[end]
      if (own === undefined || Math.abs(length - at) > 1e-3 || own + by <= 0) continue
      const given = { ...limits, [size.name]: { ...limits?.[size.name], [end]: own + by } }
      const wider = sizesOf(size.name, given, '')
      const changed = sizes.map((each, j) => (j === k && wider.ok ? wider.value : each))
      found.push({
        limit: `${size.name}.${end}`,
        changed: { ...question, sizes: [changed[0], changed[1], changed[2]] },
      })
    }
  })
  const { at } = view.poseAt([0, 1, 2].map((k) => faces[k] / 2 + faces[3 + k] / 2) as never)
  found.push(...widenedCentre(question, candidate, at))
  return found
}

function widenedCentre(question: CoreQuestion, candidate: Candidate, at: readonly number[]) {
  const { limits } = candidate
  const { centre } = limits ?? {}
  if (!centre) return []
  return [0, 1, 2].flatMap((k) =>
    (['min', 'max'] as const).flatMap((end) => {
      if (Math.abs(at[k] - centre[end][k]) > 1e-3) return []
      const moved = [...centre[end]] as [number, number, number]
      moved[k] += end === 'max' ? 1 : -1
      const wider: Candidate = { ...candidate, limits: { ...limits, centre: { ...centre, [end]: moved } } }
      return [{ limit: `centre.${end}[${k}]`, changed: { ...question, candidate: wider } }]
    }),
  )
}

/** Where the keep-out stands from the part, by the longest component of the way between the witnesses. */
function sideOf({ onPart, onKeepOut, overlap }: LedgerPair): 'front' | 'rear' | 'left' | 'right' | 'below' | 'above' {
  const away = [0, 1, 2].map((k) => (overlap?.direction ? -overlap.direction[k] : onKeepOut[k] - onPart[k]))
  const k = away.map(Math.abs).indexOf(Math.max(...away.map(Math.abs)))
  const sides = [
    ['front', 'rear'],
    ['left', 'right'],
    ['below', 'above'],
  ] as const
  return sides[k][away[k] > 0 ? 1 : 0]
}
