import type { JointAnswer } from '../../core/pipe/answer.ts'
import type { PeopleUnits } from '../../core/units/lengthText.ts'
import { atLeast, atMost, sizeText } from './bendFigures.ts'
import { listed } from './plainWords.ts'

/** One end of a pipe as figures, a line for the coupler and one for each clamp. */
export function jointText(joint: JointAnswer, units: PeopleUnits): string {
  const moves = joint.movement > 0 ? `; the port moves by ${sizeText(joint.movement, units)}` : ''
  const clamps = joint.clamps.map((clamp) => clampText(clamp, units))
  return [`${joint.port}: ${heldText(joint, units)}${moves}`, ...clamps].join('\n')
}

function heldText(joint: JointAnswer, units: PeopleUnits): string {
  const { kind, coupler, gap = 0, offset = 0, angle = 0, insertion } = joint
  if (kind === 'none') return 'no joint named'
  if (kind === 'weld') return 'welded'
  const figures = `gap ${gap < 0 ? atMost(gap, units) : atLeast(gap, units)}, offset ${atLeast(offset, units)}, angle ${angleUp(angle)}`
  if (!insertion) return `${coupler}, ${figures}`
  const { port, pipe, neededPort, neededPipe } = insertion
  const over = (what: string, has: number, needs: number) =>
    `${atMost(has, units)} over the ${what} (needs ${atLeast(needs, units)})`
  return `${coupler}, ${figures}; goes ${over('port', port, neededPort)} and ${over('pipe', pipe, neededPipe)}`
}

function clampText({ on, clamp, closesOn, reach }: JointAnswer['clamps'][number], units: PeopleUnits): string {
  return `${clamp} on the ${on} closes on ${sizeText(closesOn, units)}; ${reachText(reach)}`
}

/** Rolls at which the screw can stand; nothing is rounded outwards. */
export function reachText(reach: JointAnswer['clamps'][number]['reach']): string {
  if (reach === null) return 'what room its tool needs is not told'
  if (reach.length === 0) return 'no tool reaches its screw'
  if (reach.some(([from, to]) => to - from >= 360)) return 'a tool reaches its screw all round'
  const ranges = reach.map(([from, to]) => {
    const [low, high] = [Math.ceil(from - 1e-6), Math.floor(to + 1e-6)]
    return low >= high ? `${Number(from.toFixed(1))}°` : `${low}° to ${high}°`
  })
  return `a tool reaches its screw at rolls of ${listed(ranges)}`
}

/** Hundredths of a degree, rounding of arithmetic apart never less than it is. */
const angleUp = (degrees: number): string => `${Number((Math.ceil(degrees * 100 - 1e-6) / 100).toFixed(2)) + 0}°`
