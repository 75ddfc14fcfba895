import { add, dot, product, scale, sub, turned, turnedBack, type Mat3, type Pose, type Vec3 } from '../shape/vec.ts'
import { decideMotions } from './certify.ts'
import { type Contact, type Contacts, contactsOf } from './contacts.ts'
import { lean, type Side } from './lean.ts'
import { turnAbout } from './move.ts'
import type { SeatSearch } from './search.ts'
import { after, axes, isSomething, motionOf, shareOfStep, shiftStep, type Step, turnStep } from './steps.ts'

/** Degrees a stretch: half as much where it does not go on, twice as much where it does. */
const [widestStretch, leastStretch] = [8, 0.1]
/** In all a little over a quarter turn. */
const widest = 104
/** Places that lie so near count where a stretch is planned, mm. */
const near = 160
/** So many times a pose is brought to the middle of its room: once would do if all contacts were flat. */
const corrections = 3
/** Distance queries that the proof of a stretch may take. */
const mostQueries = 20_000
const still = shiftStep([1, 0, 0], 0)
/** The part is brought away from what is nearer than this, mm: not farther, or it would leave the bend again. */
const roomy = 4
/** A shift before the turn goes up to contact, but for this share. */
const short = 0.98
const longest = 3000

/**
 * A way out that turns the part about one axis, little by little, and keeps it off what it comes near to after each stretch:
 * round bends that leave it a hair. It begins at the seat, or after a shift to contact. A straight push out is tried after each.
 * @param until work done in all at which it gives up
 */
export function turnThrough(search: SeatSearch, margin: number, until: number): Step[] | null {
  for (const axis of [2, 1, 0])
    for (const first of startsOf(search, axis, margin))
      for (const side of [1, -1]) {
        const way = turnedThrough(search, first, axis, side, margin, until)
        if (way) return way
      }
  return null
}

/** Nothing, or a shift square to the axis until something is met. */
function startsOf({ advancer, subject }: SeatSearch, axis: number, margin: number): Step[][] {
  const ways = [0, 1, 2].filter((k) => k !== axis).flatMap((k) => [1, -1].map((s) => scale(axes[k], s)))
  const shifts = ways.map((way) => {
    const whole = shiftStep(way, longest)
    return shareOfStep(whole, short * advancer.advance(motionOf(whole, subject.seat), margin).share)
  })
  return [[], ...shifts.filter((step) => isSomething(step, 5, 1)).map((step) => [step])]
}

function turnedThrough(
  search: SeatSearch,
  first: readonly Step[],
  axis: number,
  side: number,
  margin: number,
  until: number,
): Step[] | null {
  const steps = [...first]
  let pose = first.reduce(after, search.subject.seat)
  let stretch = widestStretch
  for (let turned = 0; turned < widest && !search.work.isOver(until); ) {
    const step = stretched(search, pose, axis, side * stretch, margin)
    if (!step) {
      stretch /= 2
      if (stretch < leastStretch) return null
      continue
    }
    turned += stretch
    stretch = Math.min(widestStretch, 2 * stretch)
    steps.push(step)
    pose = after(pose, step)
    const push = search.exits.shot(pose, margin)
    if (push) return [...steps, push]
  }
  return null
}

/** One turn with a shift that goes through the middle of the room there is halfway and at its end; null where that is not clear. */
function stretched(search: SeatSearch, pose: Pose, axis: number, angle: number, margin: number): Step | null {
  const halfway = leaned(search, pose, axis, angle / 2)
  const end = halfway && leaned(search, halfway, axis, angle / 2)
  if (!end) return null
  const step = through(pose, halfway, end, axis, angle)
  // The searches' own test gives up at a few tenths of a millimetre, which is more than there is to spare here.
  const { subject, work } = search
  const verdict = decideMotions(subject, [motionOf(step, pose)], margin, work.sweeps, mostQueries)
  return verdict === 'proved' ? step : null
}

/**
 * The pose turned a little and shifted to where it has room: told from the places that are near now, since a thin part that
 * was only turned could not tell on which side of a corner it belongs.
 */
function leaned({ subject, work }: SeatSearch, pose: Pose, axis: number, angle: number): Pose | null {
  const turn = turnAbout(axes[axis], (angle * Math.PI) / 180)
  const [i, j] = [0, 1, 2].filter((k) => k !== axis)
  const counts = ({ away }: Contact) => Math.hypot(away[i], away[j]) > 1e-3
  const leanOff = (from: Pose, contacts: Contacts, turned_: Mat3 | null): Pose | null => {
    const sides = contacts.list.map(({ margin, away, arm }): Side => {
      const goes = turned_ ? dot(sub(turned(turned_, arm), arm), away) : 0
      return { n: [away[i], away[j]], gap: margin + goes }
    })
    const found = lean(sides, roomy, 2 * near)
    if (!found) return null
    const at = [...from.at]
    at[i] += found.shift[0]
    at[j] += found.shift[1]
    return { at: at as unknown as Vec3, turn: turned_ ? product(turned_, from.turn) : from.turn }
  }
  const look = (at: Pose) => contactsOf(subject, work.sweeps, at, still, near, counts)
  const before = look(pose)
  let there = before && leanOff(pose, before, turn)
  for (let k = 0; there && k < corrections; k++) {
    const contacts = look(there)
    if (contacts && contacts.least >= roomy) return there
    there = contacts && leanOff(there, contacts, null)
  }
  return there
}

/**
 * The move from one pose to another that also passes through a third halfway: its pivot is chosen so. A shift alone goes
 * straight, while the middle of the room goes round a bend. With q from the part's origin to the pivot the origin lies halfway
 * off the chord by (cos(angle/2) − 1) · q turned by half the angle (derived).
 */
function through(from: Pose, halfway: Pose, to: Pose, axis: number, angle: number): Step {
  const half = (angle * Math.PI) / 360
  const off = sub(halfway.at, scale(add(from.at, to.at), 0.5))
  const back = turned(turnAbout(axes[axis], -half), off)
  const q = scale(back, 1 / (Math.cos(half) - 1)).map((x, k) => (k === axis ? 0 : x)) as unknown as Vec3
  const turn = turnStep(axes[axis], turnedBack(from.turn, q), angle)
  return { ...turn, shift: sub(to.at, after(from, turn).at) }
}
