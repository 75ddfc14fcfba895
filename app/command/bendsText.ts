import type { Bay, Candidate, Pipe } from '../../core/bay/schema.ts'
import type { BendsAnswer, PipeBends } from '../../core/pipe/answer.ts'
import type { PeopleUnits } from '../../core/units/lengthText.ts'
import { reasonText } from '../wording/reasonWords.ts'
import { dText, pressureBand, sizeText, tableLength, tableRounding } from '../wording/bendFigures.ts'
import { type PrintedTable, type Sense, tablesOf } from '../wording/bendTables.ts'
import { bendTableText } from './bendTableText.ts'
import { cautions } from '../wording/cautions.ts'
import { coloured } from './colour.ts'
import { type Fact, factsText } from './facts.ts'
import type { Io } from './io.ts'
import { jointText } from '../wording/jointText.ts'
import { wrapped } from './table.ts'
import { counted, listed } from '../wording/plainWords.ts'

export interface BendsTelling {
  readonly bay: Bay
  readonly candidate: Candidate
  readonly answer: BendsAnswer
  readonly units: PeopleUnits
  /** Tables from the pipes' ends instead of their beginnings. */
  readonly fromEnd: boolean
  /** Which way a pipe's bender counts rotations. */
  readonly senseOf: (pipe: Pipe) => Sense
}

/** How pipes are bent and joined, for people: a block for each, what it comes to, how to read it, the cautions. */
export function bendsText(telling: BendsTelling, io: Io): string {
  const { bay, candidate, answer, units } = telling
  const head = `${bay.name} · candidate ${candidate.id} (${candidate.name}) · ${units === 'mm' ? 'mm' : 'inches'}`
  const paragraphs = [
    wrapped(head, io.columns),
    ...answer.pipes.flatMap((pipe) => pipeTexts(telling, pipe, io)),
    ...answer.unrouted.map((id) => wrapped(unroutedText(candidate, id), io.columns)),
    summaryText(answer, units, io),
    answer.pipes.some(({ arcs }) => arcs.length > 0) ? wrapped(readingText(telling), io.columns) : '',
    wrapped(cautions, io.columns),
  ]
  return `${paragraphs.filter((text) => text !== '').join('\n\n')}\n`
}

const pipeOf = ({ pipes = [] }: Candidate, id: string): Pipe | undefined => pipes.find((pipe) => pipe.id === id)

function unroutedText(candidate: Candidate, id: string): string {
  const pipe = pipeOf(candidate, id)
  return `Pipe ${id} (${pipe?.name}), ${pipe?.from} to ${pipe?.to}: not routed. It has no corners, and its ends do not face each other in line.`
}

function pipeTexts(telling: BendsTelling, pipe: PipeBends, io: Io): string[] {
  const { candidate, units, fromEnd, senseOf } = telling
  const inBay = pipeOf(candidate, pipe.id)
  const said = pipe.makeable ? '✓ can be made' : '✕ cannot be made'
  const title = `Pipe ${pipe.id} (${pipe.name}), ${inBay?.from} to ${inBay?.to}: `
  const mark = coloured(said, pipe.makeable ? 'cyan' : 'magenta', io.colour)
  const sense = inBay ? senseOf(inBay) : 'right-hand'
  const tables = pipe.table.length === 0 ? [] : tablesOf(pipe, fromEnd)
  return [
    wrapped(title + said, io.columns).replace(said, mark),
    ...tables.map((table) => tableBlock(pipe, table, sense, telling, io)),
    factsText(factsOf(pipe, units), io.columns),
    listText('Why it cannot be made:', pipe.reasons, units, io),
    listText('To be watched:', pipe.notes, units, io),
  ]
}

function tableBlock(pipe: PipeBends, table: PrintedTable, sense: Sense, telling: BendsTelling, io: Io): string {
  const parted = pipe.elbows.length > 0
  const piece =
    table.piece === 'run'
      ? parted
        ? 'The whole run, elbows among the bends'
        : 'Bend table'
      : `Tube ${table.piece} of ${pipe.tubes.length}, cut ${tableLength(pipe.tubes[table.piece - 1].cut, telling.units)}`
  const from = telling.fromEnd ? ', from its end' : ''
  const turns = table.rows.filter(({ angle }) => angle !== undefined).length
  const counting = turns > 1 ? ` Rotation is ${sense} about the feed.` : ''
  return `${wrapped(`${piece}${from}.${counting}`, io.columns)}\n${bendTableText(table, sense, telling.units, io)}`
}

