import { add, along, cross, length, scale, sub, type Vec3 } from '../shape/vec.ts'
import { type FastenerRoom, roomLeft } from './fastenerRoom.ts'

/** One hole over one fastener. */
export interface HoleOver {
  readonly room: FastenerRoom
  /** Middles of hole and fixing, bay frame, mm. */
  readonly hole: Vec3
  readonly fixing: Vec3
  /** What is taken off the room before anything may shift: leaning, tolerances, mm. */
  readonly taken: number
}

/** The candidate gone a little: turned about its middle by `turn` (a vector: its way the axis, its length the angle in radians), then shifted. */
export interface CommonShift {
  readonly shift: Vec3
  readonly turn: Vec3
}

export const noShift: CommonShift = { shift: [0, 0, 0], turn: [0, 0, 0] }

/** Room that is left at a hole after a shift, mm; below 0: it does not go on in the worst case. */
export function spareAfter({ room, hole, fixing, taken }: HoleOver, { shift, turn }: CommonShift, about: Vec3) {
  const gone = add(add(about, turnedBy(sub(hole, about), turn)), shift)
  const { by, towards } = roomLeft(room, sub(gone, fixing))
  return { spare: by - taken, towards }
}

/** Rodrigues' formula. */
function turnedBy(v: Vec3, turn: Vec3): Vec3 {
  const angle = length(turn)
  if (angle === 0) return v
  const axis = scale(turn, 1 / angle)
  const across = cross(axis, v)
  return along(along(v, across, Math.sin(angle)), cross(axis, across), 1 - Math.cos(angle))
}

const rounds = 6
const stepsARound = 150

/**
 * Where a candidate may go so that all its holes lie over their fasteners with the most room to spare at the worst of them.
 * One shift is fixed before any error shows; every hole must take its own errors beside it. That is the safe side: who fits
 * the part may shift it anew for the errors it has.
 * @param reach no point of the candidate is farther from `about`, mm
 * @param limit no point of it may move farther, mm
 * @returns the best shift found; what it leaves is told exactly by `spareAfter`. By ascent of a concave function with ever
 *   smaller steps, counted: the same everywhere. It may miss the very best by a small share of `limit`.
 * Source: subgradient method, common practice, no source.
 */
export function commonShift(
  holes: readonly HoleOver[],
  about: Vec3,
  reach: number,
  limit: number,
  mayTurn: boolean,
): CommonShift {
  let best = noShift
  if (holes.length === 0 || !(limit > 0)) return best
  const worstAt = (shift: CommonShift) => {
    let worst = { spare: Infinity, towards: [0, 0, 0] as Vec3, arm: [0, 0, 0] as Vec3 }
    for (const hole of holes) {
      const { spare, towards } = spareAfter(hole, shift, about)
      if (spare < worst.spare) worst = { spare, towards, arm: sub(hole.hole, about) }
    }
    return worst
  }
  let most = worstAt(best).spare
  for (let round = 0; round < rounds; round++) {
    let here = best
    for (let k = 1; k <= stepsARound; k++) {
      const { towards, arm } = worstAt(here)
      const step = (limit * 0.5 * 0.3 ** round) / Math.sqrt(k)
      // The turn is scaled by the candidate's reach, so that a step of it moves no point farther than one of the shift.
      const turn = mayTurn ? along(here.turn, cross(arm, towards), step / (reach * reach)) : here.turn
      here = within({ shift: along(here.shift, towards, step), turn }, reach, limit)
      const { spare } = worstAt(here)
      if (spare > most) [most, best] = [spare, here]
    }
  }
  return best
}

/** No point of the candidate moves farther than this, mm. */
export const movedBy = ({ shift, turn }: CommonShift, reach: number): number => length(shift) + length(turn) * reach

function within(shift: CommonShift, reach: number, limit: number): CommonShift {
  const moved = movedBy(shift, reach)
  if (moved <= limit) return shift
  // A hair less, so that rounding cannot carry it over.
  const share = (limit / moved) * (1 - 1e-12)
  return { shift: scale(shift.shift, share), turn: scale(shift.turn, share) }
}

/** Distance of the farthest corner of a box from a point. */
export const farthest = ({ min, max }: { readonly min: Vec3; readonly max: Vec3 }, from: Vec3): number =>
  Math.hypot(...from.map((x, k) => Math.max(Math.abs(min[k] - x), Math.abs(max[k] - x))))
