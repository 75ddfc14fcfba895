import type { Bay, Candidate } from '../../core/bay/schema.ts'
import type { Route, RouteAllAnswer, RouteAnswer, RouteRequest } from '../../core/pipe/route/answer.ts'
import { formatGap, formatLength, type PeopleUnits } from '../../core/units/lengthText.ts'
import {
  cheapestText,
  closedText,
  fewestBendsText,
  lengthText,
  minimisedText,
  noneText,
  obstacleName,
  passageText,
  passesText,
} from '../wording/routeWords.ts'
import { cautions } from '../wording/cautions.ts'
import { type Colour, coloured, verdictColour, verdictMark } from './colour.ts'
import { type Fact, factsText } from './facts.ts'
import type { Io } from './io.ts'
import type { Taken } from './routeAdopt.ts'
import { wrapped } from './table.ts'
import { counted, fine, fineWithUnit, listed, placeText } from '../wording/plainWords.ts'

export interface RouteTelling {
  readonly bay: Bay
  readonly candidate: Candidate
  readonly answer: RouteAllAnswer
  readonly leftOut: readonly string[]
  /** What was adopted; null where nobody asked. */
  readonly taken: Taken | null
  /** Which bend radii were tried. */
  readonly radii?: RouteRequest['radii']
  readonly units: PeopleUnits
}

/** Routes for people: of each pipe what was found, each route, what is proved beside it and what is not. */
export function routeText(telling: RouteTelling, io: Io): string {
  const { bay, candidate, answer, units } = telling
  const paragraphs = [
    wrapped(
      `${bay.name} · candidate ${candidate.id} (${candidate.name}) · ${units === 'mm' ? 'mm' : 'inches'}`,
      io.columns,
    ),
    ...answer.pipes.flatMap((one) => pipeTexts(telling, one.pipe, one.answer, io)),
    ...noteTexts(telling).map((note) => wrapped(note, io.columns)),
    wrapped(cautions, io.columns),
  ]
  return `${paragraphs.join('\n\n')}\n`
}

function pipeTexts(telling: RouteTelling, id: string, answer: RouteAnswer, io: Io): string[] {
  const { candidate, units } = telling
  const pipe = candidate.pipes?.find((one) => one.id === id)
  const size = pipe
    ? ` (${pipe.name}), ${formatLength(pipe.outsideDiameter, units)} outside, from ${pipe.from} to ${pipe.to}`
    : ''
  return [
    wrapped(`Pipe ${id}${size}`, io.columns),
    headText(telling, answer, io),
    ...answer.routes.map((route, n) => `Route ${n + 1}\n${factsText(routeFacts(telling, route), factColumns(io))}`),
    factsText(knownFacts(telling, answer), factColumns(io)),
  ]
}

/** As wide as paragraphs are at most. */
const factColumns = ({ columns }: Io): number => Math.min(columns ?? 100, 100)

function headText(telling: RouteTelling, answer: RouteAnswer, io: Io): string {
  const { bay, candidate, units } = telling
  const saying: [mark: string, colour: Colour, lead: string, rest: string] =
    answer.routes.length > 0
      ? [verdictMark.clears, verdictColour.clears, 'found', foundText(answer)]
      : answer.answer === 'closed'
        ? [verdictMark.fouls, verdictColour.fouls, 'closed', closedText(bay, candidate.id, answer, units)]
        : [verdictMark.unproved, verdictColour.unproved, answer.answer, noneText(answer, units)]
  const [mark, colour, word, rest] = saying
  const lead = `${mark} ${word}.`
  return coloured(lead, colour, io.colour) + wrapped(`${lead} ${rest}`, io.columns).slice(lead.length)
}

function foundText({ routes, stopped }: RouteAnswer): string {
  const how = stopped === 'done' ? '' : `, before ${stopped === 'time' ? 'the clock' : 'you'} stopped the search`
  return `${counted(routes.length, 'route')}${how}${routes.length > 1 ? ', best first' : ''}.`
}

