import { askedBy } from '../bay/defaults.ts'
import { exemptionsOf } from '../bay/part.ts'
import type { KeepOutSolid, Part } from '../bay/part.ts'
import type { Solid } from '../shape/form.ts'
import type { LedgerPair } from './answer.ts'
import type { Figures } from './verdict.ts'

/** Two solids that must be compared, and what is asked of them. */
export interface Meeting {
  readonly part: Part
  readonly partSolid: Solid
  readonly other: string
  readonly otherSolid: Solid
  /** Where the other is a part. */
  readonly otherPart?: Part
  readonly role: LedgerPair['role']
  readonly asked: Pick<Figures, 'tolerance' | 'uncertainty' | 'required'>
  /** Share of the tolerance that is movement of ports, mm. */
  readonly movement: number
  readonly assumed: readonly ('clearance' | 'uncertainty')[]
}

/** Every part against every keep-out, and every pipe, coupler and clamp against the parts it is not joined to. */
export const meetingsOf = (parts: readonly Part[], keepOuts: readonly KeepOutSolid[]): Meeting[] => [
  ...parts.flatMap((part) => withKeepOuts(part, keepOuts)),
  ...betweenParts(parts),
]

function withKeepOuts(part: Part, keepOuts: readonly KeepOutSolid[]): Meeting[] {
  return keepOuts.flatMap(({ id, keepOut, solid }) => {
    const partSolid = solidAgainst(part, id)
    if (!partSolid) return []
    const { required, uncertainty, assumed } = askedBy(keepOut)
    return [
      {
        part,
        partSolid,
        other: id,
        otherSolid: solid,
        role: keepOut.role,
        asked: { tolerance: part.tolerance, uncertainty, required },
        movement: part.run?.movement ?? 0,
        assumed,
      },
    ]
  })
}

/**
 * Pipes, couplers and clamps against all other parts, each pair once, under the one that comes first; core, tanks, stubs
 * and mounts stand second.
 */
function betweenParts(parts: readonly Part[]): Meeting[] {
  return parts.flatMap((part, index) => {
    if (!part.run) return []
    return parts.flatMap((other, otherIndex): Meeting[] => {
      if (other === part || (other.run && otherIndex < index)) return []
      const partSolid = solidAgainst(part, other.name)
      const otherSolid = solidAgainst(other, part.name)
      return partSolid && otherSolid ? [runMeeting(part, partSolid, other, otherSolid)] : []
    })
  })
}

function runMeeting(part: Part, partSolid: Solid, other: Part, otherSolid: Solid): Meeting {
  const runs = [part.run, other.run].flatMap((run) => run ?? [])
  const required = Math.max(...runs.map((run) => run.clearance))
  const assumed = runs.some((run) => run.clearanceAssumed && run.clearance === required)
  return {
    part,
    partSolid,
    other: other.name,
    otherSolid,
    otherPart: other,
    role: 'part',
    asked: { tolerance: part.tolerance + other.tolerance, uncertainty: 0, required },
    movement: runs.reduce((sum, run) => sum + run.movement, 0),
    assumed: assumed ? ['clearance'] : [],
  }
}

/** What of a part is held against something: runs leave out their joined ends, mounts what they are fixed to; null where nothing is left. */
function solidAgainst(part: Part, other: string): Solid | null {
  const exemption = exemptionsOf(part).get(other)
  return exemption ? exemption.rest : part.solid
}
