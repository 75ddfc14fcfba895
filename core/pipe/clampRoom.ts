import type { ClampPlace } from '../bay/joints.ts'
import { clearance } from '../clearance/clearance.ts'
import { boxGap } from '../clearance/formBounds.ts'
import type { Solid } from '../shape/form.ts'
import { solidFrom } from '../shape/solid.ts'
import { along } from '../shape/vec.ts'
import type { RoomObstacle } from './clampObstacles.ts'
import { mergedRanges, openRolls, withoutSlivers } from './openRolls.ts'
import type { OpenRolls, RollRange, Side } from './openRolls.ts'
import { outsideHose } from './outsideHose.ts'
import { toolAt, toolSweep } from './toolAt.ts'
import type { Tool } from './toolAt.ts'

/** Where round the hose a clamp's screw can be reached. */
export interface ClampRoom {
  /** Rolls from which a tool reaches the screw on one side or the other, degrees, beginning in 0 … 360; none: it cannot. */
  readonly reach: readonly RollRange[]
  /** Keep-outs and parts found to stop the tool, those found most often first. */
  readonly closedBy: readonly string[]
  /** Of what comes off: what must be off, since with it on no tried roll is left. */
  readonly takenOff: readonly string[]
  /** What the clamp itself stands in, so that nothing can be said of a tool there. */
  readonly within: readonly string[]
  /** Times that a tool was held against what is near. */
  readonly probes: number
}

/** Rolls are tried at these steps, degrees. */
const step = 10
/** No more tries than this for each side of a clamp: a bound on the work, far above what a clamp takes. */
const mostProbes = 200

/**
 * Rolls at which the straight room that a tool needs along a clamp's screw is free, on either side of the screw
 * (see `toolAt`). What comes off is taken off.
 * @param obstacles all but the clamp itself and its hose
 * @param owners    names of what the clamp's port sits on: where the clamp stands in one, it is not looked at
 * @param roll      the roll that the bay asks for, degrees: that one alone; undefined: any
 * @returns null where the clamp names no tool. Ranges are proved: each tried roll by the gap's lower bound, what lies
 *   between by how far the tool's far end travels. Rolls are tried every 10° and, where open and closed meet, down to
 *   10°/16: a narrower way in may be missed, none is claimed that is not there; beside wider ones those below 1° are not told.
 */
export function clampRoom(
  place: ClampPlace,
  obstacles: readonly RoomObstacle[],
  owners: readonly string[] = [],
  roll?: number,
): ClampRoom | null {
  const { tool } = place.clamp
  if (!tool) return null
  const { disc, travel, reachOf } = toolSweep(place, tool)
  const enough = travel(step / 2)
  const within = obstacles.filter((each) => owners.includes(each.name) && standsIn(place, each.solid))
  const others = obstacles.filter((each) => !within.includes(each))
  const near = outOfHose(others, place, tool).filter((each) => spareTo(disc, each, barely) === null)
  const stopped = new Map<string, number>()
  const order = near.filter((each) => !each.comesOff)
  const probe = (at: number, side: Side): number | null => {
    const solid = toolAt(place, tool, at, side)
    let least = enough
    for (const [k, obstacle] of order.entries()) {
      const spare = spareTo(solid, obstacle, enough)
      if (spare === null) {
        stopped.set(obstacle.name, (stopped.get(obstacle.name) ?? 0) + 1)
        // What stops it here will stop it at the next roll too.
        order.unshift(...order.splice(k, 1))
        return null
      }
      least = Math.min(least, spare)
    }
    return least
  }
  const open = roll === undefined ? openRolls(probe, { step, mostProbes, reachOf }) : openAt(roll, probe)
  const fits = open.tried.map(([at, side]) => toolAt(place, tool, at, side))
  return {
    reach: roll === undefined ? withoutSlivers(mergedRanges(open.ranges)) : open.ranges,
    closedBy: [...stopped].sort((a, b) => b[1] - a[1]).map(([name]) => name),
    takenOff: inTheWay(fits, near),
    within: within.map(({ name }) => name),
    probes: open.probes,
  }
}

/** Asked of a gap where any will do: what is proved beyond the need then says nothing. */
const barely = Number.MIN_VALUE

/** Whatever the tool's sweep clears never stops it, and neither do the tubes in the hose. */
function outOfHose(obstacles: readonly RoomObstacle[], place: ClampPlace, tool: Tool): RoomObstacle[] {
  return obstacles.flatMap((each) => {
    const solid = outsideHose(each.solid, place, tool.diameter / 2 + each.need, each.need)
    return solid ? [{ ...each, solid }] : []
  })
}

/** What a solid has to spare beyond what an obstacle needs, mm, no more than `enough`; null where that is not proved to be anything. */
function spareTo(solid: Solid, { solid: other, need }: RoomObstacle, enough: number): number | null {
  const upTo = need + enough
  if (boxGap(solid.bounds, other.bounds) >= upTo) return enough
  const { atLeast, overlap } = clearance(solid, other, { upTo, depth: false })
  // Contact may show as a gap of nothing, without an overlap.
  return overlap || atLeast <= 0 || atLeast < need ? null : Math.min(enough, atLeast - need)
}

/** Whether the hose under a clamp's band is in a solid. */
function standsIn({ at, axis, clamp, closesOn }: ClampPlace, solid: Solid): boolean {
  const half = clamp.band / 2
  const body = {
    kind: 'cylinder',
    from: along(at, axis, -half),
    to: along(at, axis, half),
    radius: closesOn / 2,
  } as const
  const { atLeast } = clearance(solidFrom([{ form: 'convex', body }]), solid, { upTo: barely, depth: false })
  return !(atLeast > 0)
}

function openAt(roll: number, probe: (at: number, side: Side) => number | null): OpenRolls {
  const side = ([1, -1] as const).find((each) => probe(roll, each) !== null)
  return { ranges: side ? [[roll, roll]] : [], tried: side ? [[roll, side]] : [], probes: side === 1 ? 1 : 2 }
}

/** Of what comes off: all that stops a tool somewhere, where it leaves none that fits. */
function inTheWay(fits: readonly Solid[], near: readonly RoomObstacle[]): string[] {
  const removable = near.filter((each) => each.comesOff)
  const inWay = new Set<string>()
  for (const solid of fits) {
    const stops = removable.filter((each) => spareTo(solid, each, barely) === null)
    if (stops.length === 0) return []
    for (const { name } of stops) inWay.add(name)
  }
  return [...inWay]
}
