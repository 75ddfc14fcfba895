import type { Pose, Vec3 } from '../shape/vec.ts'
import type { Moving } from './advance.ts'
import { pairsFor, type Pair } from './onTheWay.ts'
import { motionOf, type Step } from './steps.ts'
import type { SeatPiece } from './subject.ts'
import type { Sweeps } from './sweeps.ts'

/** A place where a pushed part is near a keep-out: how near, the way off, and where on the part. */
export interface Contact {
  /** Margin there, mm. */
  readonly margin: number
  /** Unit, bay frame. */
  readonly away: Vec3
  /** From the part's middle to the place, at the pose that the push begins at. */
  readonly arm: Vec3
}

export interface Contacts {
  /** Least margin of the whole push, mm. */
  readonly least: number
  readonly list: readonly Contact[]
}

/**
 * All places of a push whose margin is within `band` of the least: those of every piece, and of every corner by itself,
 * since along parallel faces one pair of points says little.
 * @param counts those that nothing can be done about are left out: a floor, where only shifts along it are free
 * @returns null where the part meets something; without contacts `least` is Infinity
 */
export function contactsOf(
  moving: Moving,
  sweeps: Sweeps,
  pose: Pose,
  push: Step,
  band: number,
  counts: (contact: Contact) => boolean = () => true,
): Contacts | null {
  const motion = motionOf(push, pose)
  const still = push.shift.every((x) => x === 0)
  const list: Contact[] = []
  let least = Infinity
  const near: Pair[] = []
  const look = (piece: SeatPiece, { obstacle, asked }: Pair): boolean | null => {
    sweeps.load(motion, piece, 0, still ? 0 : 1)
    const cut = least + band + asked
    const gap = sweeps.gap(obstacle, cut)
    if (gap >= cut) return false
    const { near: found } = sweeps
    if (!(gap > 0)) return null
    const margin = found.atMost - asked
    const share = still ? 0 : sweeps.shareOfNear(16)
    const d = found.atMost
    const contact: Contact = {
      margin,
      away: [(found.ax - found.bx) / d, (found.ay - found.by) / d, (found.az - found.bz) / d],
      arm: [
        found.ax - share * push.shift[0] - pose.at[0],
        found.ay - share * push.shift[1] - pose.at[1],
        found.az - share * push.shift[2] - pose.at[2],
      ],
    }
    if (!counts(contact)) return false
    if (margin < least) least = margin
    list.push(contact)
    return true
  }
  for (const pair of pairsFor(moving)) {
    const met = look(pair.piece, pair)
    if (met === null) return null
    if (met) near.push(pair)
  }
  for (const pair of near) for (const corner of cornersOf(pair.piece)) look(corner, pair)
  return { least, list: list.filter(({ margin }) => margin < least + band) }
}

const corners = new WeakMap<SeatPiece, readonly SeatPiece[]>()
/** Of a piece with many points only some are looked at by themselves. */
const mostCorners = 16

function cornersOf(piece: SeatPiece): readonly SeatPiece[] {
  const known = corners.get(piece)
  if (known) return known
  const count = piece.points.length / 3
  const step = Math.max(1, Math.ceil(count / mostCorners))
  const made: SeatPiece[] = []
  for (let i = 0; i < count; i += step) {
    const points = piece.points.slice(3 * i, 3 * i + 3)
    const at: Vec3 = [points[0], points[1], points[2]]
    made.push({ ...piece, points, low: at, high: at, normals: new Float64Array(0) })
  }
  corners.set(piece, made)
  return made
}
