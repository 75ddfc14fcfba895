import { formatLength, type PeopleUnits } from '../../core/units/lengthText.ts'
import type { Vec3 } from '../../core/shape/vec.ts'

/** X rearward, Y to the right, Z up: the words for either way along each. */
const ways = [
  ['forward', 'rearward'],
  ['left', 'right'],
  ['down', 'up'],
] as const

/** `64.2 mm forward, 268.7 mm left, 233.2 mm up`: a place as seen from the origin. */
export const placeText = (point: Vec3, units: PeopleUnits): string =>
  point.map((x, axis) => `${formatLength(Math.abs(x), units)} ${ways[axis][x < 0 ? 0 : 1]}`).join(', ')

/** `15.4 mm up, 2.1 mm left`: a movement in the directions of the car; shares of 0 are not told. */
export const moveText = (move: Vec3, units: PeopleUnits): string =>
  move
    .map((x, axis) => (x === 0 ? '' : `${formatLength(Math.abs(x), units)} ${ways[axis][x < 0 ? 0 : 1]}`))
    .filter((share) => share !== '')
    .join(', ')

/** 1 pair, 2 pairs */
export const counted = (n: number, one: string, many = `${one}s`): string => `${n} ${n === 1 ? one : many}`

export const listed = (words: readonly string[]): string =>
  words.length < 2 ? words.join('') : `${words.slice(0, -1).join(', ')} and ${words.at(-1)}`
