import { createHash } from 'node:crypto'
import { basename } from 'node:path'
import { Option } from 'commander'
import { type MeshUnit, meshUnits } from '../../core/shape/meshShape.ts'
import type { PeopleUnits } from '../../core/units/lengthText.ts'
import { readRegularFile } from '../files/bayFolder.ts'
import { type LoadedMesh, loadMesh } from '../files/bayMeshes.ts'
import { meshExtensions } from '../files/importers.ts'
import { defaultLimits } from '../files/rawMesh.ts'
import { type AddCommand, answered, jsonText, refuse } from './command.ts'
import type { Io } from './io.ts'
import { meshText } from './meshText.ts'

interface MeshOptions {
  readonly unit?: MeshUnit
  readonly json?: boolean
  readonly units?: PeopleUnits
}

export const addMesh: AddCommand = (program, io, ends) => {
  program
    .command('mesh')
    .description('What is in a mesh file: size, triangles, open or closed, components, faults.')
    .argument('<file>', `mesh file (${meshExtensions.map((e) => `.${e}`).join(', ')})`)
    .addOption(new Option('--unit <unit>', 'unit that the file’s numbers are in').choices(Object.keys(meshUnits)))
    .option('--json', 'print one JSON object and nothing else')
    .addOption(new Option('--units <unit>', 'how lengths are shown, with --unit').choices(['mm', 'inch']).default('mm'))
    .addHelpText('after', help)
    .action(async (file: string, options: MeshOptions) => ends(await tellMesh(file, options, io)))
}

const help = `
A mesh file does not say its unit. Without --unit the size is shown in the file's own numbers, and what they
would be in each unit. An open mesh is no error: it is a shell, a surface without an inside. The exit status is
0 for every mesh that can be read.
`

async function tellMesh(path: string, { unit, json, units = 'mm' }: MeshOptions, io: Io): Promise<number> {
  const bytes = await readRegularFile(path, path, defaultLimits.bytes)
  if (!bytes.ok) return refuse(io, bytes.faults)
  const loaded = await loadMesh(path, bytes.value)
  if (!loaded.ok) return refuse(io, loaded.faults)
  const file = { name: basename(path), bytes: bytes.value.length }
  if (json) {
    const sha256 = createHash('sha256').update(bytes.value).digest('hex')
    io.out(jsonText(meshAnswer({ ...file, sha256 }, loaded.value, unit)))
  } else io.out(meshText(file, loaded.value, unit, units, io))
  return answered.good
}

/** Lengths in the file's own numbers; `mm` holds them in mm where the unit was named. */
function meshAnswer(
  file: object,
  { report, format, trianglesInFile, bentFaces }: LoadedMesh,
  unit: MeshUnit | undefined,
) {
  const { bounds, area, volume } = report
  const sized = (factor: number) => ({
    bounds: { min: bounds.min.map((x) => x * factor), max: bounds.max.map((x) => x * factor) },
    size: bounds.max.map((x, axis) => (x - bounds.min[axis]) * factor),
    area: area * factor ** 2,
    volume: volume === null ? null : volume * factor ** 3,
  })
  return {
    command: 'mesh',
    file,
    format,
    unit: unit ?? null,
    trianglesInFile,
    bentFaces,
    ...report,
    ...sized(1),
    mm: unit ? sized(meshUnits[unit]) : null,
  }
}
