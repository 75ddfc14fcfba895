import type { KeepOutSolid, Part } from '../../bay/part.ts'
import { fastenerReach, type ReachObstacle } from '../../seat/fastenerReach.ts'
import { unionBounds } from '../../shape/bounds.ts'
import type { Bounds, Solid } from '../../shape/form.ts'
import { distance, mix, scale, sub, type Vec3 } from '../../shape/vec.ts'
import type { LedgerPair } from '../../verdict/answer.ts'
import type { Reached } from './sheetFacts.ts'

/** From where a gap is reached, and how far in. */
export interface Access {
  readonly from: Reached
  readonly reach: number
}

/** X rearward, Y right, Z up. The order is that in which they are tried where two are as good. */
export const reachOrder: readonly Reached[] = ['front', 'left', 'right', 'below', 'above', 'rear']
const ways: Record<Reached, Vec3> = {
  front: [-1, 0, 0],
  left: [0, -1, 0],
  right: [0, 1, 0],
  below: [0, 0, -1],
  above: [0, 0, 1],
  rear: [1, 0, 0],
}

/** A gap is not reached along itself: its cosine with the way may be this at most. */
const alongGap = 0.8
/** Room for a hand before the mouth of the gap, mm, and the rod that stands for the gauge. Common practice, no source. */
const handRoom = 150
const rodShare = 0.8
const thickestRod = 4

/** What stands there when the finished part is checked: all parts, and keep-outs that neither come off nor move. */
export function checkObstacles(parts: readonly Part[], keepOuts: readonly KeepOutSolid[]): ReachObstacle[] {
  const standing = keepOuts.filter(({ keepOut }) => keepOut.fitting !== 'comes-off' && keepOut.role !== 'moving')
  return [
    ...standing.map(({ id, solid }) => ({ name: id, solid, need: 0, off: false })),
    ...parts.map(({ name, solid }) => ({ name, solid, need: 0, off: false })),
  ]
}

/** A part as a gauge meets it: core and tanks are one body whose faces run on into each other. */
export function bodyBounds(part: Part, parts: readonly Part[]): Bounds {
  const isBody = ({ kind }: Part) => kind === 'core' || kind === 'tank'
  return isBody(part) ? unionBounds(parts.filter(isBody).map(({ solid }) => solid.bounds)) : part.solid.bounds
}

/**
 * The nearest side from which a straight rod, thinner than the gap and with room for a hand before it, gets to the place of
 * the least gap past everything that is there.
 * @returns null where there is none; `reach` is to where the gap opens, the nearer end of the two things along that way
 */
export function accessTo(
  { gap, onPart, onKeepOut }: Pick<LedgerPair, 'gap' | 'onPart' | 'onKeepOut'>,
  part: Bounds,
  other: Solid,
  obstacles: readonly ReachObstacle[],
): Access | null {
  const apart = distance(onPart, onKeepOut)
  if (!(gap > 0 && apart > 0)) return null
  const across = scale(sub(onKeepOut, onPart), 1 / apart)
  const diameter = Math.min(thickestRod, rodShare * gap)
  const middle = inset(mix(onPart, onKeepOut, 0.5), across, diameter, [part, other.bounds])
  const tried = reachOrder
    .filter((from) => Math.abs(dotAlong(across, from)) <= alongGap)
    .map((from) => ({ from, reach: mouth(middle, from, part, other.bounds) }))
    .sort((a, b) => a.reach - b.reach)
  return (
    tried.find(({ from, reach }) => {
      const rod = { diameter, length: reach + handRoom }
      const asked = { uncertainty: 0, own: '', sitsOn: undefined }
      return fastenerReach(rod, middle, ways[from], asked, obstacles).clear
    }) ?? null
  )
}

/**
 * A place that lies on the very rim of the two, as one of many equally near ones may, taken in by the rod's thickness along
 * the ways that are square to the gap: a gauge is held there.
 */
function inset(at: Vec3, across: Vec3, by: number, things: readonly Bounds[]): Vec3 {
  const along = (k: number): number => {
    const low = Math.max(...things.map(({ min }) => min[k])) + by
    const high = Math.min(...things.map(({ max }) => max[k])) - by
    if (Math.abs(across[k]) > 1 - alongGap || low > high) return at[k]
    return Math.min(high, Math.max(low, at[k]))
  }
  return [along(0), along(1), along(2)]
}

const dotAlong = (v: Vec3, from: Reached): number => v[0] * ways[from][0] + v[1] * ways[from][1] + v[2] * ways[from][2]

/** How far it is from a place to where the shorter of the two things ends, along a way, mm. */
function mouth(at: Vec3, from: Reached, ...things: readonly Bounds[]): number {
  const k = ways[from].findIndex((x) => x !== 0)
  const sign = ways[from][k]
  const ends = things.map(({ min, max }) => (sign > 0 ? max[k] : -min[k]))
  return Math.max(0, Math.min(...ends) - sign * at[k])
}
