import { Command, CommanderError } from 'commander'
import packageJson from '../../package.json' with { type: 'json' }
import { FaultError } from '../../core/fault.ts'
import { answered, refuse } from './command.ts'
import { commands } from './commands.ts'
import type { Io } from './io.ts'
import { type Searcher, searchHere } from './searches.ts'

/**
 * The whole program as one call.
 * @param argv words behind the program's name
 * @param search where what takes long is computed; in this thread unless told otherwise
 * @returns exit status: 0 the answer is good, 1 it is not, 2 bad input or usage, 130 cancelled
 */
export async function run(argv: readonly string[], io: Io, search: Searcher = searchHere): Promise<number> {
  let status: number = answered.good
  const ends = (ended: number) => {
    status = ended
  }
  const program = programWith(io, ends, search)
  try {
    await program.parseAsync([...argv], { from: 'user' })
    return status
  } catch (error) {
    if (error instanceof CommanderError) return error.exitCode === 0 ? answered.good : answered.badInput
    if (error instanceof FaultError) return refuse(io, error.faults)
    return refuseFault(io, error)
  }
}

function programWith(io: Io, ends: (status: number) => void, search: Searcher): Command {
  const program = new Command('gapwright')
  program
    .description('Checks whether a charge-air cooler fits a measured bay: proved gaps, in mm or inches.')
    .version(packageJson.version)
    .helpCommand(false)
    .showHelpAfterError('(--help tells what is taken)')
    .configureOutput({
      writeOut: io.out,
      writeErr: io.err,
      getOutHelpWidth: () => io.columns ?? 100,
      getErrHelpWidth: () => 100,
    })
    .exitOverride()
    .addHelpText('after', statusHelp)
  for (const add of commands) add(program, io, ends, search)
  return program
}

const statusHelp = `
Exit status:
  0  the answer is good
  1  the answer is not: something is unproved, short or fouls; nothing fits
  2  bad input or usage; stderr says what
  130  cancelled by Ctrl-C, with the best answer so far
`

/** A fault of the program and not of its input. The trace is for those who repair it, so it is asked for. */
function refuseFault(io: Io, error: unknown): number {
  const text = error instanceof Error ? `${error.name}: ${error.message}` : String(error)
  io.err(`gapwright made a mistake of its own, and has no answer: ${text}\n`)
  if (process.env.GAPWRIGHT_TRACE && error instanceof Error) io.err(`${error.stack}\n`)
  return answered.badInput
}
