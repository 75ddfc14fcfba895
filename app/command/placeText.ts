import type { Bay, Candidate } from '../../core/bay/schema.ts'
import { candidateParts } from '../../core/bay/parts.ts'
import type { PlaceAnswer, PlaceRequest } from '../../core/largest/place.ts'
import { length, sub, type Vec3 } from '../../core/shape/vec.ts'
import {
  formatGap,
  formatLength,
  formatStep,
  formatUncertainty,
  type PeopleUnits,
} from '../../core/units/lengthText.ts'
import { unroutedOf } from './adopt.ts'
import { adoptedText } from './adoptText.ts'
import { cautions } from '../wording/cautions.ts'
import { coloured, verdictColour, verdictMark } from './colour.ts'
import { type Fact, factsText } from './facts.ts'
import type { Io } from './io.ts'
import { wrapped } from './table.ts'
import {
  degreesText,
  fineWithUnit,
  bracketedName,
  listed,
  moveText,
  placeText as pointText,
  tiltText,
  ways,
} from '../wording/plainWords.ts'

/** The answer of the search, and what is known of it outside. */
export interface Placed extends PlaceAnswer {
  /** Id of the candidate that was placed. */
  readonly of: string
  readonly leftOut: readonly string[]
}

export interface PlaceTelling {
  readonly bay: Bay
  /** The candidate as it stands in the bay. */
  readonly before: Candidate
  readonly told: Placed
  readonly request: Pick<PlaceRequest, 'free' | 'reach' | 'tilt' | 'within'>
  /** File that the answer was adopted into. */
  readonly written: string | null
  readonly units: PeopleUnits
}

/** The best place for people: where to, what is proved of it, what holds it, the cautions. */
export function placeText(telling: PlaceTelling, io: Io): string {
  const { bay, before, told, units } = telling
  const { mark, colour, said } = sayings[sayingOf(told)]
  const head = `${mark} ${said(telling)}`
  const paragraphs = [
    `${bay.name} · candidate ${before.id} (${before.name}) · ${units === 'mm' ? 'mm' : 'inches'}`,
    head,
    factsText(factsOf(telling), io.columns),
    ...noteTexts(telling),
    cautions,
  ].map((text, n) => (n === 2 ? text : wrapped(text, io.columns)))
  const lead = head.slice(0, head.indexOf('.'))
  paragraphs[1] = coloured(lead, colour, io.colour) + paragraphs[1].slice(lead.length)
  return `${paragraphs.join('\n\n')}\n`
}

const sayingOf = ({ answer, leftOut }: Placed) => (answer === 'clears' && leftOut.length > 0 ? 'unproved' : answer)

const atMostText = ({ told, units }: PlaceTelling) => formatUncertainty(told.margin.atMost, units, fineWithUnit(units))

const sayings = {
  clears: {
    mark: verdictMark.clears,
    colour: verdictColour.clears,
    said: (telling: PlaceTelling) =>
      `clears. The best place found for candidate ${telling.told.of}${stoppedText(telling)}.`,
  },
  unproved: {
    mark: verdictMark.unproved,
    colour: verdictColour.unproved,
    said: ({ told }: PlaceTelling) =>
      `unproved. The best place found for candidate ${told.of}, but something was left out, so nothing better can be said.`,
  },
  'none clears': {
    mark: verdictMark.fouls,
    colour: verdictColour.fouls,
    said: (telling: PlaceTelling) =>
      `none clears. Proved: no place within reach gives candidate ${telling.told.of} a margin above ${atMostText(telling)}.`,
  },
  'none found': {
    mark: verdictMark.unproved,
    colour: verdictColour.unproved,
    said: (telling: PlaceTelling) =>
      `none found. No place that clears is known, and that there is none is not proved: up to ${atMostText(telling)} is not excluded${stoppedText(telling)}.`,
  },
} as const

function stoppedText({ told, units }: PlaceTelling): string {
  const open = formatUncertainty(told.margin.atMost - told.margin.atLeast, units, fineWithUnit(units))
  switch (told.stopped) {
    case 'proved':
    case 'none clears':
      return ''
    case 'work':
      return `; the search reached the end of its budget with ${open} still open`
    default:
      return `; stopped ${told.stopped === 'time' ? 'by the clock' : 'by you'} with ${open} still open`
  }
}

