import { readFile } from 'node:fs/promises'
import { Option } from 'commander'
import { bad, type Outcome } from '../../core/fault.ts'
import type { Candidate } from '../../core/bay/schema.ts'
import type { SeatAnswer, SeatPath } from '../../core/seat/answer.ts'
import { gripsOfPath } from '../../core/seat/grips.ts'
import { judgeMounts, type MountsJudged } from '../../core/seat/mountsJudged.ts'
import { readMoves } from '../../core/seat/readMoves.ts'
import { formatGap, type PeopleUnits } from '../../core/units/lengthText.ts'
import { moveWords } from '../wording/seatWords.ts'
import { type AddCommand, answered, jsonText, refuse } from './command.ts'
import type { Io } from './io.ts'
import * as options from './options.ts'
import type { Searcher } from './searches.ts'
import { brokenOff, inFile, type SearchOptions, type Start, started, watched } from './searching.ts'
import { seatText } from './seatText.ts'

interface SeatOptions extends SearchOptions {
  readonly need?: number
  readonly moves?: string
}

export const addSeat: AddCommand = (program, io, ends, search) => {
  program
    .command('seat')
    .description(
      'Whether a candidate can be offered up past all that stays: a proved path, in words, or how near it is.',
    )
    .argument('<bay>', 'bay file, NAME.bay.json')
    .option('--candidate <id>', 'candidate to offer up (default: the first of the bay)')
    .addOption(
      new Option('--need <mm>', 'clearance wanted on the way (default: 3 mm, or a keep-out’s own if less)').argParser(
        options.readPositiveLength,
      ),
    )
    .option('--moves <file>', 'proves or refutes a path of your own: {"start", "moves"} as --json gives it')
    .addOption(options.secondsOption())
    .addOption(options.jsonOption())
    .addOption(options.unitsOption())
    .addHelpText('after', help)
    .action(async (path: string, given: SeatOptions) => ends(await seatCandidate(path, given, io, search)))
}

const help = `
What comes off (fitting "comes-off") is taken off; crash structure and lamps always stay. The whole continuous motion
is proved, with exactly the moves that are printed. No path found is no proof that there is none, unless it says closed.
Ctrl-C ends the search with the best so far; once more ends it at once.
`

async function seatCandidate(path: string, given: SeatOptions, io: Io, search: Searcher): Promise<number> {
  const own = given.moves === undefined ? null : await movesIn(given.moves)
  if (own && !own.ok) return refuse(io, own.faults)
  const start = await started(path, given)
  if (!start.ok) return refuse(io, start.faults)
  const { bay, candidate, opened, units } = start.value
  const request = { ...(given.need !== undefined && { need: given.need }), ...(own && { moves: own.value }) }
  const wording = (margin: number, share: number) => progressText(margin, share, units)
  const ask = { bay, candidate: candidate.id, meshes: opened.meshes, request }
  const found = await watched('seat', ask, given.seconds, wording, io, search)
  if (!found) return brokenOff(io)
  const answer = inFile(own && given.moves !== undefined ? given.moves : path, found)
  if (!answer.ok) return refuse(io, answer.faults)
  const mounts = inFile(path, judgeMounts(bay, candidate, opened.meshes))
  if (!mounts.ok) return refuse(io, mounts.faults)
  if (given.json) io.out(jsonText(seatJson(start.value, answer.value, mounts.value)))
  else io.out(seatText({ bay, candidate, answer: answer.value, mounts: mounts.value, own: own !== null, units }, io))
  return statusOf(answer.value, mounts.value)
}

async function movesIn(file: string): Promise<Outcome<SeatPath>> {
  try {
    return readMoves(await readFile(file, 'utf8'), file)
  } catch {
    return bad({ code: 'file-unreadable', file, expected: 'a file that can be read' })
  }
}

/** A way in alone is not good where the part could not be fixed at its end. */
function statusOf({ answer, stopped }: SeatAnswer, { verdict, reached }: MountsJudged): number {
  if (stopped === 'cancelled') return answered.cancelled
  const isFixed = reached && (verdict === null || verdict === 'goes on')
  return answer === 'proved' && isFixed ? answered.good : answered.notGood
}

function seatJson({ bay, candidate: { core }, opened }: Start, told: SeatAnswer, mounts: MountsJudged) {
  const { answer, candidate, path, fewest, ...rest } = told
  return {
    command: 'seat',
    bay: { name: bay.name, sha256: opened.sha256 },
    candidate,
    answer,
    ...(path ? { ...pathJson(path, core), least: path.least } : { start: null, moves: [], least: null }),
    ...(fewest && { fewest: { ...pathJson(fewest, core), least: fewest.least } }),
    ...rest,
    mounts: mounts.mounts,
  }
}

/** A path as `--moves` reads it, with each move's words. */
export function pathJson({ start, moves }: SeatPath, core: Candidate['core']) {
  const grips = gripsOfPath({ start, moves }, core)
  return { start, moves: moves.map((move, n) => ({ ...move, words: moveWords(move, grips[n], 'mm') })) }
}

function progressText(margin: number, share: number, units: PeopleUnits): string {
  const found = Number.isFinite(margin) ? `a path with ${formatGap(margin, units)} to spare` : 'no path yet'
  return `${found}, ${Math.round(100 * share)} % of the work done`
}
