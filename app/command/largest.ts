import { type Command, Option } from 'commander'
import { leftOutIds } from '../../core/bay/keepOuts.ts'
import type { Fault } from '../../core/fault.ts'
import type { DepthRow, LargestAnswer, NothingFits } from '../../core/largest/largest.ts'
import { renamed, unroutedOf } from './adopt.ts'
import { type Aim, amountText } from '../wording/amounts.ts'
import { type AddCommand, answered, jsonText, refuse } from './command.ts'
import type { Io } from './io.ts'
import type { LargestOptions } from './largestOptions.ts'
import { depthsText, type LargestTelling, largestText } from './largestText.ts'
import * as options from './options.ts'
import { largestThatComesIn } from './seated.ts'
import type { Searcher } from './searches.ts'
import { adopted, brokenOff, inFile, type Start, started, watched } from './searching.ts'

export const addLargest: AddCommand = (program, io, ends, search) => {
  program
    .command('largest')
    .description('The largest core that goes in with its tanks and stubs, how near the best it is, and what holds it.')
    .argument('<bay>', 'bay file, NAME.bay.json')
    .option('--candidate <id>', 'candidate whose tanks and limits are meant (default: the first of the bay)')
    .addOption(
      new Option('--for <aim>', 'what is made as large as can be').choices(['volume', 'face']).default('volume'),
    )
    .addOption(
      new Option('--within <share>', 'how near to the best possible: 0.005 or 0.5%')
        .default(0.005)
        .argParser(options.readShare),
    )
    .addOption(options.secondsOption())
    .addOption(
      new Option('--each-depth', 'a table: for every stock depth the largest face').conflicts(['adopt', 'for']),
    )
    .addOption(new Option('--seated', 'the largest that can also be offered up, with its moves').conflicts('eachDepth'))
    .addOption(
      new Option(
        '--need <mm>',
        'with --seated: clearance wanted on the way (default: 3 mm, or a keep-out’s own if less)',
      )
        .argParser(options.readPositiveLength)
        .conflicts('eachDepth'),
    )
    .addOption(options.tiltOption())
    .addOption(
      new Option('--within-box <x,y,z..x,y,z>', 'a box in the bay that the core has to stay in, mm').argParser(
        options.readBox,
      ),
    )
    .addOption(options.adoptOption())
    .addOption(options.forceOption())
    .addOption(options.jsonOption())
    .addOption(options.unitsOption())
    .addHelpText('after', help)
    .action(async (path: string, given: LargestOptions, command: Command) => {
      if (given.need !== undefined && !given.seated)
        command.error("error: option '--need <mm>' is of use only with '--seated': it is wanted on the way in")
      ends(await largestCore(path, given, io, search))
    })
}

const help = `
Core, tanks and stubs keep required clearance, uncertainty and tolerance to every keep-out; pipes come back
without a path. The candidate's limits say what can be had: least and greatest sizes, stock, rows, tilt, the
region for the core's centre. A direction without an end is refused unless --within-box gives one.
With --seated the core can also be offered up past all that stays, by the moves that are printed and proved;
what is proved of the seat alone, what of that way, and what is not proved, are told apart.
Ctrl-C ends the search with the best so far and its bound; once more ends it at once.
`

async function largestCore(path: string, given: LargestOptions, io: Io, search: Searcher): Promise<number> {
  const start = await started(path, given)
  if (!start.ok) return refuse(io, start.faults)
  if (given.seated)
    return largestThatComesIn(path, start.value, given, io, search, (faults) => refuseLimits(io, faults))
  return given.eachDepth ? eachDepth(path, start.value, given, io, search) : one(path, start.value, given, io, search)
}

