import type { MeshReport } from '../../core/shape/meshCheck.ts'
import { type MeshUnit, meshUnits } from '../../core/shape/meshShape.ts'
import { formatLength, type PeopleUnits } from '../../core/units/lengthText.ts'
import type { LoadedMesh } from '../files/bayMeshes.ts'
import { type Fact, factsText } from './facts.ts'
import type { Io } from './io.ts'
import { type Column, tableText, wrapped } from './table.ts'
import { counted, listed } from '../wording/plainWords.ts'

/** What is in a mesh, for people. Its size is shown in one unit only where they named it. */
export function meshText(
  file: { readonly name: string; readonly bytes: number },
  loaded: LoadedMesh,
  unit: MeshUnit | undefined,
  units: PeopleUnits,
  io: Io,
): string {
  const { report, format } = loaded
  const facts = [
    ...countFacts(loaded),
    ...(unit
      ? sizeFacts(report, unit, units)
      : [['size', `${sizeText(report, plain)} in the file’s own numbers`] as const]),
  ]
  const paragraphs = [
    `${file.name}: ${format}, ${grouped(file.bytes)} bytes`,
    factsText(facts, io.columns),
    ...(unit ? [] : [unitTable(report, io), wrapped(unitQuestion(format), io.columns)]),
  ]
  return `${paragraphs.join('\n\n')}\n`
}

/** What was put right or guessed while a mesh was read, a sentence each: the ledger leans on it. Mostly none. */
export function meshNotes(file: string, { report, bentFaces }: LoadedMesh): string[] {
  const left = leftOut(report)
  return [
    ...(report.turnedBack > 0 ? [`${turnedText(report.turnedBack)}, so that the solid is inside`] : []),
    ...(left.length > 0 ? [`triangles left out: ${listed(left)}`] : []),
    ...(bentFaces > 0 ? [bentText(bentFaces)] : []),
  ].map((note) => `${file}: ${note}.`)
}

const leftOut = ({ dropped }: MeshReport): string[] => [
  ...(dropped.zeroArea > 0 ? [`${grouped(dropped.zeroArea)} without area`] : []),
  ...(dropped.repeatedCorner > 0 ? [`${grouped(dropped.repeatedCorner)} with a corner twice`] : []),
]

const turnedText = (turnedBack: number): string =>
  `${counted(turnedBack, 'component')} faced inward and ${turnedBack === 1 ? 'is' : 'are'} turned back`

const bentText = (bentFaces: number): string =>
  `${counted(bentFaces, 'face')} of more than three corners not flat: between its corners the surface is a guess`

function countFacts({ report, trianglesInFile, bentFaces }: LoadedMesh): Fact[] {
  const left = leftOut(report)
  const facts: Fact[] = [
    [
      'triangles',
      grouped(report.triangles) +
        (left.length > 0 ? ` (of ${grouped(trianglesInFile)} in the file; left out: ${listed(left)})` : ''),
    ],
    [
      'vertices',
      grouped(report.vertices) +
        (report.mergedVertices > 0 ? ` (${grouped(report.mergedVertices)} more were equal to one of them)` : ''),
    ],
    ['surface', closureText(report)],
    ['components', grouped(report.components)],
  ]
  if (bentFaces > 0) facts.push(['faces', bentText(bentFaces)])
  return facts
}

function closureText(report: MeshReport): string {
  const turned = report.turnedBack > 0 ? `; ${turnedText(report.turnedBack)}` : ''
  const cavities = report.cavities > 0 ? `; ${counted(report.cavities, 'cavity', 'cavities')} inside` : ''
  if (report.closed) return `closed: a solid${turned}${cavities}`
  const faults = [
    ...(report.openEdges > 0 ? [counted(report.openEdges, 'open edge')] : []),
    ...(report.nonManifoldEdges > 0
      ? [`${counted(report.nonManifoldEdges, 'edge')} with more than two triangles`]
      : []),
    ...(report.misdirectedEdges > 0
      ? [`${counted(report.misdirectedEdges, 'edge')} between triangles wound against each other`]
      : []),
  ]
  return `not closed: a shell without an inside (${listed(faults)})`
}

function sizeFacts({ bounds, area, volume, ...report }: MeshReport, unit: MeshUnit, units: PeopleUnits): Fact[] {
  const factor = meshUnits[unit]
  const length = (x: number) => formatLength(x * factor, units)
  const square = (x: number) =>
    units === 'mm' ? `${plain((x * factor ** 2) / 100)} cm²` : `${plain((x * factor ** 2) / 25.4 ** 2)} in²`
  const cubic = (x: number) =>
    units === 'mm' ? `${plain((x * factor ** 3) / 1000)} cm³` : `${plain((x * factor ** 3) / 25.4 ** 3)} in³`
  return [
    ['unit', `${unit}, as you say`],
    ['size', sizeText({ ...report, bounds, area, volume }, length)],
    ['from', `X ${length(bounds.min[0])}, Y ${length(bounds.min[1])}, Z ${length(bounds.min[2])}`],
    ['to', `X ${length(bounds.max[0])}, Y ${length(bounds.max[1])}, Z ${length(bounds.max[2])}`],
    ['area', square(area)],
    ...(volume === null ? [] : [['volume', cubic(volume)] as const]),
  ]
}

const sizeText = ({ bounds }: MeshReport, text: (x: number) => string): string =>
  bounds.max.map((x, axis) => text(x - bounds.min[axis])).join(' × ')

const unitColumns: readonly Column[] = [
  { head: 'if its unit is', align: 'left' },
  { head: 'it is, in mm', align: 'right' },
  { head: 'in inches', align: 'right' },
]

function unitTable(report: MeshReport, io: Io): string {
  const rows = Object.entries(meshUnits).map(([unit, factor]) => [
    { text: unit },
    { text: sizeText(report, (x) => formatLength(x * factor, 'mm', { bare: true })) },
    { text: sizeText(report, (x) => formatLength(x * factor, 'inch', { decimals: 2, bare: true })) },
  ])
  return tableText(unitColumns, rows, { width: io.columns, colour: io.colour })
}

const unitQuestion = (format: string): string =>
  `The file does not say which.${format === 'GLB' ? ' The GLB standard says metres; not every program keeps to it.' : ''}` +
  ' Name it in the bay, "unit": "mm" for example, or here with --unit.'

/** Six figures, in plain notation where that can be read. */
const plain = (x: number): string => String(Number(x.toPrecision(6)))

/** 1234567 → 1 234 567, with narrow blanks that do not break. */
const grouped = (n: number): string => String(n).replace(/\B(?=(\d{3})+$)/g, '\u202f')
