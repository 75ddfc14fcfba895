import type { Part } from '../bay/part.ts'
import { Workshop } from '../bay/workshop.ts'
import type { Clearance } from '../clearance/answer.ts'
import { clearance } from '../clearance/clearance.ts'
import type { Pose, Vec3 } from '../shape/vec.ts'
import type { Solid } from '../shape/form.ts'
import type { Meeting } from './meeting.ts'
import { type Motion, movedPoint, stray } from './movedAlong.ts'

interface Remembered {
  readonly partSolid: Solid
  readonly otherSolid: Solid
  /** Where the candidate stood. */
  readonly pose: Pose
  readonly answer: Clearance
  round: number
}

const keptRounds = 12
/** Solids that stray no more than this from being moved along count as such, mm: their answer's bounds are widened by it. */
const mostStray = 1e-8

/**
 * What a ledger leaves behind for the next one: solids by content, and the last answer of each pair.
 * A pair whose two solids are the same objects as before keeps its answer, and so does one that moved along as a whole
 * with the candidate; one that moved otherwise starts from its former witnesses.
 */
export class LedgerMemory {
  readonly workshop = new Workshop(keptRounds)
  /** By candidate and part, then by role and the other's name. */
  private readonly rows = new Map<string, Map<string, Remembered>>()
  private readonly strays = new WeakMap<Solid, { readonly before: Solid; readonly from: Pose; readonly by: number }>()
  private round = 0

  measure(candidate: string, meeting: Meeting): Clearance {
    const { part, partSolid, other, otherSolid, otherPart } = meeting
    const row = this.rowOf(`${candidate}/${part.name}/${otherPart ? 'part' : 'keep-out'}`)
    const known = row.get(other)
    if (known && known.partSolid === partSolid && known.otherSolid === otherSolid) {
      known.round = this.round
      return known.answer
    }
    const along = known && this.movedAlong(known, meeting)
    if (known && along) {
      known.round = this.round
      return along
    }
    const answer = clearance(partSolid, otherSolid, known ? { near: nearOf(known, meeting) } : {})
    row.set(other, { partSolid, otherSolid, pose: part.pose, answer, round: this.round })
    return answer
  }

  /** Ends a ledger: what was not asked for in the last rounds is forgotten. */
  endRound(): void {
    this.workshop.clear()
    this.round++
    for (const [name, row] of this.rows) {
      for (const [key, kept] of row) if (this.round - kept.round > keptRounds) row.delete(key)
      if (row.size === 0) this.rows.delete(name)
    }
  }

  private rowOf(name: string): Map<string, Remembered> {
    const row = this.rows.get(name) ?? new Map<string, Remembered>()
    this.rows.set(name, row)
    return row
  }

  /**
   * The former gap of two parts that both went along with the candidate; undefined where one of them did not. Always from
   * the answer that was computed, so that nothing adds up from step to step. Solids that meet are looked at anew.
   */
  private movedAlong(known: Remembered, { part, partSolid, otherPart, otherSolid }: Meeting): Clearance | undefined {
    const { answer, pose } = known
    if (!otherPart || !goesAlong(part) || !goesAlong(otherPart)) return undefined
    if (answer.overlap || answer.stopped !== 'converged') return undefined
    const motion: Motion = { from: pose, to: part.pose }
    const by = this.strayOf(known.partSolid, partSolid, motion) + this.strayOf(known.otherSolid, otherSolid, motion)
    if (!(by <= mostStray && answer.atLeast > by)) return undefined
    return {
      atLeast: answer.atLeast - by,
      atMost: answer.atMost + by,
      onPart: movedPoint(motion, answer.onPart),
      onKeepOut: movedPoint(motion, answer.onKeepOut),
      stopped: 'converged',
    }
  }

  /** Looked at once for each new solid, as a part meets many. */
  private strayOf(before: Solid, after: Solid, motion: Motion): number {
    const known = this.strays.get(after)
    if (known && known.before === before && known.from === motion.from) return known.by
    const by = stray(before, after, motion)
    this.strays.set(after, { before, from: motion.from, by })
    return by
  }
}

function nearOf({ pose, answer }: Remembered, { part, otherPart }: Meeting) {
  return {
    onPart: carried(part, pose, answer.onPart),
    onKeepOut: carried(otherPart, pose, answer.onKeepOut),
  }
}

/** Pipes, and what hangs on the car's ports, stand in the bay's frame; all else moves with the candidate. */
const goesAlong = (part: Part): boolean => part.run?.carried ?? true

/** Witnesses move along with what they are on. */
const carried = (part: Part | undefined, from: Pose, point: Vec3): Vec3 =>
  part && goesAlong(part) ? movedPoint({ from, to: part.pose }, point) : point
