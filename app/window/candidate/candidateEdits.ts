import { freshCore } from '../../../core/bay/freshCore.ts'
import type { Bay, Candidate } from '../../../core/bay/schema.ts'
import { candidateWords as text } from '../candidateWords.ts'
import { freshName, idFrom } from './freshNames.ts'

/** The bay with one of its candidates changed; the very same bay where nothing is. */
export function withCandidate(bay: Bay, index: number, change: (candidate: Candidate) => Candidate): Bay {
  const before = bay.candidates[index]
  const after = before && change(before)
  if (!before || after === before) return bay
  return { ...bay, candidates: bay.candidates.map((each, i) => (i === index ? after : each)) }
}

/** The bay with a new one at the end of a list, and its id. */
export interface Added {
  readonly bay: Bay
  readonly id: string
}

/** A bare core in the middle of the free space; depths of stock that other candidates name hold for it as well. */
export function addCandidate(bay: Bay): Added {
  const { candidates } = bay
  const name = freshName(namesIn(candidates), text.candidate.fresh)
  const stock = candidates[0]?.limits?.depth?.stock
  const fresh = freshCore(bay)
  const candidate: Candidate = {
    id: idFrom(name, idsIn(candidates), 'candidate'),
    name,
    ...fresh,
    turn: [0, 0, 0],
    limits: firstLimits(fresh.at, stock),
  }
  const { core } = candidate
  const deep = stock ? { ...candidate, core: { ...core, depth: nearest(stock, core.depth) } } : candidate
  return { bay: { ...bay, candidates: [...candidates, deep] }, id: deep.id }
}

/** How large it may become and how far its middle may go, so that the largest core can be asked for at once, mm. Common practice, no source. */
const largest = { depth: 150, width: 800, height: 450 }
const reach = 100

/**
 * Whether limits are still those that a new candidate begins with: nobody said them of this car. Only that its place was
 * shifted as a whole does not tell.
 */
export function areFirstLimits(limits: Candidate['limits']): boolean {
  if (!limits) return false
  const { depth, width, height, centre } = limits
  const deep = depth?.stock ? Math.max(...depth.stock) : largest.depth
  const isFirst = depth?.max === deep && width?.max === largest.width && height?.max === largest.height
  const reaches = centre ? centre.max.map((most, k) => most - centre.min[k]) : []
  return isFirst && reaches.length === 3 && reaches.every((mm) => Math.abs(mm - 2 * reach) < 1e-6)
}

function firstLimits(at: Candidate['at'], stock: number[] | undefined): NonNullable<Candidate['limits']> {
  const [x, y, z] = at
  return {
    depth: stock ? { stock, max: Math.max(...stock) } : { max: largest.depth },
    width: { max: largest.width },
    height: { max: largest.height },
    centre: { min: [x - reach, y - reach, z - reach], max: [x + reach, y + reach, z + reach] },
  }
}

const nearest = (sizes: readonly number[], size: number): number =>
  sizes.reduce((best, each) => (Math.abs(each - size) < Math.abs(best - size) ? each : best))

/** The same again under a name of its own, right behind the one that it comes from. */
export function copyCandidate(bay: Bay, index: number): Added {
  const { candidates } = bay
  const from = candidates[index]
  const name = freshName(namesIn(candidates), (n) => text.candidate.copyName(from.name, n))
  const id = idFrom(name, idsIn(candidates), 'candidate')
  const copy = { ...from, id, name }
  return { bay: { ...bay, candidates: [...candidates.slice(0, index + 1), copy, ...candidates.slice(index + 1)] }, id }
}

export const removeCandidate = (bay: Bay, index: number): Bay => ({
  ...bay,
  candidates: bay.candidates.filter((_, i) => i !== index),
})

/** A candidate one place earlier (−1) or later (1); the first is the one that is meant where none is named. */
export function shiftCandidate(bay: Bay, index: number, by: -1 | 1): Bay {
  const to = index + by
  if (to < 0 || to >= bay.candidates.length) return bay
  const candidates = [...bay.candidates]
  const [moved] = candidates.splice(index, 1)
  candidates.splice(to, 0, moved)
  return { ...bay, candidates }
}

const idsIn = (list: readonly { readonly id: string }[]): string[] => list.map(({ id }) => id)
const namesIn = (list: readonly { readonly name: string }[]): string[] => list.map(({ name }) => name)
