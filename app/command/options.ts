import { InvalidArgumentError, Option } from 'commander'
import { readAngle } from '../../core/units/angle.ts'
import { readLength } from '../../core/units/length.ts'

/** Values of options as people write them; what cannot be read is refused in words, with status 2. */
const refuseUnless = (good: boolean, expected: string): void => {
  if (!good) throw new InvalidArgumentError(`Expected ${expected}.`)
}

export interface Range {
  readonly min: number
  readonly max: number
}

/** A box in the bay's axes, mm. */
export interface Box {
  readonly min: readonly [number, number, number]
  readonly max: readonly [number, number, number]
}

const largestTilt = 45
const tiltText = 'two angles within ±45°, the lesser first, such as -5..5'

/** `-5..5`, `-5°..2.5°`: degrees. */
export function readTilt(text: string): Range {
  const ends = text.split('..').map(readAngle)
  const [from, to] = ends.map((end) => (end.ok ? Number(end.value) : Number.NaN))
  refuseUnless(ends.length === 2 && from <= to && Math.max(Math.abs(from), Math.abs(to)) <= largestTilt, tiltText)
  return { min: from, max: to }
}

export interface Axes {
  readonly x: boolean
  readonly y: boolean
  readonly z: boolean
}

/** `xz`: each letter once, in any order. */
export function readFree(text: string): Axes {
  const has = (axis: string) => text.includes(axis)
  refuseUnless(/^[xyz]+$/.test(text) && new Set(text).size === text.length, 'one or more of the letters x, y and z')
  return { x: has('x'), y: has('y'), z: has('z') }
}

/** A length above 0 in mm; inches where they are marked. */
export function readPositiveLength(text: string): number {
  const length = readLength(text, 'mm')
  refuseUnless(length.ok && length.value > 0, 'a length above 0, in mm or with its unit')
  return length.ok ? length.value : Number.NaN
}

/** `0.005` or `0.5%`: a share above 0 and at most 1. */
export function readShare(text: string): number {
  const [, number, percent] = /^(\d*\.?\d+(?:e-?\d+)?)\s*(%?)$/i.exec(text.trim()) ?? []
  const share = Number(number) / (percent ? 100 : 1)
  refuseUnless(share > 0 && share <= 1, 'a share above 0 and at most 1, such as 0.005 or 0.5%')
  return share
}

/** `-110,-300,60..0,300,420`: two corners in the bay's axes, mm or with units, the lesser of each axis first. */
export function readBox(text: string): Box {
  const corners = text.split('..').map((corner) => corner.split(',').map((x) => readLength(x, 'mm')))
  const numbers = corners.map((corner) => corner.map((x) => (x.ok ? Number(x.value) : Number.NaN)))
  const good = numbers.length === 2 && numbers.every((corner) => corner.length === 3)
  const ordered = good && [0, 1, 2].every((k) => numbers[0][k] < numbers[1][k])
  refuseUnless(ordered, 'two corners, each coordinate of the first below that of the second: x,y,z..x,y,z')
  const [[a, b, c], [d, e, f]] = numbers
  return { min: [a, b, c], max: [d, e, f] }
}

const mostSeconds = 1e6

export function readSeconds(text: string): number {
  const seconds = /^\d+(\.\d+)?$/.test(text) ? Number(text) : Number.NaN
  refuseUnless(seconds > 0 && seconds <= mostSeconds, `a number of seconds above 0 and at most ${mostSeconds}`)
  return seconds
}

export const tiltOption = () =>
  new Option(
    '--tilt <from..to>',
    'tilt about Y that may be taken, degrees (default: as the limits say, else as it stands)',
  ).argParser(readTilt)
export const secondsOption = () =>
  new Option('--seconds <n>', 'stop after this long with the best so far').default(60).argParser(readSeconds)
export const unitsOption = () =>
  new Option('--units <unit>', 'how lengths are shown (default: as the bay says)').choices(['mm', 'inch'])
export const jsonOption = () => new Option('--json', 'print one JSON object and nothing else; lengths in mm')
export const adoptOption = () =>
  new Option('--adopt <file>', 'write a copy of the bay with the answer as its first candidate, NEW.bay.json')
export const forceOption = () => new Option('--force', 'let --adopt replace a file; the former one is kept as .bak')
