import type { Bay } from '../../core/bay/schema.ts'
import type { Passage, PassSide, Route, RouteAnswer, RouteRequest } from '../../core/pipe/route/answer.ts'
import { formatGap, formatUncertainty, type LengthFormat, type PeopleUnits } from '../../core/units/lengthText.ts'
import { called } from './called.ts'
import { reasonText } from './reasonWords.ts'

/** What a route is and what is known beside it, in the same words on the command line and in the window. */

const sideWords: Record<PassSide, string> = {
  front: 'in front of',
  behind: 'behind',
  left: 'left of',
  right: 'right of',
  below: 'below',
  above: 'above',
}

/** A keep-out by its name, its mirror image said to be one; a part as `tank left`, a pipe by its name. */
export function obstacleName(bay: Bay, candidateId: string, id: string): string {
  const own = bay.keepOuts.find((keepOut) => keepOut.id === id)
  if (own) return own.name
  const source = bay.keepOuts.find((keepOut) => keepOut.mirror && `${keepOut.id}-mirror` === id)
  if (source) return `${source.name}, mirrored`
  const candidate = bay.candidates.find((one) => one.id === candidateId)
  const pipe = candidate?.pipes?.find((one) => `pipe-${one.id}` === id)
  return pipe ? called('pipe', pipe.name) : id.replaceAll('-', ' ')
}

/** What is told of a route's way; the answer has them all. */
const mostTold = 6
/** Small things that belong to a pipe or a port which is told of itself. */
const isSmall = (id: string): boolean => /^(clamp|coupler|stub)-/.test(id)

/** `below Tow-eye socket (12.4 mm), left of Crash can (20.1 mm)`: where it leads, nearest first, gaps rounded down. */
export function passesText(bay: Bay, candidateId: string, { passes }: Pick<Route, 'passes'>, units: PeopleUnits) {
  const told = passes.filter(({ keepOut }) => !isSmall(keepOut)).slice(0, mostTold)
  if (told.length === 0) return 'past nothing that is near'
  return told
    .map(({ keepOut, side, gap }) => {
      const name = obstacleName(bay, candidateId, keepOut)
      return `${sideWords[side]} ${name} (${formatGap(gap, units, { passDust: true })})`
    })
    .join(', ')
}

/** Two names with `and`; more with commas. */
const joined = (names: readonly string[]): string =>
  names.length < 2 ? names.join('') : `${names.slice(0, -1).join(', ')} and ${names[names.length - 1]}`

const betweenText = (bay: Bay, candidateId: string, { between }: Pick<Passage, 'between'>): string =>
  joined(between.map((id) => obstacleName(bay, candidateId, id)))

const fine = (units: PeopleUnits): LengthFormat => (units === 'mm' ? { decimals: 2 } : { fraction: 64 })

/** That nothing gets through, by which and how much; `closed` answers only. */
export function closedText(
  bay: Bay,
  candidateId: string,
  { closedBy }: Pick<RouteAnswer, 'closedBy'>,
  units: PeopleUnits,
) {
  const proved = `proved${closedBy?.everywhere ? '' : ' inside the search box'}`
  const said = `No tube of this diameter gets through with the clearances asked for, whatever its bends: ${proved}`
  if (!closedBy) return `${said}.`
  const { between, shortBy } = closedBy
  const short = `at least ${formatGap(shortBy, units, fine(units))} short`
  if (between.length === 1) {
    const name = obstacleName(bay, candidateId, between[0])
    return `${said}, closed by ${name}, ${short} at one of its ends or beside it.`
  }
  return `${said}, closed by ${betweenText(bay, candidateId, closedBy)}, ${short} on each side.`
}

