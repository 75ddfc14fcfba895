import { type CoreQuestion, problemIn, viewOf } from './coreProblem.ts'
import { TreeSearch } from './search.ts'
import { type Sizes, sizesOf } from './sizes.ts'

const workAQuestion = 2000

/**
 * Which keep-outs and limits together leave no core: taken out one by one, what is not needed for the proof stays out.
 * What remains is a set of which none can be missed, as far as the work given could tell.
 * @param tilt degrees; the conflict is told for one tilt
 */
export function conflictOf(
  question: CoreQuestion,
  tilt: number,
  stop: () => 'time' | 'cancelled' | null,
): readonly string[] {
  const fits = (changed: CoreQuestion): boolean | undefined => {
    const made = problemIn(changed, viewOf(changed, tilt))
    if (!made) return false
    const options = { within: 0.5, work: workAQuestion, first: true, stop, progress: () => undefined }
    const { best, end } = new TreeSearch(made.problem, options).run(made.root)
    return best ? true : end === 'proved' ? false : undefined
  }
  let left = question
  for (const { keepOut } of question.asked) {
    if (stop()) break
    const without = { ...left, asked: left.asked.filter((each) => each.keepOut.id !== keepOut.id) }
    if (without.asked.length < left.asked.length && fits(without) === false) left = without
  }
  const limits = loosened(left).flatMap(({ limit, changed }) => (!stop() && fits(changed) === true ? [limit] : []))
  return [...left.asked.map(({ keepOut }) => keepOut.id), ...limits]
}

/** The question with one limit taken away each. */
function loosened(question: CoreQuestion): { limit: string; changed: CoreQuestion }[] {
  const { candidate, sizes, within } = question
  const { limits } = candidate
  const found: { limit: string; changed: CoreQuestion }[] = []
  sizes.forEach((size, k) => {
    const own = limits?.[size.name]
    if (!own) return
    const free = sizesOf(size.name, { ...limits, [size.name]: { ...(own.max && { max: size.most }) } }, '')
    if (!free.ok) return
    const changed: Sizes[] = sizes.map((each, j) => (j === k ? free.value : each))
    const limit = own.stock ? `${size.name}.stock` : own.min === undefined ? `${size.name}.pitch` : `${size.name}.min`
    found.push({ limit, changed: { ...question, sizes: [changed[0], changed[1], changed[2]] } })
  })
  if (limits?.symmetric)
    found.push({
      limit: 'symmetric',
      changed: { ...question, candidate: { ...candidate, limits: { ...limits, symmetric: false } } },
    })
  if (limits?.centre) {
    const wide = (x: readonly number[], by: number) => x.map((v) => v + by) as [number, number, number]
    const centre = { min: wide(limits.centre.min, -200), max: wide(limits.centre.max, 200) }
    found.push({
      limit: 'centre',
      changed: { ...question, candidate: { ...candidate, limits: { ...limits, centre } } },
    })
  }
  if (within) {
    const by = (x: readonly number[], d: number) => x.map((v) => v + d) as [number, number, number]
    found.push({
      limit: 'within-box',
      changed: { ...question, within: { min: by(within.min, -200), max: by(within.max, 200) } },
    })
  }
  return found
}
