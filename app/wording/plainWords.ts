import type { Bay } from '../../core/bay/schema.ts'
import { formatLength, type LengthFormat, type PeopleUnits } from '../../core/units/lengthText.ts'
import type { Vec3 } from '../../core/shape/vec.ts'

/** Hundredths of a millimetre, or 1/64 inch: finer than anything that is measured in a bay. */
export const fine = (units: PeopleUnits): LengthFormat =>
  units === 'mm' ? { decimals: 2, bare: true } : { fraction: 64, bare: true }
export const fineWithUnit = (units: PeopleUnits): LengthFormat => ({ ...fine(units), bare: false })

/** X rearward, Y to the right, Z up: the words for either way along each. */
export const ways = [
  ['forward', 'rearward'],
  ['left', 'right'],
  ['down', 'up'],
] as const

/** `64.2 mm forward, 268.7 mm left, 233.2 mm up`: a place as seen from the origin. */
export const placeText = (point: Vec3, units: PeopleUnits, format: LengthFormat = {}): string =>
  sharesText(point, units, format) || 'the origin'

/** `2.1 mm left, 15.4 mm up`: a movement in the directions of the car. */
export const moveText = (move: Vec3, units: PeopleUnits, format: LengthFormat = {}): string =>
  sharesText(move, units, format)

/** Shares that read as 0 are not told. */
const sharesText = (vector: Vec3, units: PeopleUnits, format: LengthFormat): string =>
  vector
    .map((x, axis) => [formatLength(Math.abs(x), units, format), ways[axis][x < 0 ? 0 : 1]] as const)
    .filter(([length]) => /[1-9]/.test(length))
    .map(([length, way]) => `${length} ${way}`)
    .join(', ')

/** 1 pair, 2 pairs */
export const counted = (n: number, one: string, many = `${one}s`): string => `${n} ${n === 1 ? one : many}`

export const listed = (words: readonly string[]): string =>
  words.length < 2 ? words.join('') : `${words.slice(0, -1).join(', ')} and ${words.at(-1)}`

/** `3.25°`, `−0.5°` */
export const degreesText = (degrees: number): string => `${String(Number(degrees.toFixed(2)) + 0).replace('-', '−')}°`

/** A tilt about Y: which way the top leans. */
export function tiltText(degrees: number): string {
  const shown = Number(degrees.toFixed(2))
  if (shown === 0) return 'upright'
  return `${degreesText(Math.abs(shown))}, top ${shown > 0 ? 'rearward' : 'forward'}`
}

/** A keep-out's own name behind its id: ` (Crash beam)`. */
export function bracketedName(bay: Bay, keepOut: string): string {
  const name = bay.keepOuts.find(({ id }) => id === keepOut || `${id}-mirror` === keepOut)?.name
  return name ? ` (${name})` : ''
}