/** That none was found, and what that does not mean; `none found` and `cancelled` answers. */
export function noneText(
  { proved, refused, tried, stopped }: Pick<RouteAnswer, 'proved' | 'refused' | 'tried' | 'stopped'>,
  units: PeopleUnits,
) {
  if (refused && tried === 0) return `Not looked for. ${reasonText(refused, units)}`
  const spare = proved.passage?.spareAtLeast ?? -Infinity
  const why = stopped === 'done' ? '' : stopped === 'time' ? ' before the clock stopped it' : ' before it was stopped'
  const starts = `in ${tried} ${tried === 1 ? 'start' : 'starts'}${why}`
  const open =
    spare >= 0
      ? `A passage is open (${formatGap(spare, units, fine(units))} to spare on each side), but no sequence of bends was found ${starts}.`
      : `No sequence of bends was found ${starts}, nor a passage that is proved to be open.`
  return `${open} That there is none is not proved.`
}

/** What no route costs less than: bounds of its length and its bends together, mm. */
export const costAtLeast = ({ proved, weights }: Pick<RouteAnswer, 'proved' | 'weights'>): number =>
  proved.lengthAtLeast + weights.bend * proved.fewestBends

/** How far the best may be from the best there is. */
export function cheapestText(answer: RouteAnswer, units: PeopleUnits): string {
  const { routes, tried } = answer
  const bound = costAtLeast(answer)
  const [best] = routes
  const of = `The cheapest of ${routes.length} ${routes.length === 1 ? 'route' : 'routes'} from ${tried} ${tried === 1 ? 'start' : 'starts'}`
  const below = best ? Math.ceil(1000 * Math.max(0, 1 - bound / best.cost)) / 10 : 0
  if (best && best.cost - bound <= 1e-6) return `${of}, and proved to be the cheapest there is.`
  return `${of}; a cheaper one may exist: none below ${formatGap(bound, units)} is possible, ${below} % less.`
}

/** How many bends it takes at the least; null where nothing is excluded. */
export function fewestBendsText(
  { fewestBends }: RouteAnswer['proved'],
  best: Route | undefined,
  radii: RouteRequest['radii'] = 'own',
): string | null {
  if (fewestBends === 0) return null
  const bends = `${fewestBends} ${fewestBends === 1 ? 'bend' : 'bends'}`
  const met = best?.bends === fewestBends ? ', as the best route has' : ''
  const what = radii === 'own' ? 'of this radius' : 'of any radius that was tried'
  return `fewer than ${bends} ${what} is impossible inside the search box${met}`
}

/** What no route is shorter than, and how near the best one is to it. */
export function lengthText(
  { lengthAtLeast }: RouteAnswer['proved'],
  best: Route | undefined,
  units: PeopleUnits,
): string {
  const share =
    best && best.length > 0 ? `, ${Math.floor((100 * lengthAtLeast) / best.length)} % of the best route’s length` : ''
  return `no route is shorter than ${formatGap(lengthAtLeast, units)}${share}`
}

/** How wide the widest way through is for this tube and where; null where it was not looked for. */
export function passageText(bay: Bay, candidateId: string, { passage }: RouteAnswer['proved'], units: PeopleUnits) {
  if (!passage) return null
  const { spareAtLeast, spareAtMost, between } = passage
  const by =
    between.length > 0
      ? `${between.length > 1 ? ', between ' : ', beside '}${betweenText(bay, candidateId, passage)}`
      : ''
  const least = formatGap(spareAtLeast, units, fine(units))
  const most = formatUncertainty(spareAtMost, units, fine(units))
  if (!Number.isFinite(spareAtMost)) return `at least ${least} to spare on each side${by}`
  if (spareAtMost < 0) return `at least ${formatGap(-spareAtMost, units, fine(units))} too narrow on each side${by}`
  if (!Number.isFinite(spareAtLeast)) return `at most ${most} to spare on each side${by}`
  return `${least} to ${most} to spare on each side${by}`
}

/** What was made as small as could be. */
export function minimisedText({ weights }: Pick<RouteAnswer, 'weights'>, units: PeopleUnits): string {
  const loss =
    weights.loss > 0 ? `, and ${formatUncertainty(weights.loss, units)} for each unit of loss coefficient` : ''
  return `developed length and ${formatUncertainty(weights.bend, units)} for each bend${loss}`
}
