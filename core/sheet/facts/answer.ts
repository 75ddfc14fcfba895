import { checkAnswer } from '../../verdict/checkAnswer.ts'
import type { LedgerPair } from '../../verdict/answer.ts'
import type { CarCheck, LargestFact, SafetyFact, SheetFacts, WayFact } from './sheetFacts.ts'

/** A value that JSON can say. */
export type Json = null | boolean | number | string | readonly Json[] | { readonly [key: string]: Json }
/** The whole answer, as it is written beside the sheets and inside them. */
export type WholeAnswer = { readonly [key: string]: Json }

/**
 * Everything that is computed for a set of sheets as one JSON value: unrounded, mm, degrees, kg, Pa; neither bay nor meshes.
 * Keys always come in the same order, so that equal facts are equal bytes. Pairs are told once, in the ledger; elsewhere by
 * the names of their part and keep-out. How much work a search took is not told: it is no figure of the car.
 * @param sha256 of the bay file's bytes, lower-case hexadecimal
 */
export function wholeAnswer(facts: SheetFacts, sha256: string): WholeAnswer {
  const { bay, candidate, ledger, bends, mounts, way, largest, parts, onCar, datum, safety } = facts
  const { bay: head, verdict, pairs, leftOut, unrouted, exempt } = checkAnswer(bay, sha256, ledger)
  return plain({
    format: 'gapwright-answer',
    version: 1,
    bay: head,
    candidate: { id: candidate.id, name: candidate.name },
    ledger: { verdict, pairs, leftOut, unrouted, exempt },
    bends: { answer: bends.answer, pipes: bends.pipes, unrouted: bends.unrouted, chainLoss: bends.chainLoss },
    mounts: { verdict: mounts.verdict, reached: mounts.reached, shift: mounts.shift, mounts: mounts.mounts },
    way: wayPart(way),
    largest: largestPart(largest),
    parts,
    onCar: onCar.map(carPart),
    datum,
    safety: safety.map(safetyPart),
  }) as WholeAnswer
}

/** As writing and reading it again would leave it: what is undefined is not there. */
const plain = (value: object): unknown => JSON.parse(JSON.stringify(value))

function wayPart({ own, answer, faults }: WayFact): object {
  if (!answer) return { own, answer: null, faults }
  const { queries: _work, candidate: _id, ...told } = answer
  return { own, answer: told, faults }
}

function largestPart({ answer, faults, now }: LargestFact): object {
  if (answer?.answer !== 'found') return { now, answer, faults }
  const { candidate: _whole, ...told } = answer
  return { now, answer: told, faults }
}

const named = ({ part, keepOut, between }: LedgerPair) => ({ part, keepOut, ...(between && { between }) })
const carPart = ({ pair, ...rest }: CarCheck): object => ({ ...named(pair), ...rest })
const safetyPart = ({ tightest, ...rest }: SafetyFact): object => ({ ...rest, tightest: tightest && named(tightest) })

/** A figure or word that is not the same in two answers; null where it is missing. */
export interface ChangedFigure {
  /** `ledger.pairs[core/beam].gap` */
  readonly path: string
  readonly before: Json
  readonly after: Json
}

/** What rounding may do to a figure that is computed anew elsewhere: of a length of a metre a millionth of a millimetre. */
const dust = 1e-6

/**
 * Where two answers differ: numbers by more than their stated error (the `error` that stands beside them, of a pair in the
 * ledger) or else by more than a millionth, absolute and of themselves; words at all; and what only one of them has.
 * Lists of things with names are held against each other by name, so that a changed order alone changes nothing.
 */
export function changedFigures(before: Json, after: Json): ChangedFigure[] {
  return changes('', before, after, 0)
}

type Record = { readonly [key: string]: Json }
const isList = (value: Json): value is readonly Json[] => Array.isArray(value)
const isRecord = (value: Json): value is Record => typeof value === 'object' && value !== null && !isList(value)

function changes(path: string, before: Json, after: Json, error: number): ChangedFigure[] {
  if (isList(before) && isList(after)) return listChanges(path, before, after, error)
  if (isRecord(before) && isRecord(after)) return recordChanges(path, before, after)
  if (typeof before === 'number' && typeof after === 'number')
    return isSame(before, after, error) ? [] : [{ path, before, after }]
  return before === after ? [] : [{ path, before, after }]
}

function isSame(before: number, after: number, error: number): boolean {
  const size = Math.max(Math.abs(before), Math.abs(after))
  return Math.abs(before - after) <= Math.max(error, dust, dust * size)
}

const errorOf = (record: Record): number => (typeof record.error === 'number' ? record.error : 0)
/** What an error that stands beside it says something of. */
const isWithinError = (key: string): boolean => key === 'gap' || key === 'margin'

function recordChanges(path: string, before: Record, after: Record): ChangedFigure[] {
  const error = Math.max(errorOf(before), errorOf(after))
  const keys = [...new Set([...Object.keys(before), ...Object.keys(after)])]
  return keys.flatMap((key) =>
    changes(
      path === '' ? key : `${path}.${key}`,
      Object.hasOwn(before, key) ? before[key] : null,
      Object.hasOwn(after, key) ? after[key] : null,
      isWithinError(key) ? error : 0,
    ),
  )
}

function listChanges(path: string, before: readonly Json[], after: readonly Json[], error: number): ChangedFigure[] {
  const [names, others] = [namesIn(before), namesIn(after)]
  if (!names || !others) {
    const long = Math.max(before.length, after.length)
    return Array.from({ length: long }, (_, i) =>
      changes(`${path}[${i}]`, before[i] ?? null, after[i] ?? null, error),
    ).flat()
  }
  const all = [...new Set([...names.keys(), ...others.keys()])]
  return all.flatMap((name) => changes(`${path}[${name}]`, names.get(name) ?? null, others.get(name) ?? null, error))
}

/** Fields that tell the things of a list apart. */
const naming = ['part', 'keepOut', 'from', 'between', 'of', 'id', 'mount', 'fixing', 'hole', 'axis', 'end', 'limit']

/** By name, where all have one and no two the same; a list of numbers or rows has none. */
function namesIn(list: readonly Json[]): ReadonlyMap<string, Json> | null {
  const found = new Map<string, Json>()
  for (const item of list) {
    if (!isRecord(item)) return null
    const told = naming.flatMap((key) => {
      const value = item[key]
      return typeof value === 'string' || typeof value === 'number' ? [String(value)] : []
    })
    if (told.length === 0) return null
    found.set(told.join('/'), item)
  }
  return found.size === list.length && list.length > 0 ? found : null
}
