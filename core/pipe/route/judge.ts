import type { Meshes } from '../../bay/part.ts'
import type { Bay, Candidate, Pipe } from '../../bay/schema.ts'
import type { LedgerPair } from '../../verdict/answer.ts'
import { ledger } from '../../verdict/ledger.ts'
import type { LedgerMemory } from '../../verdict/memory.ts'
import { bends } from '../bends.ts'
import type { Route } from './answer.ts'
import { passesOf } from './passes.ts'
import type { Judged } from './pool.ts'
import type { Corners } from './problem.ts'
import { withRoute } from './withRoute.ts'

/** Reasons of a pipe that have to do with how it is bent, and not with how it is joined or what it is bent from. */
const ofBending = new Set([
  'negative-straight',
  'bend-too-tight',
  'turns-back',
  'repeated-point',
  'no-tool',
  'no-radius',
  'angle-too-large',
  'set-angle-too-large',
  'short-between',
  'short-end',
  'short-at-weld',
])

/** A pipe of a candidate, in its bay, and what is kept from one ledger to the next. */
export interface Judging {
  readonly bay: Bay
  readonly candidate: Candidate
  readonly pipe: Pipe
  readonly meshes: Meshes
  readonly memory: LedgerMemory
}

/**
 * Puts a route into its pipe and asks what everyone asks: the ledger for its rows, the bender for its reasons.
 * @returns null where a row does not clear, or it cannot be bent
 */
export function judged({ bay, candidate, pipe, meshes, memory }: Judging, corners: Corners): Judged | null {
  const routed = withRoute(bay, candidate.id, pipe.id, { path: corners, bendRadius: pipe.bendRadius })
  const checked = ledger(routed, candidate.id, meshes, memory)
  if (!checked.ok || checked.value.unrouted.includes(pipe.id)) return null
  const part = `pipe-${pipe.id}`
  const rows = checked.value.pairs.filter((row) => isOf(row, part))
  if (!rows.every(({ verdict }) => verdict === 'clears') || !isBendable(routed, candidate, pipe, meshes)) return null
  const joined = new Set(checked.value.exempt.flatMap((each) => (each.part === part ? [each.from] : [])))
  const passes = passesOf(rows.filter(isPassed), part, joined)
  return { least: leastOf(rows, part), passes, sides: new Map(passes.map(({ keepOut, side }) => [keepOut, side])) }
}

const isOf = (row: LedgerPair, part: string): boolean =>
  row.part === part || (row.between === 'parts' && row.keepOut === part)

/** Stubs, couplers and clamps say no more of a way than the tanks and pipes that they belong to. */
const isPassed = ({ between, part, keepOut }: LedgerPair): boolean =>
  between !== 'parts' || ![part, keepOut].some((name) => /^(stub|coupler|clamp)-/.test(name))

function isBendable(bay: Bay, candidate: Candidate, pipe: Pipe, meshes: Meshes): boolean {
  const answer = bends(bay, candidate.id, meshes, { pipe: pipe.id })
  return answer.ok && answer.value.pipes.every(({ reasons }) => !reasons.some(({ code }) => ofBending.has(code)))
}

/** The least margin of the rows, which come smallest first; nothing near anything: a margin without end to nothing. */
function leastOf(rows: readonly LedgerPair[], part: string): Route['least'] {
  const [row] = rows
  if (!row) return { margin: Infinity, keepOut: '' }
  const isPart = row.part === part
  return {
    margin: row.margin,
    keepOut: isPart ? row.keepOut : row.part,
    at: isPart ? row.onPart : row.onKeepOut,
  }
}
