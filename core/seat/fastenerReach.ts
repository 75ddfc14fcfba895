import { askedBy } from '../bay/defaults.ts'
import type { KeepOutSolid, Part } from '../bay/part.ts'
import type { Candidate } from '../bay/schema.ts'
import { clearance } from '../clearance/clearance.ts'
import { boxGap } from '../clearance/formBounds.ts'
import type { Solid } from '../shape/form.ts'
import { solidFrom } from '../shape/solid.ts'
import { along, type Vec3 } from '../shape/vec.ts'

/** Whether spanner or driver reaches a fastener along its axis. Lengths mm, bay frame. */
export interface FastenerReach {
  readonly tool: { readonly diameter: number; readonly length: number }
  /** Middle of the tool's near end: on the mount's far side. */
  readonly from: Vec3
  /** Unit; the way it reaches out. */
  readonly way: Vec3
  /** Proved: nothing that is there while the part is fixed stands in the tool's room. */
  readonly clear: boolean
  /** What stands in it: keep-outs that stay, and parts. `gap` is the largest that it can be, `need` what its uncertainty or tolerance asks for. */
  readonly closedBy: readonly { readonly name: string; readonly gap: number; readonly need: number }[]
  /** What would stand in it, but comes off, or is put on after. */
  readonly off: readonly string[]
}

/** Something that a tool may meet. */
export interface ReachObstacle {
  readonly name: string
  readonly solid: Solid
  readonly need: number
  readonly off: boolean
}

interface Met extends ReachObstacle {
  readonly gap: number
}

/**
 * @param from on the mount's far side; the tool is a cylinder from there along `way` (unit)
 * @param uncertainty of the fixing: the tool stands where the fastener really is, mm
 * @param own name of the part that is fixed, which the tool may touch
 * @param sitsOn keep-out that the fixing is part of: the tool stands beside it and must not meet it, nothing more is asked
 */
export function fastenerReach(
  tool: FastenerReach['tool'],
  from: Vec3,
  way: Vec3,
  { uncertainty, own, sitsOn }: { uncertainty: number; own: string; sitsOn: string | undefined },
  obstacles: readonly ReachObstacle[],
): FastenerReach {
  const body = { kind: 'cylinder', from, to: along(from, way, tool.length), radius: tool.diameter / 2 } as const
  const solid = solidFrom([{ form: 'convex', body }])
  const met = obstacles
    .filter(({ name }) => name !== own)
    .flatMap((each): Met[] => {
      const need = each.name === sitsOn ? 0 : each.need + uncertainty
      const gap = gapUnder(solid, each.solid, need)
      return gap === null ? [] : [{ ...each, need, gap }]
    })
  const closedBy = met.filter(({ off }) => !off).map(({ name, gap, need }) => ({ name, gap, need }))
  return {
    tool,
    from,
    way,
    clear: closedBy.length === 0,
    closedBy,
    off: met.filter(({ off }) => off).map(({ name }) => name),
  }
}

/** Everything that a tool may meet: uncertainty of keep-outs and tolerance of parts is asked for, no clearance; the engine stands still. */
export function reachObstacles(
  candidate: Candidate,
  parts: readonly Part[],
  keepOuts: readonly KeepOutSolid[],
): ReachObstacle[] {
  const withPart = (part: Part) =>
    part.run === undefined || candidate.pipes?.find(({ id }) => id === part.run?.id)?.fitting === 'with-part'
  return [
    ...keepOuts.map(({ id, keepOut, solid }) => ({
      name: id,
      solid,
      need: askedBy(keepOut).uncertainty,
      off: keepOut.fitting === 'comes-off',
    })),
    ...parts.map((part) => ({
      name: part.name,
      solid: part.solid,
      need: Math.max(0, part.tolerance - (part.run?.movement ?? 0)),
      off: !withPart(part),
    })),
  ]
}

/** The gap where it is not proved to be as large as needed, and above nothing; else null. */
function gapUnder(tool: Solid, other: Solid, need: number): number | null {
  const upTo = Math.max(need, Number.MIN_VALUE)
  if (boxGap(tool.bounds, other.bounds) >= upTo && need > 0) return null
  const { atLeast, atMost, overlap } = clearance(tool, other, { upTo, depth: false })
  return overlap || atLeast <= 0 || atLeast < need ? atMost : null
}
