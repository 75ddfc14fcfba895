import { pipeEnd, pipePoints, stubsOf } from '../../../core/bay/pipeEnds.ts'
import type { PipeEnd } from '../../../core/bay/pipeEnds.ts'
import type { Pipe } from '../../../core/bay/schema.ts'
import type { PipeBends } from '../../../core/pipe/answer.ts'
import type { Piece } from '../../../core/shape/form.ts'
import { turnMatrix } from '../../../core/shape/vec.ts'
import { pipeFigures } from '../../../core/sheet/template/pipeFigures.ts'
import { senseFigure } from '../../../core/sheet/template/senseFigure.ts'
import { sizeText, tableLength, tableRounding, dText, pressureBand } from '../../wording/bendFigures.ts'
import { type Sense, tablesOf } from '../../wording/bendTables.ts'
import { called } from '../../wording/called.ts'
import { pipeOfPart } from '../../wording/partNames.ts'
import { reasonText } from '../../wording/reasonWords.ts'
import type { SheetContext, SheetKind } from '../context.ts'
import { standardScales } from '../settings.ts'
import type { Block, Sheet } from '../sheet.ts'
import { bendTable, clampTable, jointTable, pointTable, portName } from './pipeTables.ts'
import { pipeTemplates } from './pipeTemplates.ts'

/** One sheet a pipe: drawn, its bend table with the way rotations count, cut lengths, joints, what hinders it, templates. */
export const pipeSheets: SheetKind = (context) =>
  (context.facts.candidate.pipes ?? []).flatMap((pipe) => {
    const answer = context.facts.bends.pipes.find(({ id }) => id === pipe.id)
    return [answer ? routedSheet(context, pipe, answer) : unroutedSheet(pipe)]
  })

const sheetOf = (pipe: Pipe, blocks: readonly Block[]): Sheet => ({
  id: 'pipe',
  of: pipe.id,
  title: called('Pipe', pipe.name),
  orientation: 'portrait',
  blocks,
})

const unroutedSheet = (pipe: Pipe): Sheet =>
  sheetOf(pipe, [
    { kind: 'text', tone: 'strong', text: `Not routed: ${pipe.from} to ${pipe.to}.` },
    {
      kind: 'text',
      text: 'The bay gives it no corners, and its ends do not face each other in line. There is nothing to bend yet.',
    },
  ])

/** The pipe's solid is its centreline. */
function centrelineOf({ things }: SheetContext, id: string): readonly Piece[] {
  const thing = things.find(({ name }) => name === `pipe-${id}`)
  return thing?.solid.forms.flatMap((form) => (form.form === 'round' ? form.centreline : [])) ?? []
}

function routedSheet(context: SheetContext, pipe: Pipe, answer: PipeBends): Sheet {
  const centreline = centrelineOf(context, pipe.id)
  const templates = pipeTemplates(context, answer, centreline)
  const blocks: Block[] = [
    {
      kind: 'text',
      tone: 'strong',
      text: answer.makeable ? '✓ Can be made.' : '✕ Cannot be made as it stands: see below.',
    },
    { kind: 'facts', rows: factRows(context, pipe, answer) },
    ...drawnBlocks(context, pipe, centreline),
    ...tableBlocks(context, pipe, answer),
    ...jointBlocks(context, pipe, answer),
    ...remarkBlocks(context, answer),
    ...templates.blocks,
    ...templates.pages,
  ]
  return { ...sheetOf(pipe, blocks), flats: templates.flats }
}

const notGiven = 'not given in the bay'

function factRows({ facts: { bay }, units }: SheetContext, pipe: Pipe, answer: PipeBends): [string, string][] {
  const { outsideDiameter, wall, material, bender, bendRadius, dOfBend, arcs, developed, cut, tubes, loss } = answer
  const size = (mm: number) => sizeText(mm, units)
  const length = (mm: number) => `${tableLength(mm, units)}${units === 'mm' ? ' mm' : '″'}`
  const stock = bay.stock?.tubes?.find(({ id }) => id === pipe.tube)
  const rows: [string, string][] = [
    ['From, to', `${portName(bay, pipe.from)} to ${portName(bay, pipe.to)}`],
    ['Tube', `⌀ ${size(outsideDiameter)} × ${size(wall)}${stock ? `, ${stock.name}` : ''}`],
    ['Material', material ?? notGiven],
  ]
  if (arcs.length > 0) {
    rows.push(['Bend radius', `${size(bendRadius)}, ${dText(dOfBend)} (radius over outside diameter)`])
    rows.push(['Bender', bender ?? notGiven])
  }
  rows.push(['Developed length', length(developed)])
  const several = tubes.length > 1
  if (tubes.length > 0)
    rows.push([
      several ? 'Cut lengths' : 'Cut length',
      several ? `${tubes.map((tube) => length(tube.cut)).join(' + ')} = ${length(cut)}` : length(cut),
    ])
  if (loss) rows.push(['Flow loss', `${pressureBand(loss, units)}, a band between published methods`])
  return rows
}

const viewNames = {
  front: 'From the front',
  side: 'From the left',
  plan: 'From above, front edge down',
  isometric: 'In space, from the front, the left and above; not to scale',
} as const

function drawnBlocks(context: SheetContext, pipe: Pipe, centreline: readonly Piece[]): Block[] {
  const { candidate } = context.facts
  const room = context.room('portrait')
  const figures = pipeFigures({
    id: `pipe-${pipe.id}`,
    things: context.things.filter(({ name, role }) => role === 'part' && pipeOfPart(candidate, name)?.id === pipe.id),
    centreline,
    words: { begin: 'start', end: 'end' },
    width: room.width / 2 - 5,
    height: 82,
    scales: standardScales,
  })
  const items = figures.map(({ view, figure }) => ({
    figure,
    caption: `${viewNames[view]}${figure.scale ? `. Scale 1 : ${figure.scale.real}` : ''}`,
  }))
  return [{ kind: 'figures', across: 2, items }]
}

