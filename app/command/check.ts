import { Option } from 'commander'
import type { Meshes } from '../../core/bay/part.ts'
import type { Bay } from '../../core/bay/schema.ts'
import { checkAnswer } from '../../core/verdict/checkAnswer.ts'
import type { Ledger } from '../../core/verdict/answer.ts'
import { ledger } from '../../core/verdict/ledger.ts'
import { LedgerMemory } from '../../core/verdict/memory.ts'
import type { PeopleUnits } from '../../core/units/lengthText.ts'
import { openBay } from '../files/bayFolder.ts'
import { checkText, type Wanting } from './checkText.ts'
import { type AddCommand, answered, jsonText, refuse } from './command.ts'
import type { Io } from './io.ts'
import { meshNotes } from './meshText.ts'
import { wayOut } from './wayOut.ts'

interface CheckOptions {
  readonly candidate?: string
  readonly all?: boolean
  readonly json?: boolean
  readonly units?: PeopleUnits
}

export const addCheck: AddCommand = (program, io, ends) => {
  program
    .command('check')
    .description('The gap ledger: every part of a candidate against every keep-out, smallest margin first.')
    .argument('<bay>', 'bay file, NAME.bay.json')
    .option('--candidate <id>', 'candidate to check (default: the first of the bay)')
    .option('--all', 'list every pair, and not only the nearest and those that do not clear')
    .option('--json', 'print one JSON object and nothing else; lengths in mm')
    .addOption(new Option('--units <unit>', 'how lengths are shown (default: as the bay says)').choices(['mm', 'inch']))
    .addHelpText('after', help)
    .action(async (path: string, options: CheckOptions) => ends(await check(path, options, io)))
}

const help = `
margin = gap − error − allowances − required
allowances = tolerance of the part + measuring uncertainty (95 %)
Gaps and margins are shown rounded down, errors and allowances rounded up: no figure claims more than is proved.

Verdicts:
  clears    the margin is proved not to be negative
  unproved  it may or may not have what is required
  short     proved not to have what is required
  fouls     contact is proved
`

async function check(path: string, options: CheckOptions, io: Io): Promise<number> {
  const opened = await openBay(path)
  if (!opened.ok) return refuse(io, opened.faults)
  const { bay, meshes, loaded, sha256 } = opened.value
  const memory = new LedgerMemory()
  const checked = ledger(bay, options.candidate, meshes, memory)
  if (!checked.ok)
    return refuse(
      io,
      checked.faults.map((fault) => ({ file: path, ...fault })),
    )
  if (options.json) io.out(jsonText(checkAnswer(bay, sha256, checked.value)))
  else {
    const units = options.units ?? bay.units
    const wanting = wantingPairs(bay, checked.value, meshes, units, memory)
    const notes = [...loaded].flatMap(([file, mesh]) => meshNotes(file, mesh))
    io.out(checkText(bay, checked.value, { wanting, meshNotes: notes, all: options.all === true, units }, io))
  }
  return checked.value.verdict === 'clears' ? answered.good : answered.notGood
}

/** More details than this would bury the answer; the table has every pair. */
const mostDetails = 12

function wantingPairs(
  bay: Bay,
  { candidate, pairs }: Ledger,
  meshes: Meshes,
  units: PeopleUnits,
  memory: LedgerMemory,
): Wanting[] {
  const wanting = pairs.filter(({ verdict }) => verdict !== 'clears').slice(0, mostDetails)
  return wanting.map((pair) => ({ pair, way: wayOut(bay, candidate, meshes, pair, units, memory) }))
}
