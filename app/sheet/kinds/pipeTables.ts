import type { PipeEnd } from '../../../core/bay/pipeEnds.ts'
import type { Bay, Pipe } from '../../../core/bay/schema.ts'
import type { JointAnswer, PipeBends } from '../../../core/pipe/answer.ts'
import type { Vec3 } from '../../../core/shape/vec.ts'
import type { PeopleUnits } from '../../../core/units/lengthText.ts'
import { sizeText, tableLength, turnText } from '../../wording/bendFigures.ts'
import { inSense, type PrintedTable, type Sense, type TableRow } from '../../wording/bendTables.ts'
import { reachText } from '../../wording/jointText.ts'
import type { Cell, Column, Table } from '../sheet.ts'
import { lengthCell, littleCell, muchCell, textCell, unitText } from './cells.ts'

const dash: Cell = { text: '', value: null }
const runLength = (mm: number, units: PeopleUnits): Cell => ({ text: tableLength(mm, units), value: mm })
const angleCell = (degrees: number): Cell => ({ text: turnText(degrees), value: degrees })

const lengthColumn = (id: string, head: string, units: PeopleUnits): Column => ({
  id,
  head: `${head}, ${unitText(units)}`,
  quantity: 'length',
  align: 'right',
})
const textColumn = (id: string, head: string, wide = 1): Column => ({ id, head, quantity: 'text', wide })
const angleColumn = (id: string, head: string): Column => ({ id, head, quantity: 'angle', align: 'right' })

/** What of a bend table the rows fill; columns that would be empty throughout are left out. */
interface BendColumn {
  readonly column: Column
  readonly cell: (row: TableRow, k: number) => Cell
  readonly always?: boolean
}

/** Length, rotation, angle, angle to set and radius of each bend, and the last straight. */
export function bendTable(pipe: string, { piece, rows }: PrintedTable, sense: Sense, units: PeopleUnits): Table {
  const all: readonly BendColumn[] = [
    {
      column: { id: 'bend', head: 'Bend', quantity: 'text' },
      cell: ({ angle }, k) => textCell(angle === undefined ? 'end' : String(k + 1)),
      always: true,
    },
    { column: lengthColumn('length', 'Length', units), cell: ({ length }) => runLength(length, units), always: true },
    {
      column: angleColumn('rotation', 'Rotation'),
      // Before the first bend there is nothing to turn from.
      cell: ({ rotation }, k) =>
        rotation === undefined ? dash : k === 0 ? { text: '', value: 0 } : angleCell(inSense(rotation, sense)),
      always: true,
    },
    {
      column: angleColumn('angle', 'Angle'),
      cell: ({ angle }) => (angle === undefined ? dash : angleCell(angle)),
      always: true,
    },
    { column: angleColumn('set-angle', 'Set angle'), cell: ({ set }) => (set === null ? dash : angleCell(set)) },
    {
      column: lengthColumn('radius', 'Radius', units),
      cell: ({ radius }) => (radius === undefined ? dash : { text: sizeText(radius, units, true), value: radius }),
      always: true,
    },
    { column: textColumn('elbow', 'Elbow welded in'), cell: ({ elbow }) => textCell(elbow ?? '') },
  ]
  const kept = all.filter(({ cell, always }) => always || rows.some((row, k) => cell(row, k).text !== ''))
  return {
    id: piece === 'run' ? `bends-${pipe}` : `bends-${pipe}-tube-${piece}`,
    columns: kept.map(({ column }) => column),
    rows: rows.map((row, k) => kept.map(({ cell }) => cell(row, k))),
  }
}

/** Where the pipe begins and ends and its straights would cross, bay frame. */
export const pointTable = (pipe: string, points: readonly Vec3[], units: PeopleUnits): Table => ({
  id: `points-${pipe}`,
  columns: [
    textColumn('point', 'Point'),
    lengthColumn('x', 'X rearward', units),
    lengthColumn('y', 'Y to the right', units),
    lengthColumn('z', 'Z up', units),
  ],
  rows: points.map((point, k) => [
    textCell(k === 0 ? 'start' : k === points.length - 1 ? 'end' : `corner ${k}`),
    ...point.map((mm) => runLength(mm, units)),
  ]),
})

