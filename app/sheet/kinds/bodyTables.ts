import { holePlace, mountFrame } from '../../../core/bay/mountFrame.ts'
import type { Candidate } from '../../../core/bay/schema.ts'
import { portPoint, stubDirection, tankFrame } from '../../../core/bay/tankPort.ts'
import { generalTolerance } from '../../../core/sheet/facts/generalTolerance.ts'
import { tankSides } from '../../../core/sheet/figure/cooler.ts'
import type { Vec3 } from '../../../core/shape/vec.ts'
import { formatUncertainty } from '../../../core/units/lengthText.ts'
import { fineWithUnit, ways } from '../../wording/plainWords.ts'
import type { SheetContext } from '../context.ts'
import type { Cell, Column, Table } from '../sheet.ts'
import { lengthCell, muchCell, textCell, unitText } from './cells.ts'

const number = (id: string, head: string): Column => ({ id, head, quantity: 'length', align: 'right', wide: 0 })
const text = (id: string, head: string, wide: number): Column => ({ id, head, quantity: 'text', wide })

/** Of the sizes that carry no tolerance of their own. */
const general = 'm'

interface Size {
  readonly of: string
  readonly mm: number
}

/** What is to be made, with the general tolerance of each size. */
export function sizeTable({ facts: { candidate }, units }: SheetContext): Table {
  const unit = unitText(units)
  return {
    id: 'sizes',
    columns: [
      text('size', 'Size', 2),
      number('nominal', `Nominal, ${unit}`),
      number('general-tolerance', `Within, ±${unit}`),
    ],
    rows: sizesOf(candidate).map(({ of, mm }) => [textCell(of), lengthCell(mm, units), toleranceCell(mm, units)]),
  }
}

function toleranceCell(mm: number, units: SheetContext['units']): Cell {
  const within = generalTolerance(mm, general)
  if (within === null) return { text: '', value: null }
  // Rounded down, in thousandths of an inch: a shop that keeps to the figure keeps to the standard.
  const shown = units === 'mm' ? String(within) : (Math.floor((within / 25.4) * 1000 + 1e-9) / 1000).toFixed(3)
  return { text: shown, value: within }
}

function sizesOf(candidate: Candidate): Size[] {
  const { core, tanks } = candidate
  const over = tankSides(candidate).reduce((sum, side) => sum + (tanks?.[side]?.length ?? 0), core.width)
  return [
    { of: 'Core, depth', mm: core.depth },
    { of: 'Core, width from tank to tank', mm: core.width },
    { of: 'Core, height', mm: core.height },
    ...tankSides(candidate).flatMap((side) => tankSizes(candidate, side)),
    ...(over > core.width ? [{ of: 'Width over core and tanks', mm: over }] : []),
  ]
}

function tankSizes({ core, tanks }: Candidate, side: 'left' | 'right'): Size[] {
  const tank = tanks?.[side]
  if (!tank) return []
  const { halfDepth, halfHeight, length } = tankFrame(core, tank, side)
  const name = `Tank ${side}`
  const isTapered = halfDepth[0] !== halfDepth[1] || halfHeight[0] !== halfHeight[1]
  return [
    { of: `${name}, length`, mm: length },
    { of: `${name}, foot, depth`, mm: 2 * halfDepth[0] },
    { of: `${name}, foot, height`, mm: 2 * halfHeight[0] },
    ...(isTapered
      ? [
          { of: `${name}, far end, depth`, mm: 2 * halfDepth[1] },
          { of: `${name}, far end, height`, mm: 2 * halfHeight[1] },
        ]
      : []),
  ]
}

/** Which tolerances hold, and whether what is made to them stays within what the gaps count on. */
export function tolerancesText({ facts: { candidate }, units }: SheetContext): string[] {
  const length = (mm: number) => formatUncertainty(mm, units, fineWithUnit(units))
  const { core, tanks } = candidate
  const own = tankSides(candidate).map((side) => {
    const tolerance = tanks?.[side]?.tolerance ?? 0
    return tolerance > 0
      ? `tank ${side}: no face more than ${length(tolerance)} out`
      : `tank ${side}: none given in the bay, no face out at all`
  })
  const worst = Math.max(...[core.depth, core.width, core.height].map((mm) => (generalTolerance(mm, general) ?? 0) / 2))
  const beyond =
    worst > (core.tolerance ?? 0) + 1e-9
      ? [
          `The general tolerance lets a face of the core stand out by half of it, up to ${length(worst)}: more than the gaps count on (${length(core.tolerance ?? 0)}). Keep the core closer than the table, or give it that tolerance in the bay.`,
        ]
      : []
  return [
    `Within: the general tolerance of ISO 2768-1, class ${general}, which holds unless otherwise stated. ${own.length > 0 ? `What the gaps count on, beyond nominal: ${own.join('; ')}.` : ''}`.trim(),
    ...beyond,
  ]
}