function factsOf(telling: PlaceTelling): Fact[] {
  const { bay, before, told, units } = telling
  const shift = sub(told.at, before.at)
  const [tilt, tiltBefore] = [told.turn[1], before.turn[1]].map(tiltText)
  const none = told.answer === 'none clears'
  const pairs = told.holds.map(({ part, keepOut }) => `${part} to ${keepOut}${bracketedName(bay, keepOut)}`)
  const held = [...pairs, ...(none ? [] : endsText(telling, shift))].join('\n')
  return [
    [none ? 'best known' : 'move', exactMove(shift, units) || 'stays where it is'],
    ...(tilt === tiltBefore ? [] : [['tilt', `${tilt}, before ${tiltBefore}`] as const]),
    ['centre', pointText(told.at, units, fineWithUnit(units))],
    ['margin', marginText(telling, shift)],
    ...(held === '' ? [] : [[none ? 'conflict' : 'held by', held] as const]),
    ['searched', rangeText(telling)],
  ]
}

/** Where the search was free to go no farther, so that more might be had beyond. */
function endsText({ before, told, request }: PlaceTelling, shift: Vec3): string[] {
  const { free = { x: true, y: true, z: true }, reach = 100 } = request
  const centre = before.limits?.centre
  return ([0, 1, 2] as const).flatMap((k) => {
    if (!free[(['x', 'y', 'z'] as const)[k]]) return []
    const way = ways[k]
    const [low, high] = [centre?.min[k] ?? -Infinity, centre?.max[k] ?? Infinity]
    const near = (a: number, b: number) => Math.abs(a - b) < 1e-6
    if (near(told.at[k], low)) return [`end of the limits’ region for the centre, ${way[0]}`]
    if (near(told.at[k], high)) return [`end of the limits’ region for the centre, ${way[1]}`]
    if (near(Math.abs(shift[k]), reach)) return [`end of the reach, ${way[shift[k] < 0 ? 0 : 1]}`]
    return []
  })
}

const exactMove = (shift: Vec3, units: PeopleUnits): string => moveText(shift, units, fineWithUnit(units))

/** The margin belongs to the exact place in the JSON answer; one that is set up by the figures shown may have a little less. */
function marginText({ bay, told, units, before }: PlaceTelling, shift: Vec3): string {
  const format = fineWithUnit(units)
  const atLeast = formatGap(told.margin.atLeast, units, format)
  const lost =
    roundingOf(shift, units) + (told.turn[1] === before.turn[1] ? 0 : tiltStepRad * reachOf(bay, told.candidate))
  const asShown = formatGap(told.margin.atLeast - lost, units, format)
  const best =
    told.answer === 'none clears'
      ? ''
      : `; no place within reach has more than ${formatUncertainty(told.margin.atMost, units, format)}`
  return `${atLeast}${asShown === atLeast ? '' : ` (at least ${asShown} with the move as rounded here)`}${best}`
}

/** A margin falls by no more than the part is moved. */
function roundingOf(shift: Vec3, units: PeopleUnits): number {
  const step = formatStep(units, fineWithUnit(units))
  return length(shift.map((x) => x - Math.round(x / step) * step) as unknown as Vec3)
}
/** Half a step of the tilt as shown, rad. */
const tiltStepRad = (0.005 * Math.PI) / 180

/** No point of the candidate's body is farther from its centre, mm. */
function reachOf(bay: Bay, candidate: Candidate): number {
  const made = candidateParts(bay, { ...candidate, pipes: [] })
  if (!made.ok) return 0
  const { at } = candidate
  return Math.max(
    ...made.value.parts.map(({ solid: { bounds } }) =>
      Math.hypot(...at.map((x, k) => Math.max(Math.abs(bounds.max[k] - x), Math.abs(bounds.min[k] - x)))),
    ),
  )
}

function rangeText({ before, request, units }: PlaceTelling): string {
  const { free = { x: true, y: true, z: true }, reach = 100, tilt } = request
  const axes = (['x', 'y', 'z'] as const).filter((axis) => free[axis]).map((axis) => axis.toUpperCase())
  const region = before.limits?.centre ? ', and the centre within its region of the limits' : ''
  const turn =
    tilt && tilt.min < tilt.max
      ? `tilt from ${degreesText(tilt.min)} to ${degreesText(tilt.max)}`
      : `tilt ${degreesText(tilt?.min ?? before.turn[1])}`
  return `along ${listed(axes)}, ${formatLength(reach, units)} each way${region}; ${turn}`
}

function noteTexts({ bay, told, written }: PlaceTelling): string[] {
  const notes: string[] = []
  if (told.leftOut.length > 0) notes.push(`Left out for a look, and not held against it: ${listed(told.leftOut)}.`)
  const unrouted = unroutedOf(bay, told.candidate)
  if (written !== null) notes.push(adoptedText(written, told.candidate, unrouted))
  else if (unrouted.length > 0)
    notes.push(`Not part of the search: ${listed(unrouted.map((id) => `pipe ${id}`))}. A route has to be found anew.`)
  return notes
}
