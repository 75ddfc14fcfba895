import { basename } from 'node:path'
import { Option } from 'commander'
import { writeBay } from '../../core/bay/write.ts'
import type { PeopleUnits } from '../../core/units/lengthText.ts'
import { saveAtomically } from '../files/saveAtomically.ts'
import { alreadyThere, bayEnding, bayPathOf } from './bayPath.ts'
import { type AddCommand, answered, refuse } from './command.ts'
import type { Io } from './io.ts'
import { starterBay } from './starterBay.ts'
import { starterReadme } from './starterReadme.ts'

interface NewOptions {
  readonly units: PeopleUnits
  readonly force?: boolean
}

export const addNew: AddCommand = (program, io, ends) => {
  program
    .command('new')
    .description('Writes a small bay to begin from, and a text beside it that explains every field.')
    .argument('<file>', 'bay file to write, NAME.bay.json (or just NAME)')
    .addOption(new Option('--units <unit>', 'how lengths are shown to people').choices(['mm', 'inch']).default('mm'))
    .option('--force', 'replace files that are there; the former ones are kept as .bak')
    .action(async (file: string, options: NewOptions) => ends(await writeNew(file, options, io)))
}

async function writeNew(file: string, { units, force }: NewOptions, io: Io): Promise<number> {
  const bayPath = bayPathOf(file)
  if (!bayPath.ok) return refuse(io, bayPath.faults)
  const stem = bayPath.value.slice(0, -bayEnding.length)
  const readmePath = `${stem}.README.md`
  if (!force) {
    const there = [...(await alreadyThere(bayPath.value)), ...(await alreadyThere(readmePath))]
    if (there.length > 0) return refuse(io, there)
  }
  const written = await saveAtomically(bayPath.value, writeBay(starterBay(basename(stem), units)))
  const explained = written.ok ? await saveAtomically(readmePath, starterReadme(basename(bayPath.value))) : written
  if (!explained.ok) return refuse(io, explained.faults)
  io.out(
    `Wrote ${bayPath.value}\nWrote ${readmePath}, which explains every field\n\nNext: npx gapwright check ${quoted(bayPath.value)}\n`,
  )
  return answered.good
}

/** As it has to stand on a command line of any system. */
const quoted = (path: string): string => (/^[\w./:\\-]+$/.test(path) ? path : `"${path}"`)
