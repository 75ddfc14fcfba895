import type { Part } from '../bay/part.ts'
import { Workshop } from '../bay/workshop.ts'
import type { Clearance } from '../clearance/answer.ts'
import { clearance } from '../clearance/clearance.ts'
import { placed, placedBack } from '../shape/vec.ts'
import type { Pose, Vec3 } from '../shape/vec.ts'
import type { Solid } from '../shape/form.ts'
import type { Meeting } from './meeting.ts'

interface Remembered {
  readonly partSolid: Solid
  readonly otherSolid: Solid
  /** Where the candidate stood. */
  readonly pose: Pose
  readonly answer: Clearance
  round: number
}

const keptRounds = 12

/**
 * What a ledger leaves behind for the next one: solids by content, and the last answer of each pair.
 * A pair whose two solids are the same objects as before keeps its answer; one that moved starts from its former witnesses.
 */
export class LedgerMemory {
  readonly workshop = new Workshop(keptRounds)
  private readonly pairs = new Map<string, Remembered>()
  private round = 0

  measure(candidate: string, meeting: Meeting): Clearance {
    const { part, partSolid, other, otherSolid, otherPart, role } = meeting
    const key = `${candidate}/${part.name}/${role === 'part' ? 'part' : 'keep-out'}/${other}`
    const known = this.pairs.get(key)
    if (known && known.partSolid === partSolid && known.otherSolid === otherSolid) {
      known.round = this.round
      return known.answer
    }
    const near = known && {
      onPart: carried(part, known.pose, known.answer.onPart),
      onKeepOut: carried(otherPart, known.pose, known.answer.onKeepOut),
    }
    const answer = clearance(partSolid, otherSolid, near ? { near } : {})
    this.pairs.set(key, { partSolid, otherSolid, pose: part.pose, answer, round: this.round })
    return answer
  }

  /** Ends a ledger: what was not asked for in the last rounds is forgotten. */
  endRound(): void {
    this.workshop.clear()
    this.round++
    for (const [key, kept] of this.pairs) if (this.round - kept.round > keptRounds) this.pairs.delete(key)
  }
}

/** Witnesses move along with the candidate; pipes, and what hangs on the car's ports, stand in the bay's frame. */
const carried = (part: Part | undefined, from: Pose, point: Vec3): Vec3 =>
  part && (part.run?.carried ?? true) ? placed(part.pose, placedBack(from, point)) : point
