import { readdir } from 'node:fs/promises'
import { bad, good, type Outcome } from '../../core/fault.ts'
import { candidateOf } from '../../core/verdict/ledger.ts'
import { openBay } from '../files/bayFolder.ts'
import { folderTrouble, saveFolder } from '../files/saveFolder.ts'
import { pdfName, type SheetSet } from '../sheet/settings.ts'
import { today } from '../wording/today.ts'
import { type AddCommand, answered, jsonText, refuse } from './command.ts'
import { sheetFonts } from './fonts.ts'
import type { Io } from './io.ts'
import * as options from './options.ts'
import type { Searcher } from './searches.ts'
import { brokenOff, inFile } from './searching.ts'
import { sheetOrigin } from './sheetOrigin.ts'
import { type SheetsOptions, settingsFrom, sheetsOptions } from './sheetsOptions.ts'
import { watchedSet } from './watchedSet.ts'

export const addSheets: AddCommand = (program, io, ends, search) => {
  const command = program
    .command('sheets')
    .description('Sheets to make a candidate from and to check it on the car: a PDF, and tables, drawings and models.')
    .argument('<bay>', 'bay file, NAME.bay.json')
    .option('--candidate <id>', 'candidate that the sheets are of (default: the first of the bay)')
  for (const option of sheetsOptions()) command.addOption(option)
  command
    .addOption(options.unitsOption())
    .addOption(options.jsonOption())
    .addHelpText('after', help)
    .action(async (path: string, given: SheetsOptions) => ends(await writeSheets(path, given, io, search)))
}

const help = `
Writes sheets.pdf, answer.json, and folders: tables (CSV), drawings (SVG), flats (DXF), model (STL, GLB). All of them
are written aside first and moved when the last one lies there. The same bay, options, date and version give the same
bytes. The bay travels inside the PDF: "gapwright again sheets.pdf" recomputes it. Status 1: written, but the candidate
does not clear; every page says so.
`

async function writeSheets(path: string, given: SheetsOptions, io: Io, search: Searcher): Promise<number> {
  const opened = await openBay(path)
  if (!opened.ok) return refuse(io, opened.faults)
  const { bay, meshes } = opened.value
  const candidate = inFile(path, candidateOf(bay, given.candidate))
  if (!candidate.ok) return refuse(io, candidate.faults)
  const free = await freeFolder(given.out, given.force === true)
  if (!free.ok) return refuse(io, free.faults)
  const origin = await sheetOrigin(path, opened.value)
  if (!origin.ok) return refuse(io, origin.faults)
  const { id } = candidate.value
  const request = {
    origin: origin.value,
    settings: settingsFrom(given, bay, candidate.value, today()),
    fonts: await sheetFonts(),
  }
  const set = inFile(path, await watchedSet({ bay, candidate: id, meshes, request }, io, search))
  if (!set.ok) return refuse(io, set.faults)
  if (set.value === null) return brokenOff(io)
  const saved = await unbroken(() => saveFolder(given.out, filesOf(set.value as SheetSet)))
  if (!saved.ok) return refuse(io, saved.faults)
  if (given.json) io.out(jsonText(setJson({ name: bay.name, sha256: opened.value.sha256 }, id, given.out, set.value)))
  else io.out(told(candidate.value.name, given.out, set.value))
  return set.value.verdict === 'clears' ? answered.good : answered.notGood
}

const filesOf = ({ pdf, files }: SheetSet) => [{ name: pdfName, bytes: pdf }, ...files]

/** A folder that holds something is somebody's: it is written into only when that is said. */
async function freeFolder(out: string, force: boolean): Promise<Outcome<null>> {
  const trouble = await folderTrouble(out)
  if (trouble) return bad(trouble)
  const there = await readdir(out).catch(() => [])
  if (force || there.length === 0) return good(null)
  const found = there.slice(0, 3).join(', ')
  return bad({
    code: 'folder-not-empty',
    file: out,
    expected: 'an empty folder, a new name, or --force',
    got: there.length > 3 ? `${found} …` : found,
  })
}

/** Writing takes a moment; Ctrl-C in it waits for its end, since files half moved are no set. */
async function unbroken<T>(write: () => Promise<T>): Promise<T> {
  const wait = () => {}
  process.on('SIGINT', wait)
  try {
    return await write()
  } finally {
    process.off('SIGINT', wait)
  }
}

const setJson = (bay: { name: string; sha256: string }, candidate: string, out: string, set: SheetSet) => ({
  command: 'sheets',
  bay,
  candidate,
  verdict: set.verdict,
  out,
  pages: set.pages,
  files: filesOf(set).map(({ name, bytes }) => ({ name, bytes: bytes.length })),
})

const verdictWords: Record<SheetSet['verdict'], string> = {
  clears: 'It clears.',
  unproved: 'It is not proved to clear, and every page says so.',
  short: 'It does not clear: something is short, and every page says so.',
  fouls: 'It does not clear: something fouls, and every page says so.',
}

function told(name: string, out: string, set: SheetSet): string {
  const files = filesOf(set).length
  return `${name}: ${set.pages} pages and ${files - 1} files in ${out}. ${verdictWords[set.verdict]}\n`
}
