import { sha256Of } from '../worker/meshFile.ts'
import type { Bay } from '../../core/bay/schema.ts'
import { readBay } from '../../core/bay/read.ts'
import type { Meshes } from '../../core/bay/part.ts'
import { bad, good, type Outcome } from '../../core/fault.ts'
import type { Json } from '../../core/sheet/facts/answer.ts'
import { loadBayMeshes } from '../files/bayMeshes.ts'
import { readInFolder, readRegularFile } from '../files/bayFolder.ts'
import { type ReadPdf, readPdf } from '../files/readPdf.ts'
import { readTravelSet, travelNames, type TravelSet } from '../sheet/travel.ts'
import type { MeshFile, SheetOrigin, SheetSet } from '../sheet/settings.ts'
import { againJson, againText, comparison } from './againText.ts'
import { type AddCommand, answered, jsonText, refuse } from './command.ts'
import { sheetFonts } from './fonts.ts'
import type { Io } from './io.ts'
import * as options from './options.ts'
import type { Searcher } from './searches.ts'
import { brokenOff, inFile } from './searching.ts'
import { watchedSet } from './watchedSet.ts'

interface AgainOptions {
  readonly beside?: string
  readonly json?: boolean
}

export const addAgain: AddCommand = (program, io, ends, search) => {
  program
    .command('again')
    .description('Takes the bay out of a set of sheets, recomputes it, and says whether every number still holds.')
    .argument('<pdf>', 'sheets.pdf as "gapwright sheets" wrote it')
    .option('--beside <dir>', 'folder with the meshes that were too big to travel inside the PDF')
    .addOption(options.jsonOption())
    .addHelpText('after', help)
    .action(async (path: string, given: AgainOptions) => ends(await makeAgain(path, given, io, search)))
}

const help = `
Every number of the answer is compared, and every line of text on every page. Status 0: all hold; 1: something differs,
and what it is now is said.
`

/** A set with its meshes inside, bytes. */
const biggestPdf = 128 * 2 ** 20

async function makeAgain(path: string, given: AgainOptions, io: Io, search: Searcher): Promise<number> {
  const bytes = await readRegularFile(path, path, biggestPdf)
  if (!bytes.ok) return refuse(io, bytes.faults)
  const then = await readPdf(path, bytes.value)
  if (!then.ok) return refuse(io, then.faults)
  const inside = await unpacked(path, then.value, given.beside)
  if (!inside.ok) return refuse(io, inside.faults)
  const { bay, meshes, origin, set, answer } = inside.value
  const request = { origin, settings: set.settings, fonts: await sheetFonts() }
  const made = inFile(path, await watchedSet({ bay, candidate: set.candidate, meshes, request }, io, search))
  if (!made.ok) return refuse(io, made.faults)
  if (made.value === null) return brokenOff(io)
  const now = await readPdf(path, made.value.pdf)
  if (!now.ok) return refuse(io, now.faults)
  const compared = comparison(
    set,
    { answer, pages: then.value.pages },
    { answer: answerOf(made.value), pages: now.value.pages },
  )
  io.out(given.json ? jsonText(againJson(path, bay, compared)) : againText(path, bay, compared))
  return compared.holds ? answered.good : answered.notGood
}

interface Inside {
  readonly bay: Bay
  readonly meshes: Meshes
  readonly origin: SheetOrigin
  readonly set: TravelSet
  readonly answer: Json
}

/** All that travelled inside, read and checked like any file from a stranger. */
async function unpacked(path: string, { attachments }: ReadPdf, beside: string | undefined): Promise<Outcome<Inside>> {
  const text = (name: string): Outcome<string> => {
    const bytes = attachments.get(name)
    if (!bytes) return missing(path, name)
    return good(new TextDecoder('utf-8', { ignoreBOM: true }).decode(bytes))
  }
  const [bayText, setText, answerText] = [travelNames.bay, travelNames.set, travelNames.answer].map(text)
  if (!bayText.ok) return bayText
  if (!setText.ok) return setText
  if (!answerText.ok) return answerText
  const set = readTravelSet(setText.value, path)
  if (!set.ok) return set
  const answer = parsed(answerText.value)
  if (answer === undefined) return bad({ code: 'pdf-not-ours', file: path, item: travelNames.answer, expected: 'JSON' })
  const bay = inFile(path, readBay(bayText.value, travelNames.bay))
  if (!bay.ok) return bay
  const meshFiles = new Map<string, MeshFile>()
  const loaded = await loadBayMeshes(bay.value, async (file) => {
    const bytes = await meshBytes(path, file, attachments, beside)
    const travelled = set.value.meshes.find((mesh) => mesh.file === file)?.inside ?? false
    if (bytes.ok) meshFiles.set(file, { sha256: await sha256Of(bytes.value), bytes: travelled ? bytes.value : null })
    return bytes
  })
  if (!loaded.ok) return loaded
  const origin = { text: bayText.value, sha256: await sha256Of(new TextEncoder().encode(bayText.value)), meshFiles }
  return good({ bay: bay.value, meshes: loaded.value.meshes, origin, set: set.value, answer })
}

const missing = (file: string, item: string, expected = 'a PDF as "gapwright sheets" wrote it'): Outcome<never> =>
  bad({ code: 'attachment-missing', file, item, expected })

async function meshBytes(
  path: string,
  file: string,
  attachments: ReadPdf['attachments'],
  beside: string | undefined,
): Promise<Outcome<Uint8Array>> {
  const bytes = attachments.get(`${travelNames.meshes}${file}`)
  if (bytes) return good(bytes)
  return beside === undefined
    ? missing(path, file, 'the folder that it lies in, by --beside')
    : readInFolder(beside, file)
}

function parsed(text: string): Json | undefined {
  try {
    return JSON.parse(text)
  } catch {
    return undefined
  }
}

function answerOf({ files }: SheetSet): Json {
  const file = files.find(({ name }) => name === travelNames.answer)
  return JSON.parse(new TextDecoder().decode(file?.bytes))
}
