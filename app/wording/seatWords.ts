import type { LeastOnTheWay, Move } from '../../core/seat/answer.ts'
import type { Grip } from '../../core/seat/grips.ts'
import type { Vec3 } from '../../core/shape/vec.ts'
import { formatGap, formatLength, formatUncertainty, type PeopleUnits } from '../../core/units/lengthText.ts'

/** Moves of offering up in words: X rearward, Y to the right, Z up. */

const wayWords = [
  ['forward', 'back'],
  ['left', 'right'],
  ['down', 'up'],
] as const
/** What turns about each axis, and which way it goes for a positive turn and a negative one (right-hand rule). */
const turnWords = [
  ['roll', 'right end up', 'right end down'],
  ['tilt', 'top rearward', 'top forward'],
  ['swing', 'right end forward', 'right end rearward'],
] as const
/** An axis within this cosine of one of the bay's is called by it. */
const along = Math.cos(Math.PI / 180)

/**
 * `up 120 mm`, `tilt 12° top forward about its top rear edge while moving up 40 mm`
 * @param grip the edge of the core that it turns about, see `gripsOfPath`; null: its pivot is told as a point of the bay
 */
export function moveWords({ shift, pivot, axis, angle }: Move, grip: Grip | null, units: PeopleUnits): string {
  const ways = wayText(shift, units)
  if (angle === 0) return ways === '' ? 'stay' : ways
  const about = grip ? `its ${gripText(grip)}` : `the point ${pointText(pivot, units)}`
  return `${turnText(axis, angle)} about ${about}${ways === '' ? '' : ` while moving ${ways}`}`
}

const sideWords = [
  ['front', 'rear'],
  ['left', 'right'],
  ['bottom', 'top'],
] as const
/** Above and below first, as people say it: `top rear edge`. */
const order = [2, 0, 1]

export function gripText({ side }: Pick<Grip, 'side'>): string {
  const sides = order.flatMap((k) => (side[k] === 0 ? [] : [sideWords[k][side[k] < 0 ? 0 : 1]]))
  return sides.length === 0 ? 'middle' : `${sides.join(' ')} edge`
}

/** Shares that read as 0 are not told; the largest comes first. */
function wayText(shift: Vec3, units: PeopleUnits): string {
  return [0, 1, 2]
    .sort((a, b) => Math.abs(shift[b]) - Math.abs(shift[a]))
    .map((k) => [wayWords[k][shift[k] < 0 ? 0 : 1], formatLength(Math.abs(shift[k]), units)] as const)
    .filter(([, length]) => /[1-9]/.test(length))
    .map(([way, length]) => `${way} ${length}`)
    .join(' with ')
}

function turnText(axis: Vec3, angle: number): string {
  const long = Math.hypot(...axis)
  const by = `${String(Number(Math.abs(angle).toFixed(3)))}°`
  const k = axis.findIndex((x) => Math.abs(x) >= along * long)
  if (k < 0) return `turn ${angle < 0 ? '−' : ''}${by} about (${axis.map((x) => (x / long).toFixed(3)).join(', ')})`
  const [verb, positive, negative] = turnWords[k]
  return `${verb} ${by} ${Math.sign(axis[k]) * angle > 0 ? positive : negative}`
}

const placeWords = [
  ['forward', 'rearward'],
  ['left', 'right'],
  ['below', 'above'],
] as const
/** A point as seen from the origin of the bay. */
export const pointText = (point: Vec3, units: PeopleUnits): string =>
  point.map((x, k) => `${formatLength(Math.abs(x), units)} ${placeWords[k][x < 0 ? 0 : 1]}`).join(', ')

/** The certified least margin on the way, rounded so that it claims no more than is proved. */
export function leastText(least: LeastOnTheWay, units: PeopleUnits): string {
  const { atLeast, atMost, move, share, part, keepOut, onKeepOut } = least
  const format = { decimals: units === 'mm' ? 2 : 4 }
  const percent = Math.round(100 * share)
  const when =
    percent === 0
      ? `at the beginning of move ${move + 1}`
      : percent === 100
        ? `at the end of move ${move + 1}`
        : `at ${percent} % of move ${move + 1}`
  return `${formatGap(atLeast, units, format)} to ${formatUncertainty(atMost, units, format)}, ${when}: ${part} to ${keepOut}, at ${pointText(onKeepOut, units)}`
}
