import type { Bay } from '../../../core/bay/schema.ts'
import { bendingOf, missingDie } from '../../../core/pipe/makeable.ts'
import { type FieldPath, withEntry } from '../state/edit.ts'
import { candidateWords as text } from '../candidateWords.ts'
import { freshName } from './freshNames.ts'
import { diameterIn, freshTool } from './stockEdits.ts'

/** One more tool, for the diameter that the bay works with. */
export const addTool = (bay: Bay, tools: FieldPath, at: number): Bay =>
  withEntry(bay, tools, at, freshTool(diameterIn(bay)))

/** A spring-back of one more material: of the first stock tube's that has none yet, or of a new one. */
export function addSpring(bay: Bay, springs: FieldPath, materials: readonly string[], share: number | undefined): Bay {
  const inStock = (bay.stock?.tubes ?? []).map(({ material }) => material)
  const material =
    inStock.find((each) => !materials.includes(each)) ??
    freshName(materials, (n) => (n === 1 ? text.stock.firstMaterial : text.stock.springMaterial(n)))
  return withEntry(bay, springs, materials.length, { material, share: share ?? firstShare })
}

/** Common practice for aluminium, no source. */
const firstShare = 0.02

/**
 * Pipes that are bent otherwise in another state of the tooling: for which there was a die and is none, or that spring back by
 * another share. With the candidate's name where there are several.
 */
export function bentOtherwise(before: Bay, after: Bay): string[] {
  const several = before.candidates.length > 1
  return before.candidates.flatMap(({ name: candidate, pipes = [] }) =>
    pipes
      .filter((pipe) => {
        const material = before.stock?.tubes?.find(({ id }) => id === pipe.tube)?.material ?? null
        const [was, is] = [before, after].map((bay) => bendingOf(bay, pipe, material))
        if (missingDie(pipe, was) !== null) return false
        return missingDie(pipe, is) !== null || was.springBack !== is.springBack
      })
      .map(({ name }) => (several ? text.removal.ofCandidate(name, candidate) : name)),
  )
}
