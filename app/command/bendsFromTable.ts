import type { Candidate, Pipe } from '../../core/bay/schema.ts'
import { writeBay } from '../../core/bay/write.ts'
import { bad, type Fault, good, type Outcome } from '../../core/fault.ts'
import { askedPipes } from '../../core/pipe/bends.ts'
import { reversedTable } from '../../core/pipe/bendTable.ts'
import { type TableInBay, tableInBay, withTable } from '../../core/pipe/tableInBay.ts'
import { candidateOf } from '../../core/verdict/ledger.ts'
import { type OpenBay, readRegularFile } from '../files/bayFolder.ts'
import { saveAtomically } from '../files/saveAtomically.ts'
import { adoptionPath } from './adopt.ts'
import type { BendsOptions } from './bendsOptions.ts'
import { answered, jsonText, refuse } from './command.ts'
import { type FromTable, fromTableText } from './fromTableText.ts'
import type { Io } from './io.ts'
import { type ReadTable, readBendTable } from './readBendTable.ts'
import { inFile } from './searching.ts'

/** Bend tables are short: anything larger is some other file. */
const largestTable = 1_000_000

/** `--from-table`: a bend table, put where the pipe begins, as corner points in the bay. */
export async function pointsOfTable(
  path: string,
  opened: OpenBay,
  file: string,
  given: BendsOptions,
  io: Io,
): Promise<number> {
  const { bay, sha256 } = opened
  const meant = inFile(path, pipeOf(opened, given))
  if (!meant.ok) return refuse(io, meant.faults)
  const adoption = await adoptionPath(path, opened, given)
  if (!adoption.ok) return refuse(io, adoption.faults)
  const { candidate, pipe } = meant.value
  const table = await tableIn(file, pipe.id)
  if (!table.ok) return refuse(io, table.faults)
  const { rows } = table.value
  const made = tableInBay(bay, candidate, pipe, rows, given.fromEnd)
  if (!made.ok) return refuse(io, inTable(file, made.faults, table.value))
  const inOrder = given.fromEnd ? reversedTable(rows) : rows
  const written = await adopted({ opened, candidate, pipe }, inOrder, made.value, adoption.value, io)
  if (!written.ok) return refuse(io, written.faults)
  const units = given.units ?? bay.units
  const told = { bay, candidate, pipe, file, made: made.value, written: written.value, units }
  if (given.json) io.out(jsonText(fromTableJson(told, sha256)))
  else io.out(fromTableText(told, io))
  return made.value.reaches ? answered.good : answered.notGood
}

function pipeOf({ bay }: OpenBay, given: BendsOptions): Outcome<{ candidate: Candidate; pipe: Pipe }> {
  const candidate = candidateOf(bay, given.candidate)
  if (!candidate.ok) return candidate
  const pipes = askedPipes(candidate.value, given.pipe)
  return pipes.ok ? good({ candidate: candidate.value, pipe: pipes.value[0] }) : pipes
}

async function tableIn(file: string, pipe: string): Promise<Outcome<ReadTable>> {
  const bytes = await readRegularFile(file, file, largestTable)
  if (!bytes.ok) return bytes
  try {
    return readBendTable(new TextDecoder('utf-8', { fatal: true }).decode(bytes.value), file, pipe)
  } catch {
    return bad({ code: 'file-not-text', file, expected: 'CSV in UTF-8', got: 'other bytes' })
  }
}

/** Core names rows and columns; people look for lines. */
function inTable(file: string, faults: readonly Fault[], { placeOf }: ReadTable): Fault[] {
  return faults.map(({ field, ...fault }) => {
    const [, row, column] = /^\[(\d+)\]\.(\w+)$/.exec(field ?? '') ?? []
    if (row === undefined) return { file, ...fault, ...(field !== undefined && { field }) }
    return { file, ...placeOf(Number(row), column), ...fault, field: column }
  })
}

interface Meant {
  readonly opened: OpenBay
  readonly candidate: Candidate
  readonly pipe: Pipe
}

/** Writes the bay with the pipe on its table's corners; null where nobody asked, or where the table does not reach. */
async function adopted(
  { opened: { bay }, candidate, pipe }: Meant,
  rows: ReadTable['rows'],
  made: TableInBay,
  adoption: string | null,
  io: Io,
): Promise<Outcome<string | null>> {
  if (adoption === null) return good(null)
  if (!made.reaches) {
    io.err(`${adoption} is not written: the table does not lead to the pipe’s other end.\n`)
    return good(null)
  }
  const bent = withTable(pipe, rows, made.points)
  if (!bent.ok) return bent
  const pipes = candidate.pipes?.map((each) => (each === pipe ? bent.value : each))
  const candidates = bay.candidates.map((each) => (each === candidate ? { ...candidate, pipes } : each))
  return saveAtomically(adoption, writeBay({ ...bay, candidates }))
}

function fromTableJson({ bay, candidate, pipe, file, made, written }: FromTable, sha256: string) {
  const { points, miss, reaches } = made
  return {
    command: 'bends',
    bay: { name: bay.name, sha256 },
    candidate: candidate.id,
    pipe: pipe.id,
    table: file,
    answer: reaches ? 'reaches' : 'misses',
    points,
    path: points.slice(1, -1),
    miss,
    ...(written !== null && { adopted: { file: written } }),
  }
}