function routeFacts({ bay, candidate, units }: RouteTelling, route: Route): Fact[] {
  const { bends, bendRadius, length, cost, least, path } = route
  const turns = bends === 0 ? 'no bends' : `${counted(bends, 'bend')} of radius ${formatLength(bendRadius, units)}`
  return [
    ['bends', `${turns}, ${formatLength(length, units)} long, cost ${formatLength(cost, units)}`],
    ['margin', marginText(bay, candidate.id, least, units)],
    ['passes', passesText(bay, candidate.id, route, units)],
    [
      'corners',
      path.length === 0 ? 'none: straight from port to port' : path.map((p) => pointText(p, units)).join('\n'),
    ],
  ]
}

function marginText(
  bay: Bay,
  candidateId: string,
  { margin, keepOut, at }: Route['least'],
  units: PeopleUnits,
): string {
  if (margin === Infinity) return 'to nothing: nothing stands near any of it'
  const where = at ? `, at ${placeText(at, units)}` : ''
  return `${formatGap(margin, units, fineWithUnit(units))} at least, to ${obstacleName(bay, candidateId, keepOut)}${where}`
}

/** A corner as it stands in the bay file: X, Y, Z. */
const pointText = (point: Route['path'][number], units: PeopleUnits): string =>
  point.map((x) => formatLength(x, units, fine(units))).join(', ')

/** What is proved beside the routes, what is not, and what was made as small as could be. */
function knownFacts({ bay, candidate, radii, units }: RouteTelling, answer: RouteAnswer): Fact[] {
  const { proved, routes } = answer
  // Where an end is too near to something, it matters no more how wide the way between would be.
  const isTold = answer.answer !== 'closed' || (proved.passage?.spareAtMost ?? 0) < 0
  const facts: [string, string | null][] = [
    ['proved', fewestBendsText(proved, routes[0], radii)],
    ['', answer.answer === 'closed' ? null : lengthText(proved, routes[0], units)],
    ['', isTold ? widestText(passageText(bay, candidate.id, proved, units), proved.passage?.at, units) : null],
    ['not proved', routes.length > 0 ? cheapestText(answer, units) : null],
    ['minimised', minimisedText(answer, units)],
  ]
  const told = facts.filter((fact): fact is [string, string] => fact[1] !== null)
  const [first, ...rest] = told
  return first[0] === '' ? [['proved', first[1]], ...rest] : told
}

const widestText = (passage: string | null, at: Route['path'][number] | undefined, units: PeopleUnits): string | null =>
  passage && `widest passage for this tube: ${passage}${at ? `, at ${placeText(at, units)}` : ''}`

function noteTexts({ answer, candidate, bay, leftOut, taken, units }: RouteTelling): string[] {
  const notes: string[] = []
  if (answer.pipes.some((one) => one.answer.routes.some(({ path }) => path.length > 0)))
    notes.push('Corners are rounded here; --json and --adopt have them in full, and the margins belong to those.')
  if (answer.tried.length > 1) notes.push(ordersText(answer, units))
  if (leftOut.length > 0) notes.push(`Left out for a look, and not held against any route: ${listed(leftOut)}.`)
  if (taken?.file) {
    const pipes = listed(taken.pipes.map(({ pipe, route }) => `pipe ${pipe} takes route ${route}`))
    const first = bay.candidates[0].id === candidate.id ? '' : `, which is meant with --candidate ${candidate.id}`
    notes.push(`Wrote ${taken.file}: in candidate ${candidate.id}${first}, ${pipes}.`)
  }
  return notes
}

/** The order that was taken, and what the others came to. */
function ordersText({ order, tried }: RouteAllAnswer, units: PeopleUnits): string {
  const said = ({ order: pipes, found, cost }: RouteAllAnswer['tried'][number]) =>
    `${listed(pipes)}: ${found} of ${pipes.length} found, at a cost of ${formatLength(cost, units)} in all`
  const isTaken = (one: RouteAllAnswer['tried'][number]) => one.order.join() === order.join()
  const others = tried.filter((one) => !isTaken(one))
  const taken = tried.filter(isTaken)
  return `Routed in the order ${taken.map(said).join('; ')}. In the other order, ${others.map(said).join('; ')}.`
}