function factsOf(pipe: PipeBends, units: PeopleUnits): Fact[] {
  const { outsideDiameter, wall, bendRadius, dOfBend, material, bender, arcs, developed, cut, tubes, joints, loss } =
    pipe
  const size = (mm: number) => sizeText(mm, units)
  const facts: Fact[] = [
    ['tube', `⌀ ${size(outsideDiameter)} × ${size(wall)}${material === null ? '' : `, ${material}`}`],
  ]
  if (arcs.length > 0) {
    facts.push(['bend radius', `${size(bendRadius)}, ${dText(dOfBend)}`], ['bender', bender ?? 'none in the bay'])
    facts.push(['arcs', arcs.map((arc) => tableLength(arc, units)).join(', ')])
  }
  if (pipe.table.length > 0) facts.push(['developed', tableLength(developed, units)])
  if (tubes.length > 0) facts.push(['cut', cutText(cut, tubes.length, units)])
  for (const joint of joints) facts.push([`at ${joint.end === 'from' ? 'beginning' : 'end'}`, jointText(joint, units)])
  if (loss) facts.push(['flow loss', lossText(loss, units)])
  return facts
}

const cutText = (cut: number, tubes: number, units: PeopleUnits): string =>
  `${tableLength(cut, units)}${tubes > 1 ? `, ${tubes} tubes together` : ''}`

/** The band spans methods that differ by a good part of it; its ends are named with the largest item's. */
function lossText(loss: NonNullable<PipeBends['loss']>, units: PeopleUnits): string {
  const methods = [...new Set(loss.items.flatMap((item) => item.methods))]
  const speed = units === 'mm' ? `${loss.speed.toFixed(1)} m/s` : `${(loss.speed / 0.3048).toFixed(1)} ft/s`
  const by = loss.items.map(
    (item) => `${item.what}${item.point === undefined ? '' : ` at corner ${item.point}`} ${pressureBand(item, units)}`,
  )
  return [
    `${pressureBand(loss, units)}, a band between published methods (${listed(methods)}), at ${speed}, Re ${Number(loss.reynolds.toPrecision(2)).toLocaleString('en')}`,
    by.join('; '),
  ].join('\n')
}

const indent = '    '

function listText(head: string, reasons: PipeBends['reasons'], units: PeopleUnits, io: Io): string {
  if (reasons.length === 0) return ''
  const told = reasons.map((reason) => `  – ${wrapped(reasonText(reason, units), io.columns, indent).trimStart()}`)
  return [head, ...told].join('\n')
}

function summaryText({ answer, pipes, unrouted, chainLoss }: BendsAnswer, units: PeopleUnits, io: Io): string {
  const all = pipes.length + unrouted.length
  if (all === 0) return 'No pipe to bend.'
  const good = pipes.filter(({ makeable }) => makeable).length
  const said = answer === 'makeable' ? '✓ makeable' : '✕ not makeable'
  const counts = [
    [good, 'can be made'],
    [pipes.length - good, 'cannot'],
    [unrouted.length, 'not routed'],
  ] as const
  const told = counts.filter(([n]) => n > 0).map(([n, what]) => `${n} ${what}`)
  const loss =
    chainLoss && pipes.length > 1 ? ` Pipes and couplers together lose ${pressureBand(chainLoss, units)}.` : ''
  const text = wrapped(`${said}. ${counted(all, 'pipe')}: ${listed(told)}.${loss}`, io.columns)
  return coloured(said, answer === 'makeable' ? 'cyan' : 'magenta', io.colour) + text.slice(said.length)
}

/** How the tables are read. The fitting is the long-radius one of 2½ inches of ASME B16.9, on pipe of ASME B36.10. */
function readingText({ answer, units }: BendsTelling): string {
  const several = answer.pipes.some(({ arcs }) => arcs.length > 1)
  const set = answer.pipes.some(({ tubes }) => tubes.some(({ setAngles }) => setAngles !== null))
  const rolls = answer.pipes.some(({ joints }) =>
    joints.some(({ clamps }) => clamps.some(({ reach }) => reach?.length)),
  )
  const radius = sizeText(95, units)
  const sentences = [
    'length: straight fed before the bend.',
    several
      ? 'rotation: how far the tube is turned since the bend before; right-hand about the feed means positive as the fingers of the right hand go with its thumb the way the tube is fed, left-hand the other way.'
      : '',
    'angle: turned by the bend.',
    set ? 'set: what the bender is set to, spring-back added.' : '',
    `Rounded to ${tableRounding(units)}; --json and --csv have more.`,
    rolls
      ? 'roll: where round the hose a clamp’s screw stands, 0° upwards (rearwards on a port that faces up or down), right-hand about the way that the pipe leaves the port.'
      : '',
    `D of bend is the bend radius over the tube’s outside diameter. Pipe fittings go by nominal size instead: the long-radius one of nominal 2 1/2 inches is called 1.5 D, and its ${radius} is 1.3 outside diameters of that pipe.`,
  ]
  return sentences.filter((sentence) => sentence !== '').join(' ')
}
