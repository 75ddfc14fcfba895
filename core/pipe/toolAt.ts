import { rolled } from '../bay/joints.ts'
import type { ClampPlace } from '../bay/joints.ts'
import type { Clamp } from '../bay/workshopSchema.ts'
import type { Solid } from '../shape/form.ts'
import { solidFrom } from '../shape/solid.ts'
import { along, cross } from '../shape/vec.ts'
import type { Vec3 } from '../shape/vec.ts'
import type { Side } from './openRolls.ts'

export type Tool = NonNullable<Clamp['tool']>

/**
 * The straight room that a tool needs at a clamp whose screw stands at a roll, bay frame, mm: a cylinder of the tool's
 * diameter and length along the screw, which lies in the plane of the band, square to the way from the hose's axis to it,
 * half the clamp's height off the hose. A tool thicker than that begins where it leaves the hose's circle.
 * @param roll degrees, see `rolled`
 * @param side which end of the screw it is put to: a clamp can be put on either way round
 */
export function toolAt(place: ClampPlace, tool: Tool, roll: number, side: Side): Solid {
  const { stand, begin } = standing(place, tool)
  const up = rolled(place.axis, roll)
  const way = cross(place.axis, up)
  const from = along(along(place.at, up, stand), way, side * begin)
  return cylinder(from, along(from, way, side * tool.length), tool.diameter / 2)
}

/** All that a tool passes through as the clamp is rolled all the way round, and how far it travels. */
export interface ToolSweep {
  /** Holds the tool at every roll, on both sides. */
  readonly disc: Solid
  /** Least travel that a roll by an angle (degrees) can need: no point of the tool moves further, mm. */
  readonly travel: (degrees: number) => number
  /** The roll, degrees, within which no point of the tool moves further than this, mm. */
  readonly reachOf: (spare: number) => number
}

export function toolSweep(place: ClampPlace, tool: Tool): ToolSweep {
  const { stand, begin } = standing(place, tool)
  // Rounding of coordinates within a car is far below a millionth of a millimetre.
  const radius = Math.hypot(stand + tool.diameter / 2, begin + tool.length) + 1e-6
  const half = tool.diameter / 2
  return {
    disc: cylinder(along(place.at, place.axis, -half), along(place.at, place.axis, half), radius),
    travel: (degrees) => 2 * radius * Math.sin((Math.min(degrees, 180) * Math.PI) / 360),
    reachOf: (spare) => (2 * Math.asin(Math.min(1, Math.max(0, spare) / (2 * radius))) * 180) / Math.PI,
  }
}

/** How far the screw stands from the hose's axis, and how far along it the tool begins, mm. */
function standing({ closesOn, clamp }: ClampPlace, tool: Tool): { readonly stand: number; readonly begin: number } {
  const hose = closesOn / 2
  const stand = hose + clamp.height / 2
  const underside = Math.max(0, stand - tool.diameter / 2)
  return { stand, begin: underside >= hose ? 0 : Math.sqrt(hose * hose - underside * underside) }
}

const cylinder = (from: Vec3, to: Vec3, radius: number): Solid =>
  solidFrom([{ form: 'convex', body: { kind: 'cylinder', from, to, radius } }])
