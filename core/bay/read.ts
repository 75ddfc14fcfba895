import { bad, good } from '../fault.ts'
import type { Outcome } from '../fault.ts'
import { viewOf } from './bayView.ts'
import { jsonTroubles } from './jsonText.ts'
import { bayLimits } from './limits.ts'
import { meaningTroubles } from './meaning.ts'
import { nearestName } from './nearest.ts'
import { baySchema } from './schema.ts'
import type { Bay } from './schema.ts'
import { schemaTroubles } from './schemaTroubles.ts'
import { toFaults } from './trouble.ts'
import type { Source, Trouble } from './trouble.ts'
import { broughtUp, newestVersion } from './version/steps.ts'

/**
 * Reads a bay from the text of its file: JSON, version, schema, sense and the geometry of every shape without a mesh.
 * @param text UTF-8 already decoded; a byte order mark is passed over
 * @param file as the user named it, for the faults
 * @returns the bay, or every fault found, in the order of the text, each with line and column. Nothing half-read.
 */
export function readBay(text: string, file?: string): Outcome<Bay> {
  const source = { file, text: text.startsWith('\uFEFF') ? text.slice(1) : text }
  if (text.length > bayLimits.text)
    return bad({
      code: 'bay-too-big',
      ...(file !== undefined && { file }),
      expected: `at most ${bayLimits.text} characters`,
      got: text.length,
    })
  const troubles = jsonTroubles(source.text, bayLimits)
  const unreadable = troubles.find(
    ({ code }) => code === 'broken-json' || code === 'nested-too-deep' || code === 'too-many-values',
  )
  if (unreadable) return bad(...toFaults([{ ...unreadable, path: [] }], null, source))
  return checked(JSON.parse(source.text), source, troubles)
}

/**
 * Holds a value against everything that a bay must be; what `readBay` does after parsing.
 * @param value any JSON value, for example an edited bay
 */
export const checkBay = (value: unknown, file?: string): Outcome<Bay> => checked(value, { file }, [])

function checked(value: unknown, source: Source, known: readonly Trouble[]): Outcome<Bay> {
  const foreign = foreignTrouble(value)
  if (foreign) return bad(...toFaults([foreign], value, source))
  const bay = broughtUp(value as Record<string, unknown>, (value as { version: number }).version)
  const ofSchema = schemaTroubles(baySchema, bay)
  const view = viewOf(bay, ofSchema.length === 0)
  const said = new Set(known.map(({ path }) => path.join('/')))
  // A number that overflows is told as such, not also as one that is not finite.
  const fresh = ofSchema.filter(({ path }) => !said.has(path.join('/')))
  const troubles = [...known, ...fresh, ...meaningTroubles(bay, view, view)]
  if (troubles.length > 0) return bad(...toFaults(troubles, bay, source))
  return good(baySchema.parse(bay))
}

/** Not a bay at all, or one from another time: then no field is worth a word. */
function foreignTrouble(value: unknown): Trouble | null {
  if (typeof value !== 'object' || value === null || Array.isArray(value))
    return { code: 'not-a-bay', path: [], expected: 'an object with format "gapwright-bay"', got: value }
  const { format, version } = value as { format?: unknown; version?: unknown }
  if (format !== 'gapwright-bay')
    return { code: 'not-a-bay', path: ['format'], expected: '"gapwright-bay"', ...gotOrNearest(value, format) }
  if (typeof version !== 'number' || !Number.isInteger(version) || version < 1)
    return {
      code: 'wrong-version',
      path: ['version'],
      expected: newestVersion > 1 ? `a whole number from 1 to ${newestVersion}` : 'the number 1',
      ...(version !== undefined && { got: version }),
    }
  if (version > newestVersion)
    return {
      code: 'bay-too-new',
      path: ['version'],
      expected: newestVersion > 1 ? `versions up to ${newestVersion}` : 'version 1',
      got: version,
    }
  return null
}

function gotOrNearest(value: object, format: unknown): Partial<Trouble> {
  if (format !== undefined) return { got: format }
  const meant = nearestName('format', Object.keys(value))
  return meant === undefined ? {} : { nearest: meant }
}