const senses: Record<Sense, string> = {
  'right-hand':
    'Right-hand: with the thumb of the right hand along the feed, the fingers go the positive way; seen along the feed, clockwise.',
  'left-hand':
    'Left-hand: with the thumb of the left hand along the feed, the fingers go the positive way; seen along the feed, anticlockwise.',
}

/** Which way a pipe's bender counts rotations. */
function senseOf({ facts: { bay } }: SheetContext, pipe: Pipe): Sense {
  const bender = pipe.bender === undefined ? bay.benders?.[0] : bay.benders?.find(({ id }) => id === pipe.bender)
  return bender?.rotation ?? 'right-hand'
}

function tableBlocks(context: SheetContext, pipe: Pipe, answer: PipeBends): Block[] {
  const { units } = context
  if (answer.table.length === 0) return []
  const sense = senseOf(context, pipe)
  const tables = tablesOf(answer, false)
  const several = answer.elbows.length > 0
  const turns = answer.arcs.length > 1
  return [
    { kind: 'heading', level: 2, text: several ? 'Bend table of the whole run' : 'Bend table' },
    ...tables.flatMap((table): Block[] => [
      ...(table.piece === 'run'
        ? []
        : [
            {
              kind: 'heading',
              level: 2,
              text: `Tube ${table.piece} of ${answer.tubes.length}, cut ${tableLength(answer.tubes[table.piece - 1].cut, units)}`,
            } as const,
          ]),
      { kind: 'table', table: bendTable(pipe.id, table, sense, units) },
    ]),
    { kind: 'text', tone: 'small', text: readingText(context, answer, sense) },
    ...(turns ? [senseBlock(pipe, sense)] : []),
    ...pointBlocks(context, pipe),
  ]
}

function readingText({ units }: SheetContext, { arcs, tubes }: PipeBends, sense: Sense): string {
  const set = tubes.some(({ setAngles }) => setAngles !== null)
  return [
    'Length: the straight fed before the bend, from the end of the bend before; the last row is the last straight.',
    arcs.length > 1 ? `Rotation: how far the tube is turned since the bend before. ${senses[sense]}` : '',
    'Angle: turned by the bend.',
    set ? 'Set angle: what the bender is set to, spring-back added.' : '',
    `Rounded to ${tableRounding(units)}.`,
  ]
    .filter((sentence) => sentence !== '')
    .join(' ')
}

const senseBlock = (pipe: Pipe, sense: Sense): Block => ({
  kind: 'figure',
  figure: senseFigure(`rotation-${pipe.id}`, sense, {
    feed: 'feed',
    first: 'start of the pipe goes first',
    die: 'die',
    along: 'seen along the feed',
    zero: ['0°: leg of the bend before;', 'all bends are made to this side'],
    turned: ['+60°: the same leg,', 'the tube turned so far'],
  }),
  caption:
    'How rotations count. At 0° the next bend is in the plane of the one before and turns the same way; at 180° it turns back.',
})

function pointBlocks(context: SheetContext, pipe: Pipe): Block[] {
  const ends = endsOf(context, pipe)
  const points = ends && pipePoints(pipe, ends.from, ends.to)
  if (!points) return []
  const { origin } = context.facts.bay.frame
  return [
    { kind: 'heading', level: 2, text: 'Ends and corners in the bay' },
    {
      kind: 'text',
      tone: 'small',
      text: `From the origin, ${origin}. A corner is where two straights would cross.`,
    },
    { kind: 'table', table: pointTable(pipe.id, points, context.units) },
  ]
}

function endsOf({ facts: { bay, candidate } }: SheetContext, pipe: Pipe): Record<'from' | 'to', PipeEnd> | null {
  const stubs = stubsOf(candidate, { turn: turnMatrix(candidate.turn), at: candidate.at })
  const from = pipeEnd(pipe, 'from', bay, stubs)
  const to = pipeEnd(pipe, 'to', bay, stubs)
  return from && to ? { from, to } : null
}

function jointBlocks(context: SheetContext, pipe: Pipe, answer: PipeBends): Block[] {
  const { facts, units } = context
  const ends = endsOf(context, pipe)
  const clamps = ends && clampTable(facts.bay, pipe, answer, ends, units)
  return [
    { kind: 'heading', level: 2, text: 'Joints' },
    { kind: 'table', table: jointTable(facts.bay, answer, units) },
    ...(clamps && clamps.rows.length > 0
      ? ([
          { kind: 'table', table: clamps },
          { kind: 'text', tone: 'small', text: rollText },
        ] as const)
      : []),
  ]
}

const rollText =
  'Roll: where round the hose the screw stands; 0° upwards (rearwards on a port that faces up or down), right-hand about the way ' +
  'that the pipe leaves the port. Mark on the tube how far the hose goes over it before it is put on.'

function remarkBlocks({ units }: SheetContext, { reasons, notes }: PipeBends): Block[] {
  const list = (head: string, of: PipeBends['reasons']): Block[] =>
    of.length === 0
      ? []
      : [
          { kind: 'heading', level: 2, text: head },
          { kind: 'list', items: of.map((reason) => reasonText(reason, units)) },
        ]
  return [...list('Why it cannot be made as it stands', reasons), ...list('To be watched', notes)]
}
