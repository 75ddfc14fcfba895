import { fineWithUnit } from '../wording/plainWords.ts'
import { Option } from 'commander'
import { leftOutIds } from '../../core/bay/keepOuts.ts'
import type { Bay } from '../../core/bay/schema.ts'
import { formatGap, formatUncertainty, type PeopleUnits } from '../../core/units/lengthText.ts'
import { renamed, unroutedOf } from './adopt.ts'
import { type AddCommand, answered, jsonText, refuse } from './command.ts'
import type { Io } from './io.ts'
import * as options from './options.ts'
import { type Placed, placeText } from './placeText.ts'
import type { Searcher } from './searches.ts'
import { adopted, brokenOff, inFile, type SearchOptions, started, watched } from './searching.ts'

interface PlaceOptions extends SearchOptions {
  readonly free?: options.Axes
  readonly tilt?: options.Range
  readonly reach: number
  readonly within: number
}

export const addPlace: AddCommand = (program, io, ends, search) => {
  program
    .command('place')
    .description('The best place for a candidate of fixed size: where its least margin is greatest, with proof.')
    .argument('<bay>', 'bay file, NAME.bay.json')
    .option('--candidate <id>', 'candidate to place (default: the first of the bay)')
    .addOption(new Option('--free <axes>', 'axes along which it may move (default: xyz)').argParser(options.readFree))
    .addOption(options.tiltOption())
    .addOption(
      new Option('--reach <mm>', 'how far it may move each way').default(100).argParser(options.readPositiveLength),
    )
    .addOption(
      new Option('--within <mm>', 'how near to the best possible margin')
        .default(0.1)
        .argParser(options.readPositiveLength),
    )
    .addOption(options.secondsOption())
    .addOption(options.adoptOption())
    .addOption(options.forceOption())
    .addOption(options.jsonOption())
    .addOption(options.unitsOption())
    .addHelpText('after', help)
    .action(async (path: string, given: PlaceOptions) => ends(await placeCandidate(path, given, io, search)))
}

const help = `
margin = gap − error − allowances − required, of the pair that has least; core, tanks and stubs count. Pipes
stand in the bay and do not move along: they come back without a path. The limits' region for the core's centre
holds too. Where no place clears, that is proved, and the keep-outs that ask too much together are named.
Ctrl-C ends the search with the best so far and what is proved of it; once more ends it at once.
`

async function placeCandidate(path: string, given: PlaceOptions, io: Io, search: Searcher): Promise<number> {
  const start = await started(path, given)
  if (!start.ok) return refuse(io, start.faults)
  const { bay, candidate, opened, units } = start.value
  const { free, reach, within } = given
  const request = { free, reach, within, tilt: given.tilt ?? candidate.limits?.tilt }
  const wording = (margin: number, bound: number) => progressText(margin, bound, units)
  const ask = { bay, candidate: candidate.id, meshes: opened.meshes, request }
  const found = await watched('place', ask, given.seconds, wording, io, search)
  if (!found) return brokenOff(io)
  const answer = inFile(path, found)
  if (!answer.ok) return refuse(io, answer.faults)
  const told: Placed = {
    ...answer.value,
    of: candidate.id,
    candidate: renamed(bay, answer.value.candidate, 'placed'),
    leftOut: leftOutIds(bay),
  }
  const written = await adopted(start.value, told.answer === 'clears' ? told.candidate : null, io)
  if (!written.ok) return refuse(io, written.faults)
  if (given.json) io.out(jsonText(placeJson(bay, opened.sha256, told, written.value)))
  else io.out(placeText({ bay, before: candidate, told, request, written: written.value, units }, io))
  return statusOf(told)
}

/** As in `check`: with something left out for a look nothing is better than unproved. */
function statusOf({ answer, leftOut, stopped }: Placed): number {
  if (stopped === 'cancelled') return answered.cancelled
  return answer === 'clears' && leftOut.length === 0 ? answered.good : answered.notGood
}

function placeJson(bay: Bay, sha256: string, told: Placed, written: string | null) {
  const { of, answer, at, turn, margin, stopped, holds, candidate, leftOut } = told
  return {
    command: 'place',
    bay: { name: bay.name, sha256 },
    of,
    answer: answer === 'clears' && leftOut.length > 0 ? 'unproved' : answer,
    at,
    turn,
    margin,
    stopped: stopped === 'none clears' ? 'proved' : stopped,
    holds,
    candidate,
    leftOut,
    unrouted: unroutedOf(bay, candidate),
    ...(written !== null && { adopted: { file: written, candidate: candidate.id } }),
  }
}

const progressText = (margin: number, bound: number, units: PeopleUnits): string =>
  `margin ${formatGap(margin, units, fineWithUnit(units))}, at most ${formatUncertainty(bound, units, fineWithUnit(units))}`