/** From the core's front face, its middle, and its lower face. */
const measured = ({ core }: Candidate, [x, y, z]: Vec3): Vec3 => [x + core.depth / 2, y, z + core.height / 2]

const placeColumns = (unit: string) => [number('x', `X, ${unit}`), number('y', `Y, ${unit}`), number('z', `Z, ${unit}`)]
const placeCells = (place: Vec3, units: SheetContext['units']): Cell[] => place.map((mm) => lengthCell(mm, units))

/** `up`, or its shares along X, Y and Z where it runs along none of them. */
function wayText(way: Vec3): string {
  const k = way.findIndex((x) => Math.abs(Math.abs(x) - 1) < 1e-9)
  return k < 0 ? way.map((x) => x.toFixed(3)).join(', ') : ways[k][way[k] < 0 ? 0 : 1]
}

export function portTable({ facts: { candidate }, units }: SheetContext): Table {
  const unit = unitText(units)
  const ports = tankSides(candidate).flatMap((side) => {
    const tank = candidate.tanks?.[side]
    const frame = tank && tankFrame(candidate.core, tank, side)
    return frame ? (tank.ports ?? []).map((port) => ({ side, port, at: portPoint(port, frame) })) : []
  })
  return {
    id: 'stubs',
    columns: [
      text('stub', 'Stub', 1.3),
      text('face', 'Face', 0.6),
      number('diameter', `Outside ⌀, ${unit}`),
      number('length', `Length, ${unit}`),
      text('way', 'Points', 0.8),
      ...placeColumns(unit),
      text('bead', `Bead: height, width, from end, ${unit}`, 1.4),
    ],
    rows: ports.map(({ side, port, at }) => [
      textCell(`${side} ${port.id}`),
      textCell(port.face),
      lengthCell(port.outsideDiameter, units),
      lengthCell(port.length, units),
      textCell(wayText(stubDirection(port, side))),
      ...placeCells(measured(candidate, at), units),
      textCell(
        port.bead
          ? [port.bead.height, port.bead.width, port.bead.fromEnd].map((mm) => lengthCell(mm, units).text).join(', ')
          : 'none',
      ),
    ]),
  }
}

export function holeTable({ facts: { candidate, bay }, units }: SheetContext): Table {
  const unit = unitText(units)
  const fixing = (id: string | undefined) => bay.fixings?.find((each) => each.id === id)?.name ?? id ?? ''
  const rows = (candidate.mounts ?? []).flatMap(({ name, on, shape, tolerance }) => {
    const frame = mountFrame(candidate, on)
    if (!frame) return []
    const row = (what: string, size: string, at: Vec3, way: string, to: string | undefined) => [
      textCell(name),
      textCell(what),
      textCell(size),
      ...placeCells(measured(candidate, at), units),
      textCell(way),
      tolerance === undefined ? { text: '', value: null } : muchCell(tolerance, units),
      textCell(fixing(to)),
    ]
    const bare = (mm: number) => lengthCell(mm, units).text
    if (shape.kind === 'pin')
      return [
        row('pin', `⌀ ${bare(shape.diameter)} × ${bare(shape.length)}`, frame.at, wayText(frame.out), shape.fixing),
      ]
    return (shape.holes ?? []).map((hole) => {
      const { at, axis } = holePlace(hole, shape, frame)
      const slot = hole.length !== undefined && hole.length > hole.diameter
      const size = slot ? `${bare(hole.diameter)} × ${bare(hole.length ?? 0)}` : `⌀ ${bare(hole.diameter)}`
      return row(slot ? 'slot' : 'hole', size, at, wayText(axis), hole.fixing)
    })
  })
  return {
    id: 'mount-holes',
    columns: [
      text('mount', 'Mount', 1.3),
      text('kind', 'Kind', 0.5),
      text('size', `Size, ${unit}`, 0.9),
      ...placeColumns(unit),
      text('axis', 'Axis', 0.6),
      number('tolerance', `May be off, ${unit}`),
      text('fixing', 'Fixes to', 1.5),
    ],
    rows,
  }
}
