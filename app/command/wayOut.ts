import { isOfRun, type Meshes } from '../../core/bay/part.ts'
import type { Bay } from '../../core/bay/schema.ts'
import { formatStep, type PeopleUnits } from '../../core/units/lengthText.ts'
import { axisWays, clearingMoves, directionOf } from '../../core/largest/clearingMoves.ts'
import { add, scale, sub, type Vec3 } from '../../core/shape/vec.ts'
import type { LedgerPair } from '../../core/verdict/answer.ts'
import { ledger } from '../../core/verdict/ledger.ts'
import type { LedgerMemory } from '../../core/verdict/memory.ts'

/** A movement of the candidate after which a pair is proved to clear, and what the whole ledger then says. */
export interface WayOut {
  /** mm, bay frame, in whole steps of what people read. */
  readonly move: Vec3
  /** The pair that is then the worst of those that do not clear; undefined where all clear. */
  readonly afterwards?: LedgerPair
}

/**
 * The shortest movement that a pair asks for; where that is not known or not proved to clear it, the shortest along one
 * axis. Answered only where a second ledger, with the candidate moved just as the words will say, proves that the pair
 * clears. Null for pipes, couplers and clamps (they do not simply move along), for pairs of parts, and where nothing is proved.
 */
export function wayOut(
  bay: Bay,
  candidateId: string,
  meshes: Meshes,
  pair: LedgerPair,
  units: PeopleUnits,
  memory: LedgerMemory,
): WayOut | null {
  if (pair.between === 'parts' || isOfRun(pair.part)) return null
  const proved = (wish: Vec3 | null): WayOut | null =>
    wish && provedMove(bay, candidateId, meshes, pair, inSteps(wish, formatStep(units)), memory)
  return proved(wishedMove(pair)) ?? proved(alongAxis(bay, candidateId, meshes, pair, memory))
}

function provedMove(
  bay: Bay,
  candidateId: string,
  meshes: Meshes,
  pair: LedgerPair,
  move: Vec3,
  memory: LedgerMemory,
): WayOut | null {
  const candidates = bay.candidates.map((c) =>
    c.id === candidateId ? { ...c, at: add(c.at, move) as [number, number, number] } : c,
  )
  const moved = ledger({ ...bay, candidates }, candidateId, meshes, memory)
  if (!moved.ok) return null
  const same = moved.value.pairs.find(({ part, keepOut }) => part === pair.part && keepOut === pair.keepOut)
  if (same?.verdict !== 'clears') return null
  return { move, afterwards: moved.value.pairs.find(({ verdict }) => verdict !== 'clears') }
}

/** Shortest of the moves along the axes that clear the pair; null where none is within reach. */
function alongAxis(bay: Bay, candidateId: string, meshes: Meshes, pair: LedgerPair, memory: LedgerMemory): Vec3 | null {
  const moves = clearingMoves(bay, candidateId, meshes, pair, memory)
  if (!moves.ok || !moves.value) return null
  let shortest: Vec3 | null = null
  let least = Infinity
  for (const way of axisWays) {
    const by = moves.value[way]?.by ?? Infinity
    if (by >= least) continue
    least = by
    shortest = scale(directionOf(way), by)
  }
  return shortest
}

/** Straight out of the overlap, or along the gap, by what is wanting. */
function wishedMove({ overlap, gap, margin, onPart, onKeepOut }: LedgerPair): Vec3 | null {
  // What bounds leave open in the depth is at most this, mm; without it the move might stop just short.
  const slack = 0.001
  if (overlap) return overlap.direction ? scale(overlap.direction, overlap.depth + slack - margin) : null
  return gap > 0 ? scale(sub(onPart, onKeepOut), (slack - margin) / gap) : null
}

/** Each share rounded away from zero; shares below a thousandth of the whole are no help and dropped. */
function inSteps(move: Vec3, step: number): Vec3 {
  const least = Math.hypot(...move) / 1000
  return move.map((x) =>
    Math.abs(x) < least ? 0 : Math.sign(x) * Math.ceil(Math.abs(x) / step - 1e-9) * step,
  ) as unknown as Vec3
}