async function one(path: string, start: Start, given: LargestOptions, io: Io, search: Searcher): Promise<number> {
  const { bay } = start
  const wording = progressWording(given.for, start)
  const found = await watched('largest', askOf(start, given), given.seconds, wording, io, search)
  if (!found) return brokenOff(io)
  const outcome = inFile(path, found)
  if (!outcome.ok) return refuseLimits(io, outcome.faults)
  const answer: LargestAnswer | NothingFits =
    outcome.value.answer === 'found'
      ? { ...outcome.value, candidate: renamed(bay, outcome.value.candidate, 'largest') }
      : outcome.value
  const written = await adopted(start, answer.answer === 'found' ? answer.candidate : null, io)
  if (!written.ok) return refuse(io, written.faults)
  const telling = tellingOf(start, given.for, written.value)
  if (given.json) io.out(jsonText({ ...headOf(start), for: given.for, ...answerJson(telling, answer) }))
  else io.out(largestText(telling, answer, io))
  return statusOf(telling, [answer])
}

async function eachDepth(path: string, start: Start, given: LargestOptions, io: Io, search: Searcher): Promise<number> {
  const wording = progressWording('face', start)
  const found = await watched('depths', askOf(start, given), given.seconds, wording, io, search)
  if (!found) return brokenOff(io)
  const rows = inFile(path, found)
  if (!rows.ok) return refuseLimits(io, rows.faults)
  const telling = tellingOf(start, 'face', null)
  if (given.json)
    io.out(
      jsonText({
        ...headOf(start),
        for: 'face',
        depths: rows.value.map((row) => depthJson(telling, row)),
        leftOut: telling.leftOut,
      }),
    )
  else io.out(depthsText(telling, rows.value, io))
  return statusOf(
    telling,
    rows.value.map(({ answer }) => answer),
  )
}

/** What can be said on the command line need not be written into the bay. */
function refuseLimits(io: Io, faults: readonly Fault[]): number {
  const status = refuse(io, faults)
  if (faults.some(({ code }) => code === 'unlimited-direction'))
    io.err('Give the limits in the bay, or a box here: --within-box x,y,z..x,y,z\n')
  return status
}

const askOf = ({ bay, candidate, opened }: Start, { for: aim, within, tilt, withinBox }: LargestOptions) => ({
  bay,
  candidate: candidate.id,
  meshes: opened.meshes,
  request: { for: aim, within, tilt, withinBox },
})

const tellingOf = ({ bay, candidate, units }: Start, aim: Aim, written: string | null): LargestTelling => ({
  bay,
  before: candidate,
  aim,
  leftOut: leftOutIds(bay),
  written,
  units,
})

/** One core, or one of the depths, is good news; with something left out for a look nothing is better than unproved. */
function statusOf({ leftOut }: LargestTelling, answers: readonly (LargestAnswer | NothingFits)[]): number {
  if (answers.some(({ stopped }) => stopped === 'cancelled')) return answered.cancelled
  const found = answers.some(({ answer }) => answer === 'found')
  return found && leftOut.length === 0 ? answered.good : answered.notGood
}

const headOf = ({ bay, candidate, opened }: Start) => ({
  command: 'largest',
  bay: { name: bay.name, sha256: opened.sha256 },
  of: candidate.id,
})

/** JSON has no infinity: a bound that is not there yet is null. */
const bounded = (bound: number): number | null => (Number.isFinite(bound) ? bound : null)

function answerJson({ bay, leftOut, written }: LargestTelling, answer: LargestAnswer | NothingFits) {
  if (answer.answer !== 'found') return { ...answer, upperBound: bounded(answer.upperBound), leftOut }
  const { candidate, ...rest } = answer
  return {
    ...rest,
    candidate,
    leftOut,
    unrouted: unroutedOf(bay, candidate),
    ...(written !== null && { adopted: { file: written, candidate: candidate.id } }),
  }
}

/** A row has what its own search answered; the candidate is left out, since `largest` gives it for the depth that is chosen. */
function depthJson(telling: LargestTelling, { depth, face, volume, answer }: DepthRow) {
  const { leftOut: _, ...rest } = answerJson(telling, answer)
  return { depth, face, volume, ...rest }
}

const progressWording =
  (aim: Aim, { units }: Start) =>
  (value: number, bound: number): string => {
    const inHand = value > 0 ? amountText(value, aim, units, 'down') : 'none yet'
    return Number.isFinite(bound) ? `${inHand}, at most ${amountText(bound, aim, units, 'up')}` : inHand
  }
