import { bad, good } from '../fault.ts'
import type { Outcome } from '../fault.ts'
import { plainMinus, writtenNumber } from './number.ts'

export type Degrees = number & { readonly unit: 'deg' }

const partPattern = /\s*(?:(degrees|degree|deg|radians|radian|rad|min|sec)(?![a-z])|(''|[°º'′’"″”]))/iy
const degreeWords = ['degrees', 'degree', 'deg', '°', 'º']
const minuteWords = ['min', "'", '′', '’']
const radianWords = ['radians', 'radian', 'rad']

const example = 'an angle such as 12.5, 7 1/2° or 12° 30′'

/**
 * Reads an angle as people write it: `12`, `12,5°`, `7½ deg`, `12° 30′ 15″`, `−3`, `0.2 rad`. Bare numbers are degrees.
 * Minutes and seconds must stay below 60 and follow whole degrees.
 * @returns degrees, not wrapped to a turn, within ±36000. Faults: 'no-angle', 'not-an-angle', 'angle-too-large'; `column` from 1.
 */
export function readAngle(text: string): Outcome<Degrees> {
  const plain = plainMinus(text).trimEnd()
  const trouble = (expected: string, at: number) =>
    bad({ code: 'not-an-angle', expected, column: at + 1, got: text.slice(0, 80) })
  if (plain.trim() === '') return bad({ code: 'no-angle', expected: example, got: text })
  if (text.length > 80) return trouble('at most 80 characters', 80)
  const sign = /^\s*([+-]?)\s*/.exec(plain) as RegExpExecArray
  let at = sign[0].length
  let total = 0
  /** 60 for degrees, then minutes, then seconds: each counts a sixtieth of the one before. */
  let share = 1
  for (let part = 0; ; part++) {
    const number = writtenNumber(plain, at)
    if (typeof number === 'string') return trouble(example, at)
    if (part > 0 && number.value >= 60) return trouble('minutes and seconds below 60', at)
    at = number.end
    partPattern.lastIndex = at
    const match = partPattern.exec(plain)
    const word = match ? (match[1]?.toLowerCase() ?? match[2]) : null
    at += match?.[0].length ?? 0
    if (word !== null && radianWords.includes(word)) {
      if (part > 0 || at < plain.length) return trouble('radians alone', at)
      total = (number.value * 180) / Math.PI
      break
    }
    const fits =
      part === 0 ? word === null || degreeWords.includes(word) : word !== null && minutesOrSeconds(word) === part
    if (!fits) return trouble(['degrees', 'minutes', 'seconds'][part], at)
    total += number.value * share
    if (at === plain.length) break
    if (part === 2 || word === null || number.kind !== 'whole') return trouble('the end', at)
    share /= 60
    while (/\s/.test(plain[at] ?? '')) at++
  }
  if (!(total <= 36000)) return bad({ code: 'angle-too-large', expected: 'at most 36000°', got: text })
  return good((total === 0 ? 0 : sign[1] === '-' ? -total : total) as Degrees)
}

const minutesOrSeconds = (word: string): 1 | 2 | null =>
  minuteWords.includes(word) ? 1 : degreeWords.includes(word) ? null : 2
