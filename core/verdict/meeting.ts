import { askedBy } from '../bay/defaults.ts'
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
  readonly role: LedgerPair['role']
  readonly asked: Pick<Figures, 'tolerance' | 'uncertainty' | 'required'>
  readonly assumed: readonly ('clearance' | 'uncertainty')[]
}

/** Every part against every keep-out, and every pipe against the parts it is not joined to. */
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
        assumed,
      },
    ]
  })
}

/** Pipes against all other parts, each pair once, under the pipe that comes first. */
function betweenParts(parts: readonly Part[]): Meeting[] {
  return parts.flatMap((part, index) => {
    if (!part.pipe) return []
    return parts.flatMap((other, otherIndex): Meeting[] => {
      if (other === part || (other.pipe && otherIndex < index)) return []
      const partSolid = solidAgainst(part, other.name)
      return partSolid ? [pipeMeeting(part, partSolid, other)] : []
    })
  })
}

function pipeMeeting(part: Part, partSolid: Solid, other: Part): Meeting {
  const pipes = [part.pipe, other.pipe].flatMap((pipe) => (pipe ? [pipe] : []))
  const required = Math.max(...pipes.map((pipe) => pipe.clearance))
  const assumed = pipes.some((pipe) => pipe.clearanceAssumed && pipe.clearance === required)
  return {
    part,
    partSolid,
    other: other.name,
    otherSolid: other.solid,
    role: 'part',
    asked: { tolerance: part.tolerance + other.tolerance, uncertainty: 0, required },
    assumed: assumed ? ['clearance'] : [],
  }
}

/** What of a part is held against something: a pipe leaves out its joined ends; null where nothing is left. */
function solidAgainst({ solid, pipe }: Part, other: string): Solid | null {
  const exemption = pipe?.exemptions.get(other)
  return exemption ? exemption.rest : solid
}