const endName = { from: 'start', to: 'end' } as const

/** How either end is joined: coupler, open gap, and how deep port and pipe go in. */
export const jointTable = (bay: Bay, pipe: PipeBends, units: PeopleUnits): Table => ({
  id: `joints-${pipe.id}`,
  columns: [
    textColumn('end', 'At'),
    textColumn('port', 'Port'),
    textColumn('joint', 'Joint', 2),
    lengthColumn('gap', 'Gap between tubes', units),
    lengthColumn('over-port', 'Over the port', units),
    lengthColumn('port-needs', 'needs', units),
    lengthColumn('over-pipe', 'Over the pipe', units),
    lengthColumn('pipe-needs', 'needs', units),
  ],
  rows: pipe.joints.map((joint) => [
    textCell(endName[joint.end]),
    textCell(portName(bay, joint.port)),
    textCell(jointName(bay, joint)),
    joint.gap === undefined ? dash : lengthCell(joint.gap, units),
    ...insertionCells(joint, units),
  ]),
})

/** A port of the car by its name, one of a tank by tank and id. */
export function portName({ ports }: Bay, port: string): string {
  const ofTank = /^tank-(left|right):(.*)$/.exec(port)
  return ofTank ? `${ofTank[1]} tank, ${ofTank[2]}` : (ports?.find(({ id }) => id === port)?.name ?? port)
}

function jointName({ stock }: Bay, { kind, coupler }: JointAnswer): string {
  if (kind === 'none') return 'not given in the bay'
  if (kind === 'weld') return 'welded'
  return stock?.couplers?.find(({ id }) => id === coupler)?.name ?? coupler ?? ''
}

function insertionCells({ insertion }: JointAnswer, units: PeopleUnits): Cell[] {
  if (!insertion) return [dash, dash, dash, dash]
  const { port, neededPort, pipe, neededPipe } = insertion
  return [littleCell(port, units), muchCell(neededPort, units), littleCell(pipe, units), muchCell(neededPipe, units)]
}

/** Each clamp: what it closes on, where its band lies on the hose, where its screw stands. */
export function clampTable(
  { stock }: Bay,
  inBay: Pipe,
  pipe: PipeBends,
  ends: Readonly<Record<'from' | 'to', PipeEnd>>,
  units: PeopleUnits,
): Table {
  const rows = pipe.joints.flatMap((joint) =>
    joint.clamps.map(({ on, clamp, closesOn, reach }): Cell[] => {
      const resolved = ends[joint.end].joint
      const place = resolved?.clamps.find((each) => each.on === on)
      const given = inBay.joints?.[joint.end]
      const roll = given?.kind === 'coupler' ? given.clamps?.[on]?.roll : undefined
      const fromEnd = resolved && place ? (on === 'port' ? place.along : resolved.length - place.along) : null
      return [
        textCell(`${endName[joint.end]}, on the ${on}`),
        textCell(stock?.clamps?.find(({ id }) => id === clamp)?.name ?? clamp),
        lengthCell(closesOn, units),
        fromEnd === null ? dash : lengthCell(fromEnd, units),
        roll === undefined ? textCell('any') : angleCell(roll),
        textCell(reachText(reach)),
      ]
    }),
  )
  return {
    id: `clamps-${pipe.id}`,
    columns: [
      textColumn('at', 'At'),
      textColumn('clamp', 'Clamp'),
      lengthColumn('closes-on', 'Closes on ⌀', units),
      lengthColumn('band-from-hose-end', 'Band’s middle from the hose’s end', units),
      { ...textColumn('screw-roll', 'Screw at roll'), align: 'right' },
      textColumn('tool', 'Its tool', 2),
    ],
    rows,
  }
}
