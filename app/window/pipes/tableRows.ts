import type { PipeBends } from '../../../core/pipe/answer.ts'
import type { PeopleUnits } from '../../../core/units/lengthText.ts'
import { words } from '../words.ts'
import { angleOf, sizeOf, tableLength } from './figures.ts'

const { table } = words.pipes

/** A row of the bend table as text; what it does not have is null. */
export interface TableRow {
  readonly name: string
  readonly length: string
  readonly rotation: string | null
  readonly angle: string | null
  readonly radius: string | null
  readonly set: string | null
  /** Stock elbow that is welded in here instead of a bend. */
  readonly elbow: string | null
}

/** The whole run, elbows among the rows; angles to set beside the bends that the bender makes. */
export function tableRows(bends: PipeBends, units: PeopleUnits): TableRow[] {
  const set = bends.tubes.flatMap(
    ({ setAngles, arcs }): readonly (number | null)[] => setAngles ?? arcs.map(() => null),
  )
  const elbows = [...bends.elbows]
  return bends.table.map(({ length, rotation, angle, radius }, i) => {
    // A corner in a straight line is a point without a bend, so points cannot be counted; elbows come in their order.
    const elbow = elbows[0]?.angle === angle ? elbows.shift() : undefined
    const setAngle = angle === undefined || elbow ? null : (set.shift() ?? null)
    return {
      name: angle === undefined ? table.last : String(i + 1),
      length: tableLength(length, units),
      rotation: rotation === undefined || i === 0 ? null : table.degrees(angleOf(rotation)),
      angle: angle === undefined ? null : table.degrees(angleOf(angle)),
      radius: radius === undefined ? null : sizeOf(radius, units),
      set: setAngle === null ? null : table.degrees(angleOf(setAngle)),
      elbow: elbow?.elbow ?? null,
    }
  })
}

/** For the clipboard: a line a row, tabs between. */
export function tableText(rows: readonly TableRow[]): string {
  const head = [table.bend, table.length, table.rotation, table.angle, table.radius, table.set]
  const lines = rows.map((row) => [
    row.name,
    row.length,
    row.rotation ?? '',
    row.angle ?? '',
    row.radius ?? '',
    row.set ?? '',
  ])
  return [head, ...lines].map((line) => line.join('\t').trimEnd()).join('\n')
}
