import { InvalidArgumentError, Option } from 'commander'
import type { Bay, Candidate } from '../../core/bay/schema.ts'
import type { PeopleUnits } from '../../core/units/lengthText.ts'
import type { PaperName, Projection } from '../sheet/context.ts'
import { settledSettings, type SheetSettings, standardScales } from '../sheet/settings.ts'
import { type SheetId, sheetIds } from '../sheet/sheet.ts'

export interface SheetsOptions {
  readonly candidate?: string
  readonly out: string
  readonly paper?: PaperName
  readonly units?: PeopleUnits
  readonly scale?: number
  readonly projection?: Projection
  readonly revision?: string
  readonly date?: string
  readonly separator: keyof typeof separators
  readonly decimals: keyof typeof decimals
  readonly byteOrderMark?: boolean
  readonly only?: readonly SheetId[]
  readonly force?: boolean
  readonly json?: boolean
}

const separators = { comma: ',', semicolon: ';', tab: '\t' } as const
const decimals = { point: '.', comma: ',' } as const
const papers: readonly PaperName[] = ['A4', 'A3', 'Letter']
const projections: readonly Projection[] = ['first-angle', 'third-angle']
const longestRevision = 20

/** `5` or `1:5`. */
export function readScale(text: string): number {
  const scale = Number(/^(?:1\s*:\s*)?(\d+)$/.exec(text.trim())?.[1])
  if (!standardScales.includes(scale))
    throw new InvalidArgumentError(
      `Expected a standard scale: ${standardScales.map((real) => `1:${real}`).join(', ')}.`,
    )
  return scale
}

/** YYYY-MM-DD, a day that there is. */
export function readDate(text: string): string {
  const day = /^\d{4}-\d\d-\d\d$/.test(text) ? new Date(`${text}T00:00:00Z`) : null
  if (!day || Number.isNaN(day.getTime()) || day.toISOString().slice(0, 10) !== text)
    throw new InvalidArgumentError('Expected a day, YYYY-MM-DD.')
  return text
}

export function readRevision(text: string): string {
  if ([...text].length > longestRevision || /\p{C}/u.test(text))
    throw new InvalidArgumentError(`Expected at most ${longestRevision} letters, digits or signs.`)
  return text
}

export function readOnly(text: string): SheetId[] {
  const wanted = text.split(',').map((id) => id.trim())
  const unknown = wanted.find((id) => !sheetIds.some((known) => known === id))
  if (unknown !== undefined) throw new InvalidArgumentError(`Expected one or more of ${sheetIds.join(', ')}.`)
  return sheetIds.filter((id) => wanted.includes(id))
}

export const sheetsOptions = (): Option[] => [
  new Option('--out <dir>', 'folder to write the set into').makeOptionMandatory(),
  new Option('--paper <size>', 'default: A4 for a bay in mm, Letter for one in inches').choices(papers),
  new Option('--scale <1:n>', 'of the drawings, where it fits (default: the largest standard one)').argParser(
    readScale,
  ),
  new Option('--projection <method>', 'where side and plan stand (default: first-angle in mm)').choices(projections),
  new Option('--revision <text>', 'instead of the candidate’s own').argParser(readRevision),
  new Option('--date <day>', 'on the sheets, YYYY-MM-DD (default: today)').argParser(readDate),
  new Option('--separator <sign>', 'between the cells of a CSV').choices(Object.keys(separators)).default('comma'),
  new Option('--decimals <sign>', 'in the numbers of a CSV').choices(Object.keys(decimals)).default('point'),
  new Option('--byte-order-mark', 'begin each CSV with one, for spreadsheets that want it'),
  new Option('--only <sheets>', `these sheets alone, by commas: ${sheetIds.join(', ')}`).argParser(readOnly),
  new Option('--force', 'write into a folder that holds something; its other files stay'),
]

/**
 * What was asked for and what follows from the bay, together.
 * @param today YYYY-MM-DD
 */
export const settingsFrom = (given: SheetsOptions, bay: Bay, { revision }: Candidate, today: string): SheetSettings =>
  settledSettings(
    {
      ...given,
      sheets: given.only,
      separator: separators[given.separator],
      decimal: decimals[given.decimals],
      mark: given.byteOrderMark,
    },
    { units: bay.units, revision, today },
  )
