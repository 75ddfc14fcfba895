import type { Meshes } from '../../core/bay/part.ts'
import { candidateParts } from '../../core/bay/parts.ts'
import type { Bay, Candidate } from '../../core/bay/schema.ts'
import { good, type Outcome } from '../../core/fault.ts'
import { largest } from '../../core/largest/largest.ts'
import { bends } from '../../core/pipe/bends.ts'
import { seat } from '../../core/seat/seat.ts'
import { unionBounds } from '../../core/shape/bounds.ts'
import { sub } from '../../core/shape/vec.ts'
import { candidateOf, ledger } from '../../core/verdict/ledger.ts'
import type { LedgerMemory } from '../../core/verdict/memory.ts'
import { type Compared, provedWithin } from './searchProtocol.ts'

export interface Comparing {
  /** Wanted on the way to the seat, mm. */
  readonly need: number
  readonly stop: () => 'cancelled' | null
}

/**
 * All that a comparison tells of one candidate. What takes longest comes last; what cannot be judged carries its own faults, so
 * that a pipe that cannot be rounded does not take the largest core away.
 */
export function compared(
  bay: Bay,
  id: string,
  meshes: Meshes,
  memory: LedgerMemory,
  { need, stop }: Comparing,
): Outcome<Compared> {
  const chosen = candidateOf(bay, id)
  if (!chosen.ok) return chosen
  const candidate = chosen.value
  const { pipes = [], offering } = candidate
  return good({
    overall: overallOf(bay, candidate),
    ledger: ledger(bay, id, meshes, memory),
    bends: pipes.length > 0 ? bends(bay, id, meshes, { workshop: memory.workshop }) : null,
    way: offering ? seat(bay, id, meshes, { need, moves: offering, stop }, memory) : null,
    largest: largest(bay, id, meshes, { within: provedWithin, holds: false, stop }),
  })
}

/** Of core and tanks along the bay's axes, mm; null where they cannot be made. */
function overallOf(bay: Bay, candidate: Candidate): Compared['overall'] {
  const { pipes: _, mounts: __, ...bare } = candidate
  const made = candidateParts(bay, bare)
  if (!made.ok) return null
  const bounds = made.value.parts
    .filter(({ kind }) => kind === 'core' || kind === 'tank')
    .map(({ solid }) => solid.bounds)
  const { min, max } = unionBounds(bounds)
  return sub(max, min)
}
