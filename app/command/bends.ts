import { Option } from 'commander'
import type { Bay, Candidate, Pipe } from '../../core/bay/schema.ts'
import type { BendsAnswer } from '../../core/pipe/answer.ts'
import { bends } from '../../core/pipe/bends.ts'
import { bendingOf } from '../../core/pipe/makeable.ts'
import { candidateOf } from '../../core/verdict/ledger.ts'
import { openBay } from '../files/bayFolder.ts'
import { bendTableCsv } from './bendTableCsv.ts'
import type { Sense } from '../wording/bendTables.ts'
import { pointsOfTable } from './bendsFromTable.ts'
import type { BendsOptions } from './bendsOptions.ts'
import { bendsText } from './bendsText.ts'
import { type AddCommand, answered, jsonText, refuse } from './command.ts'
import type { Io } from './io.ts'
import * as options from './options.ts'
import { inFile } from './searching.ts'

export const addBends: AddCommand = (program, io, ends) => {
  program
    .command('bends')
    .description('Bend tables, cut lengths and joints of a candidate’s pipes, and every reason why one cannot be made.')
    .argument('<bay>', 'bay file, NAME.bay.json')
    .option('--candidate <id>', 'candidate whose pipes are meant (default: the first of the bay)')
    .option('--pipe <id>', 'this pipe alone')
    .option('--from-end', 'tables from the pipe’s end (its `to`) instead of its beginning')
    .addOption(new Option('--csv', 'print the tables as CSV (RFC 4180) and nothing else').conflicts('json'))
    .option('--from-table <file>', 'the other way: read a bend table (CSV), print the corner points of --pipe by it')
    .option('--adopt <file>', 'with --from-table: write a copy of the bay with the pipe by that table, NEW.bay.json')
    .addOption(options.forceOption())
    .addOption(options.jsonOption())
    .addOption(options.unitsOption())
    .addHelpText('after', help)
    .action(async (path: string, given: BendsOptions) => ends(await bendPipes(path, given, io)))
}

const help = `
Rotation is the turn of the tube about its feed since the bend before: right-hand positive in --json, and in tables
the way the bender counts it, which is said there. A table that is read is told apart by its separator (comma,
semicolon, tab); beside other separators numbers may have decimal commas. Its columns are length, rotation, angle
and radius, with units in the head ("length mm", "radius in", "rotation left-hand"; without: mm and right-hand); a
last row has the last straight alone.
`

async function bendPipes(path: string, given: BendsOptions, io: Io): Promise<number> {
  const wrong = misuse(given)
  if (wrong) return refuse(io, [wrong])
  const opened = await openBay(path)
  if (!opened.ok) return refuse(io, opened.faults)
  if (given.fromTable !== undefined) return pointsOfTable(path, opened.value, given.fromTable, given, io)
  const { bay, meshes, sha256 } = opened.value
  const candidate = inFile(path, candidateOf(bay, given.candidate))
  if (!candidate.ok) return refuse(io, candidate.faults)
  const made = inFile(path, bends(bay, given.candidate, meshes, { pipe: given.pipe }))
  if (!made.ok) return refuse(io, made.faults)
  io.out(told(bay, candidate.value, made.value, sha256, given, io))
  return made.value.answer === 'makeable' ? answered.good : answered.notGood
}

function misuse({ adopt, fromTable, csv, pipe }: BendsOptions) {
  const bad = (field: string, expected: string, got: string) => ({ code: 'usage-bad-value', field, expected, got })
  if (adopt !== undefined && fromTable === undefined)
    return bad('--adopt', '--from-table beside it: there is nothing else to adopt', 'none')
  if (fromTable !== undefined && pipe === undefined)
    return bad('--from-table', '--pipe beside it, to say where the table begins', 'none')
  return fromTable !== undefined && csv ? bad('--csv', 'no --from-table beside it', '--from-table') : null
}

function told(
  bay: Bay,
  candidate: Candidate,
  answer: BendsAnswer,
  sha256: string,
  given: BendsOptions,
  io: Io,
): string {
  const units = given.units ?? bay.units
  const fromEnd = given.fromEnd ?? false
  const senseOf = (pipe: Pipe): Sense => bendingOf(bay, pipe, null).bender?.rotation ?? 'right-hand'
  if (given.csv) {
    const sense = new Map(candidate.pipes?.map((pipe) => [pipe.id, senseOf(pipe)]))
    const pipes = answer.pipes.map((pipe) => ({ pipe, sense: sense.get(pipe.id) ?? 'right-hand' }))
    return bendTableCsv(pipes, { units, fromEnd })
  }
  if (!given.json) return bendsText({ bay, candidate, answer, units, fromEnd, senseOf }, io)
  const { pipes, unrouted, chainLoss } = answer
  return jsonText({
    command: 'bends',
    bay: { name: bay.name, sha256 },
    candidate: candidate.id,
    answer: answer.answer,
    rotation: 'right-hand',
    pipes,
    unrouted,
    chainLoss,
  })
}
