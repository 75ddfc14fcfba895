import type { PeopleUnits } from '../../../core/units/lengthText.ts'
import type { Vec3 } from '../../../core/shape/vec.ts'
import type { LedgerPair } from '../../../core/verdict/answer.ts'
import { words } from '../words.ts'
import { askedFull, errorFull, gapFull, placeFull } from './figures.ts'

/** A row's figures as lines of text for the clipboard: name, tab, value. */
export function pairText(pair: LedgerPair, other: string, part: string, units: PeopleUnits): string {
  const { details } = words
  const place = (point: Vec3) => point.map((x) => placeFull(x, units)).join(' ')
  const lines: [string, string][] = [
    [`${other} ${words.ledger.to} ${part}`, words.verdict[pair.verdict].one],
    [details.gap, gapFull(pair.gap, units)],
    ...overlapLine(pair, units),
    [details.error, errorFull(pair.error, units)],
    [details.tolerance, askedFull(pair.tolerance, units)],
    [details.uncertainty, askedFull(pair.uncertainty, units)],
    [details.required, askedFull(pair.required, units)],
    [details.margin, gapFull(pair.margin, units)],
    [details.onPart, place(pair.onPart)],
    [pair.between ? details.onOther : details.onKeepOut, place(pair.onKeepOut)],
  ]
  return lines.map((line) => line.join('\t')).join('\n')
}

function overlapLine({ overlap }: LedgerPair, units: PeopleUnits): [string, string][] {
  return overlap ? [[words.details.overlap, overlapText(overlap, units)]] : []
}

/** `12.30 mm, out by moving 12.30 mm up`. */
export function overlapText(
  { depth, kind, direction }: NonNullable<LedgerPair['overlap']>,
  units: PeopleUnits,
): string {
  const { details } = words
  const deep = kind === 'exact' ? details.exactly(gapFull(depth, units)) : details.atLeast(gapFull(depth, units))
  if (!direction || depth === 0) return deep
  return `${deep}, ${details.moveOut(wayText(direction, depth, units))}`
}

/** A movement in the directions of the car; what is less than a fiftieth of it is not told. */
function wayText(direction: Vec3, depth: number, units: PeopleUnits): string {
  return direction
    .map((x, axis) =>
      Math.abs(x) < 0.02 ? '' : `${askedFull(Math.abs(x) * depth, units)} ${words.ways[axis][x < 0 ? 0 : 1]}`,
    )
    .filter((share) => share !== '')
    .join(', ')
}
