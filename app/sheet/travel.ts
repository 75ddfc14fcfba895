import { z } from 'zod'
import { bad, good, type Outcome } from '../../core/fault.ts'
import type { Attachment } from './pdf/sheetPdf.ts'
import type { SheetOrigin, SheetSettings } from './settings.ts'
import { sheetIds } from './sheet.ts'

/** Names of what travels inside a PDF, for those who write it and those who read it back. */
export const travelNames = { bay: 'bay.bay.json', set: 'set.json', answer: 'answer.json', meshes: 'meshes/' } as const

const sha256Schema = z.string().regex(/^[0-9a-f]{64}$/)
const settingsSchema = z.strictObject({
  paper: z.enum(['A4', 'A3', 'Letter']),
  units: z.enum(['mm', 'inch']),
  projection: z.enum(['first-angle', 'third-angle']),
  scale: z.number().positive().max(1000).nullable(),
  revision: z.string().max(20),
  date: z.iso.date(),
  sheets: z.array(z.enum(sheetIds)).nullable(),
  separator: z.enum([',', ';', '\t']),
  decimal: z.enum(['.', ',']).optional(),
  mark: z.boolean().optional(),
})

/** What a PDF says of how it was made; with the bay and its meshes, all that is needed to make it again. */
const travelSchema = z.strictObject({
  format: z.literal('gapwright-sheets'),
  /** Of this record. */
  version: z.literal(1),
  /** Version of the program. */
  program: z.string().max(100),
  candidate: z.string().max(200),
  bay: z.strictObject({ sha256: sha256Schema }),
  meshes: z
    .array(z.strictObject({ file: z.string().max(1000), sha256: sha256Schema, inside: z.boolean() }))
    .max(10_000),
  settings: settingsSchema,
})
export type TravelSet = z.infer<typeof travelSchema>

export function travelSet(origin: SheetOrigin, settings: SheetSettings, candidate: string, program: string): TravelSet {
  const meshes = [...origin.meshFiles].map(([file, { sha256, bytes }]) => ({ file, sha256, inside: bytes !== null }))
  return {
    format: 'gapwright-sheets',
    version: 1,
    program,
    candidate,
    bay: { sha256: origin.sha256 },
    meshes,
    settings: { ...settings, sheets: settings.sheets && [...settings.sheets] },
  }
}

/** @param file the PDF, as the user knows it */
export function readTravelSet(text: string, file: string): Outcome<TravelSet> {
  const wrong = (expected: string, field?: string): Outcome<never> =>
    bad({ code: 'pdf-not-ours', file, item: travelNames.set, ...(field && { field }), expected })
  try {
    const read = travelSchema.safeParse(JSON.parse(text))
    if (read.success) return good(read.data)
    const [{ path, message }] = read.error.issues
    return wrong(message, path.join('.'))
  } catch {
    return wrong('JSON')
  }
}

/** The bay as its file has it, its meshes where they are not too big, the answer, and how the set was asked for. */
export function travelling(origin: SheetOrigin, set: TravelSet, answer: string): Attachment[] {
  const json = { type: 'application/json' }
  const meshes = [...origin.meshFiles].flatMap(([file, { bytes }]) => (bytes ? [{ file, bytes }] : []))
  return [
    { ...json, name: travelNames.bay, bytes: utf8(origin.text), about: 'The bay that these sheets were made from' },
    { ...json, name: travelNames.set, bytes: utf8(jsonOf(set)), about: 'How the set was asked for' },
    { ...json, name: travelNames.answer, bytes: utf8(answer), about: 'The whole answer, unrounded; mm, degrees, kg' },
    ...meshes.map(({ file, bytes }) => ({
      type: 'application/octet-stream',
      name: `${travelNames.meshes}${file}`,
      bytes,
      about: 'A mesh that the bay names',
    })),
  ]
}

export const utf8 = (text: string): Uint8Array => new TextEncoder().encode(text)
export const jsonOf = (value: object): string => `${JSON.stringify(value, null, 2)}\n`
