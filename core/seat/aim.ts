import { add, cross, length, product, scale, unit, type Pose, type Vec3 } from '../shape/vec.ts'
import type { Moving } from './advance.ts'
import { type Contact, type Contacts, contactsOf } from './contacts.ts'
import { insetOf } from './inset.ts'
import { minNorm } from './minNorm.ts'
import { turnAbout } from './move.ts'
import type { Step } from './steps.ts'
import type { Work } from './work.ts'

/** While the part overlaps it is drawn in by the least of these that frees it, mm. */
const insets = [0, 0.02, 0.05, 0.1, 0.2, 0.4, 0.7, 1.2, 2, 4, 7, 11, 16, 22, 30, 40]

export interface AimOptions {
  /** Pushes of the three shifts and three turns that may be used; all where left out. */
  readonly free?: readonly boolean[]
  readonly rounds?: number
  /** Good enough, mm of margin. */
  readonly target: number
  readonly work: Work
}

export interface Aimed {
  readonly pose: Pose
  /** Least margin of the whole push from there, mm, but for what the free shifts and turns do nothing about. */
  readonly margin: number
  /** The part had to be drawn in by this, mm; 0 where the push is clear. */
  readonly inset: number
}

interface State {
  readonly contacts: Contacts
  readonly level: number
}

/**
 * Turns and shifts the part so that a whole push keeps as far off everything as it can: steepest ascent of the least margin,
 * along the shortest vector in the hull of all gradients that count. A part that overlaps is drawn in, and what frees it
 * with less drawing in is always better, whatever the margin then: comparing across the two goes to wrong angles.
 * @param push as a step from the pose; it is kept while the pose changes
 * @returns null where even the smallest part meets something
 */
export function aim(
  moving: Moving,
  from: Pose,
  push: Step,
  { free, rounds = 90, target, work }: AimOptions,
): Aimed | null {
  const size = 0.6 * reachOf(moving)
  const counts = free && (({ away, arm }: Contact) => Math.hypot(...gradient(away, arm, size, free)) > 1e-3)
  const look = (pose: Pose, band: number): State | null => {
    for (const [level, by] of insets.entries()) {
      const contacts = contactsOf(insetOf(moving, by), work.sweeps, pose, push, band, counts)
      if (contacts) return { contacts, level }
    }
    return null
  }
  let step = 8
  let band = 8
  let pose = from
  let state = look(pose, band)
  for (let round = 0; state && round < rounds && step > 0.0015 && !work.isOver(); round++) {
    if (state.level === 0 && state.contacts.least >= target) break
    if (state.contacts.list.length === 0) break
    const way = minNorm(state.contacts.list.map(({ away, arm }) => gradient(away, arm, size, free)))
    const l = Math.hypot(...way)
    if (l < 1e-3) {
      band *= 0.5
      step = Math.min(step, 2 * band)
      if (band < 1e-3) break
      state = look(pose, band)
      continue
    }
    const next = moved(
      pose,
      way.map((x) => (x * step) / l),
      size,
    )
    const there = look(next, band)
    if (there && isBetter(there, state)) {
      pose = next
      state = there
      step *= 1.25
    } else {
      step *= 0.5
      band = Math.max(1e-3, band * 0.6)
      state = look(pose, band)
    }
  }
  return state && { pose, margin: state.contacts.least, inset: insets[state.level] }
}

const isBetter = (a: State, b: State): boolean =>
  a.level < b.level || (a.level === b.level && a.contacts.least > b.contacts.least + 1e-7)

/** How the margin of a contact grows with shifts and turns; turns in units that move a point at `size` as a shift would. */
function gradient(away: Vec3, arm: Vec3, size: number, free?: readonly boolean[]): number[] {
  const torque = scale(cross(arm, away), 1 / size)
  return [...away, ...torque].map((x, k) => (free && !free[k] ? 0 : x))
}

function moved({ turn, at }: Pose, way: readonly number[], size: number): Pose {
  const axis: Vec3 = [way[3], way[4], way[5]]
  const angle = length(axis) / size
  return {
    at: add(at, [way[0], way[1], way[2]]),
    turn: angle > 1e-14 ? product(turnAbout(unit(axis), angle), turn) : turn,
  }
}

export const reachOf = ({ pieces }: Moving): number =>
  Math.max(...pieces.flatMap(({ low, high }) => [Math.hypot(...low), Math.hypot(...high)]))
