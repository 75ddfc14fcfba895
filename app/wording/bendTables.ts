import type { BendRow, PipeBends } from '../../core/pipe/answer.ts'
import { reversedTable } from '../../core/pipe/bendTable.ts'

/** Which way round rotations count as positive, seen along the feed. */
export type Sense = 'right-hand' | 'left-hand'

/** One row, with what belongs beside it. */
export interface TableRow extends BendRow {
  /** Angle to set at the bender; null for elbows, and where no spring-back is known. */
  readonly set: number | null
  /** Stock elbow that is welded in here instead of a bend. */
  readonly elbow: string | null
}

/** A table to print: the whole run, or one tube of it. */
export interface PrintedTable {
  /** `run`, or the number of the tube from the pipe's beginning. */
  readonly piece: 'run' | number
  readonly rows: readonly TableRow[]
}

/** The whole run, and where elbows part it each tube by itself; from the pipe's beginning, or from its end. */
export function tablesOf(pipe: PipeBends, fromEnd: boolean): PrintedTable[] {
  const run: PrintedTable = { piece: 'run', rows: rowsOf(pipe.table, runSets(pipe), elbowNames(pipe), fromEnd) }
  if (pipe.elbows.length === 0) return [run]
  const tubes = pipe.tubes.map(({ table, setAngles }, k): PrintedTable => {
    const unknown = table.slice(1).map((): null => null)
    return { piece: k + 1, rows: rowsOf(table, setAngles ?? unknown, unknown, fromEnd) }
  })
  return [run, ...(fromEnd ? tubes.reverse() : tubes)]
}

/** For each bend of the run the angle to set; tubes come in its order, with the elbows between. */
function runSets({ corners, elbows, tubes }: PipeBends): (number | null)[] {
  const sets = tubes.flatMap(({ arcs, setAngles }): readonly (number | null)[] => setAngles ?? arcs.map(() => null))
  return corners.map((point) => (elbows.some((elbow) => elbow.point === point) ? null : (sets.shift() ?? null)))
}

const elbowNames = ({ corners, elbows }: PipeBends): (string | null)[] =>
  corners.map((point) => {
    const elbow = elbows.find((each) => each.point === point)
    return elbow ? elbow.elbow + (elbow.cutDown ? ', cut down' : '') : null
  })

function rowsOf(
  table: readonly BendRow[],
  sets: readonly (number | null)[],
  elbows: readonly (string | null)[],
  fromEnd: boolean,
): TableRow[] {
  const turned = <T>(list: readonly T[]): readonly T[] => (fromEnd ? [...list].reverse() : list)
  const rows = fromEnd ? reversedTable(table) : table
  return rows.map((row, k) => ({ ...row, set: turned(sets)[k] ?? null, elbow: turned(elbows)[k] ?? null }))
}

/** A right-hand rotation in the sense that is printed. */
export const inSense = (rotation: number, sense: Sense): number =>
  sense === 'right-hand' || Math.abs(rotation) === 180 ? rotation : 0 - rotation
