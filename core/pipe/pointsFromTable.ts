import { bad, type Fault, good, type Outcome } from '../fault.ts'
import { add, along, cross, dot, length, scale, sub, unit, type Vec3 } from '../shape/vec.ts'
import type { BendRow } from './answer.ts'

/** Where a run begins. Neither direction need be unit; `up` need not be square to `direction`, but not along it. */
export interface TableStart {
  readonly at: Vec3
  readonly direction: Vec3
  /** To this side a bend of rotation 0 turns. */
  readonly up: Vec3
}

/** At the origin along +X, bending towards +Y. */
const plainStart: TableStart = { at: [0, 0, 0], direction: [1, 0, 0], up: [0, 1, 0] }

/**
 * The way back from a bend table to the corner points of its centreline, both ends among them.
 * @param rows each a straight and the bend after it; the last one a straight alone. Signs as in `bendTable`. A straight
 *   may be negative as long as it leaves a leg between its corners. A rotation before the first bend turns it from `up`.
 * @param start bay frame or any other, mm; by default the origin along +X, bending towards +Y
 * @returns points in the frame of `start`; those that `bendTable` was given within 1e-6 mm (runs of some metres).
 *   Faults with `field` `[row].column`: 'too-few' (no rows), 'missing-field' (a row in between without its bend),
 *   'unknown-field' (a bend in the last row), 'not-finite', 'bend-angle' (not between 0 and 180°), 'bend-too-tight'
 *   (radius not above 0), 'no-leg' (no length left between two corners), 'zero-vector' (no direction, or `up` along it)
 */
export function pointsFromTable(rows: readonly BendRow[], start: TableStart = plainStart): Outcome<Vec3[]> {
  const faults = [...startFaults(start), ...rowFaults(rows)]
  return faults.length > 0 ? bad(...faults) : walked(rows, start)
}

function walked(rows: readonly BendRow[], start: TableStart): Outcome<Vec3[]> {
  let way = unit(start.direction)
  let inward = squared(start.up, way)
  const points: Vec3[] = [start.at]
  const faults: Fault[] = []
  let setback = 0
  for (const [k, { length: straight, rotation = 0, angle = 0, radius = 0 }] of rows.entries()) {
    const [turn, bend] = [rad(rotation), rad(angle)]
    const next = radius * Math.tan(bend / 2)
    const leg = setback + straight + next
    if (!(leg > leastLeg))
      faults.push({
        code: 'no-leg',
        field: `[${k}].length`,
        expected: 'some length left between two corners',
        got: straight,
      })
    points.push(along(points[points.length - 1], way, leg))
    inward = add(scale(inward, Math.cos(turn)), scale(cross(way, inward), Math.sin(turn)))
    const onward = add(scale(way, Math.cos(bend)), scale(inward, Math.sin(bend)))
    // Squared anew at each bend, so that rounding does not grow along the run.
    inward = squared(sub(scale(inward, Math.cos(bend)), scale(way, Math.sin(bend))), unit(onward))
    way = unit(onward)
    setback = next
  }
  return faults.length > 0 ? bad(...faults) : good(points)
}

/** mm; below this two corners are one point. */
const leastLeg = 1e-9

const rad = (degrees: number): number => (degrees * Math.PI) / 180
const squared = (v: Vec3, n: Vec3): Vec3 => unit(along(v, n, -dot(v, n)))

function startFaults({ at, direction, up }: TableStart): Fault[] {
  if (![...at, ...direction, ...up].every(Number.isFinite)) return [{ code: 'not-finite', field: 'start' }]
  if (!(length(direction) > 0)) return [{ code: 'zero-vector', field: 'start.direction', expected: 'a direction' }]
  // 1e-6 of its length across is still 1e-10 of a direction after rounding.
  return length(cross(unit(direction), up)) > 1e-6 * length(up)
    ? []
    : [{ code: 'zero-vector', field: 'start.up', expected: 'a direction across the first straight', got: [...up] }]
}

const bendColumns = ['rotation', 'angle', 'radius'] as const

function rowFaults(rows: readonly BendRow[]): Fault[] {
  if (rows.length === 0) return [{ code: 'too-few', expected: 'at least one row', got: 0 }]
  return rows.flatMap((row, k) => (k === rows.length - 1 ? lastRowFaults(row, k) : bendRowFaults(row, k)))
}

function lastRowFaults(row: BendRow, k: number): Fault[] {
  const bends = bendColumns.filter((column) => row[column] !== undefined)
  return [
    ...numberFaults(row, k),
    ...bends.map((column) => ({
      code: 'unknown-field',
      field: `[${k}].${column}`,
      expected: 'a last row with the last straight alone',
      got: row[column],
    })),
  ]
}

function bendRowFaults(row: BendRow, k: number): Fault[] {
  const { angle, radius } = row
  const wild = numberFaults(row, k)
  if (wild.length > 0) return wild
  const faults: Fault[] = []
  if (angle === undefined) faults.push(missing(k, 'angle'))
  else if (!(angle > 0 && angle < 180))
    faults.push({ code: 'bend-angle', field: `[${k}].angle`, expected: 'an angle above 0 and below 180°', got: angle })
  if (radius === undefined) faults.push(missing(k, 'radius'))
  else if (!(radius > 0))
    faults.push({ code: 'bend-too-tight', field: `[${k}].radius`, expected: 'a radius above 0 mm', got: radius })
  return faults
}

const missing = (k: number, column: string): Fault => ({
  code: 'missing-field',
  field: `[${k}].${column}`,
  expected: 'a bend after every straight but the last',
})

function numberFaults(row: BendRow, k: number): Fault[] {
  return (['length', ...bendColumns] as const).flatMap((column) => {
    const value = row[column]
    if (value === undefined || Number.isFinite(value)) return []
    return [{ code: 'not-finite', field: `[${k}].${column}`, expected: 'a number', got: String(value) }]
  })
}
