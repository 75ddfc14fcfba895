import { InvalidArgumentError, Option } from 'commander'
import { leftOutIds } from '../../core/bay/keepOuts.ts'
import type { Candidate } from '../../core/bay/schema.ts'
import { bad, good, type Outcome } from '../../core/fault.ts'
import { formatGap, type PeopleUnits } from '../../core/units/lengthText.ts'
import { type AddCommand, answered, jsonText, refuse } from './command.ts'
import type { Io } from './io.ts'
import * as options from './options.ts'
import { adoptRoutes } from './routeAdopt.ts'
import { routeJson } from './routeJson.ts'
import { type RouteTelling, routeText } from './routeText.ts'
import type { Searcher } from './searches.ts'
import { brokenOff, inFile, type SearchOptions, started, watched } from './searching.ts'

interface RouteOptions extends SearchOptions {
  readonly pipe?: readonly string[]
  readonly routes: number
  readonly bendWeight: number
  readonly lossWeight: number
  readonly anyRadius?: boolean
  readonly take: number
}

export const addRoute: AddCommand = (program, io, ends, search) => {
  program
    .command('route')
    .description('Centrelines for pipes from port to port, that clear everything and can be bent, best first.')
    .argument('<bay>', 'bay file, NAME.bay.json')
    .option('--candidate <id>', 'candidate whose pipes are meant (default: the first of the bay)')
    .addOption(
      new Option('--pipe <ids>', 'pipe to route; several with commas, or all (default: all)').argParser(
        (text: string, before: readonly string[] = []) => [...before, ...text.split(',')],
      ),
    )
    .addOption(new Option('--routes <n>', 'how many different routes').default(5).argParser(readCount(mostRoutes)))
    .addOption(
      new Option('--bend-weight <mm>', 'what a bend counts beside the length').default(100).argParser(readWeight),
    )
    .addOption(
      new Option('--loss-weight <mm>', 'what a unit of the bends’ loss coefficients counts')
        .default(0)
        .argParser(readWeight),
    )
    .option('--any-radius', 'also the other bend radii that the bender has for the diameter')
    .addOption(options.secondsOption())
    .addOption(new Option('--adopt <file>', 'write a copy of the bay with the best route in the pipe, NEW.bay.json'))
    .addOption(new Option('--take <n>', 'adopt this one of the routes').default(1).argParser(readCount(mostRoutes)))
    .addOption(options.forceOption())
    .addOption(options.jsonOption())
    .addOption(options.unitsOption())
    .addHelpText('after', help)
    .action(async (path: string, given: RouteOptions) => ends(await routePipes(path, given, io, search)))
}

const help = `
A route keeps required clearance, uncertainty and tolerance to every keep-out and part, and is one that the bender
can bend: check and bends agree with it. What is proved beside the routes (fewest bends, least length, the widest
passage) holds inside the search box, up to rounding. That the best is the cheapest there is, is not proved.
Several pipes are routed one after the other, each clear of those before it, in more than one order.
Ctrl-C ends the search with the best so far and what is proved of it; once more ends it at once.
`

const mostRoutes = 50
const readCount = (most: number) => (text: string) => {
  if (!/^\d+$/.test(text) || Number(text) < 1 || Number(text) > most)
    throw new InvalidArgumentError(`Expected a whole number from 1 to ${most}.`)
  return Number(text)
}

/** Nothing is a weight too. */
function readWeight(text: string): number {
  return /^0+(\.0+)?$/.test(text) ? 0 : options.readPositiveLength(text)
}

async function routePipes(path: string, given: RouteOptions, io: Io, search: Searcher): Promise<number> {
  const start = await started(path, given)
  if (!start.ok) return refuse(io, start.faults)
  const { bay, candidate, opened, units } = start.value
  const pipes = pipesOf(candidate, given)
  if (!pipes.ok) return refuse(io, pipes.faults)
  const { routes, bendWeight, lossWeight, take } = given
  const radii = given.anyRadius ? 'all' : 'own'
  const request = { routes, bendWeight, lossWeight, radii, pipes: pipes.value } as const
  const ask = { bay, candidate: candidate.id, meshes: opened.meshes, request }
  const wording = (cost: number, bound: number) => progressText(cost, bound, units)
  const found = await watched('route', ask, given.seconds, wording, io, search)
  if (!found) return brokenOff(io)
  const answer = inFile(path, found)
  if (!answer.ok) return refuse(io, answer.faults)
  const taken = await adoptRoutes(start.value, answer.value, take, io)
  if (!taken.ok) return refuse(io, taken.faults)
  const told: RouteTelling = {
    bay,
    candidate,
    answer: answer.value,
    leftOut: leftOutIds(bay),
    taken: taken.value,
    units,
  }
  // What was asked for decides about the form of the answer, and not how many pipes the candidate has.
  const isOne = given.pipe?.length === 1 && given.pipe[0] !== 'all'
  if (given.json) io.out(jsonText(routeJson(told, opened.sha256, isOne)))
  else io.out(routeText(told, io))
  return statusOf(told)
}

/** As in `check`: with something left out for a look nothing is better than unproved. */
function statusOf({ answer, leftOut, taken }: RouteTelling): number {
  if (answer.pipes.some((one) => one.answer.stopped === 'cancelled')) return answered.cancelled
  const found = answer.pipes.every((one) => one.answer.answer === 'found')
  return found && leftOut.length === 0 && taken?.missing !== true ? answered.good : answered.notGood
}

/** Ids of the pipes that are meant; whether there are such pipes, the search says. */
function pipesOf(candidate: Candidate, { pipe: named = [], take, routes }: RouteOptions): Outcome<readonly string[]> {
  const all = (candidate.pipes ?? []).map(({ id }) => id)
  const asked = named.length === 0 || named.includes('all') ? all : [...new Set(named)]
  if (take > routes) return usage('--take', `at most ${routes}, as many as --routes asks for`, String(take))
  if (take > 1 && asked.length > 1) return usage('--take', 'one --pipe beside it', `${asked.length} pipes`)
  return good(asked)
}

const usage = (item: string, expected: string, got: string): Outcome<never> =>
  bad({ code: 'usage-bad-value', item, expected, got })

function progressText(cost: number, bound: number, units: PeopleUnits): string {
  const inHand = Number.isFinite(cost) ? `cost ${formatGap(cost, units)}` : 'none yet'
  return Number.isFinite(bound) && bound > 0 ? `${inHand}, at least ${formatGap(bound, units)}` : inHand
}
