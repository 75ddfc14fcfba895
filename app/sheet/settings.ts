import type { Verdict } from '../../core/verdict/answer.ts'
import { reductions } from '../../core/sheet/figure/scales.ts'
import type { PeopleUnits } from '../../core/units/lengthText.ts'
import type { PaperName, Projection } from './context.ts'
import type { SheetId } from './sheet.ts'

/** What a set of sheets is to be: options of the command line, fields of the stage. */
export interface SheetSettings {
  readonly paper: PaperName
  readonly units: PeopleUnits
  readonly projection: Projection
  /** 1 : this; null takes the largest standard scale that fits. */
  readonly scale: number | null
  readonly revision: string
  /** YYYY-MM-DD; given from outside, so that the same input gives the same bytes. */
  readonly date: string
  /** Those that are wanted; null: all. */
  readonly sheets: readonly SheetId[] | null
  /** Between the cells of a CSV. */
  readonly separator: ',' | ';' | '\t'
  /** In the numbers of a CSV; default a point. */
  readonly decimal?: '.' | ','
  /** Whether a CSV begins with a byte order mark; default not. */
  readonly mark?: boolean
}

/** What is asked of the settings; null and nothing follow from the bay. */
export type SettingsWish = { readonly [K in keyof SheetSettings]?: SheetSettings[K] | null }

/**
 * What was asked for and what follows from it, together: inches go with Letter and third-angle projection.
 * @param units of the one who asks, where nothing else is said
 * @param revision the candidate's own
 * @param today YYYY-MM-DD
 */
export function settledSettings(
  wish: SettingsWish,
  { units: own, revision, today }: { units: PeopleUnits; revision: string | undefined; today: string },
): SheetSettings {
  const units = wish.units ?? own
  const inches = units === 'inch'
  return {
    paper: wish.paper ?? (inches ? 'Letter' : 'A4'),
    units,
    projection: wish.projection ?? (inches ? 'third-angle' : 'first-angle'),
    scale: wish.scale ?? null,
    revision: wish.revision ?? revision ?? '',
    date: wish.date ?? today,
    sheets: wish.sheets ?? null,
    separator: wish.separator ?? ',',
    decimal: wish.decimal ?? '.',
    mark: wish.mark ?? false,
  }
}

/** A mesh file of the bay as it was read. */
export interface MeshFile {
  /** Of its bytes as stored, hex. */
  readonly sha256: string
  /** To travel inside the PDF; null where it is too big for that. */
  readonly bytes: Uint8Array | null
}

/** Mesh files up to this travel along, bytes: a sheet is mailed. */
export const travelsUpTo = 4 * 2 ** 20

/** What the set is made of, as files: so that it can be made again from the PDF alone. */
export interface SheetOrigin {
  /** The bay file, and the sha256 of its bytes, hex. */
  readonly text: string
  readonly sha256: string
  /** By the `file` that the bay names. */
  readonly meshFiles: ReadonlyMap<string, MeshFile>
}

/** Bytes of the faces that the PDF embeds. */
export interface SheetFonts {
  readonly regular: Uint8Array
  readonly bold: Uint8Array
}

/** Of the pages, in the folder of a set. */
export const pdfName = 'sheets.pdf'

export interface SetFile {
  /** Path inside the set's folder, with slashes. */
  readonly name: string
  readonly bytes: Uint8Array
}

export interface SheetSet {
  readonly pdf: Uint8Array
  readonly pages: number
  /** Of the whole candidate. */
  readonly verdict: Verdict
  /** All the others: CSV, SVG, DXF, STL, GLB, JSON. */
  readonly files: readonly SetFile[]
}

/** Scales of reduction that can be asked for, 1 : this. */
export const standardScales = reductions
