import type { Content, CustomTableLayout } from 'pdfmake/interfaces'
import type { Figure } from '../../../core/sheet/figure/figure.ts'
import { figureSvg } from '../svg/figureSvg.ts'
import type { Block } from '../sheet.ts'
import { pointsPerMm } from './page.ts'
import { scaleText } from './head.ts'
import { tableContent } from './tables.ts'

/** All but those that take a page of their own. */
export type FlowBlock = Exclude<Block, { kind: 'page' }>

interface Room {
  /** pt */
  readonly width: number
  readonly height: number
}

type Tone = NonNullable<Extract<Block, { kind: 'text' }>['tone']>

const caution: CustomTableLayout = {
  hLineWidth: () => 0.7,
  vLineWidth: (column) => (column === 0 ? 3 : 0.7),
  paddingLeft: () => 6,
  paddingRight: () => 5,
  paddingTop: () => 3,
  paddingBottom: () => 3,
}

const toned: Record<Tone, (text: string) => Content> = {
  plain: (text) => ({ text, margin: [0, 0, 0, 5] }),
  small: (text) => ({ text, fontSize: 7, margin: [0, 0, 0, 4] }),
  strong: (text) => ({ text, bold: true, fontSize: 10, margin: [0, 2, 0, 5] }),
  caution: (text) => ({
    table: { widths: ['*'], body: [[{ text }]] },
    layout: caution,
    margin: [0, 2, 0, 6],
  }),
}

/** A block as the layout library takes it. Each kind of block has its row here. */
const contents: { readonly [K in FlowBlock['kind']]: (block: Extract<FlowBlock, { kind: K }>, room: Room) => Content } =
  {
    heading: ({ text, level }) => ({
      text,
      bold: true,
      fontSize: level === 1 ? 11.5 : 9.5,
      margin: [0, level === 1 ? 6 : 4, 0, 3],
      headlineLevel: level,
    }),
    text: ({ text, tone }) => toned[tone ?? 'plain'](text),
    list: ({ items, numbered }) => ({
      ...(numbered ? { ol: [...items] } : { ul: [...items] }),
      margin: [0, 0, 0, 6],
    }),
    facts: ({ rows }) => ({
      table: { widths: ['auto', '*'], body: rows.map(([name, what]) => [{ text: name, color: '#444444' }, what]) },
      layout: 'noBorders',
      margin: [0, 0, 0, 6],
    }),
    table: ({ table }, { width }) => tableContent(table, width),
    figure: ({ figure, caption }, room) => ({
      stack: [drawn(figure, room), ...captionOf(figure, caption, room)],
      unbreakable: true,
      margin: [0, 2, 0, 6],
    }),
    figures: ({ across, items }, whole) => {
      const room = besideRoom(across, whole)
      const cells = items.map(({ figure, caption }) => ({
        stack: [drawn(figure, room), { text: caption + shrunkText(figure, room), fontSize: 7.5, margin: [0, 2, 0, 4] }],
      }))
      const rows = Array.from({ length: Math.ceil(cells.length / across) }, (_, row) =>
        Array.from({ length: across }, (_, n) => cells[row * across + n] ?? ''),
      )
      return {
        table: { dontBreakRows: true, widths: Array(across).fill(room.width), body: rows as Content[][] },
        layout: { ...framed },
        margin: [0, 2, 0, 6],
      }
    },
    sign: ({ lines }, { width }) => ({
      columns: lines.map((line) => ({
        stack: [
          {
            canvas: [{ type: 'line', x1: 0, y1: 0, x2: width / Math.max(lines.length, 2) - 12, y2: 0, lineWidth: 0.5 }],
          },
          { text: line, fontSize: 7, color: '#444444', margin: [0, 1, 0, 0] },
        ],
        width: width / Math.max(lines.length, 2) - 12,
      })),
      columnGap: 12,
      unbreakable: true,
      margin: [0, 26, 0, 8],
    }),
    break: () => ({ text: '', pageBreak: 'after' }),
  }

const framed: CustomTableLayout = {
  hLineWidth: () => 0.25,
  vLineWidth: () => 0.25,
  hLineColor: () => '#9a9a9a',
  vLineColor: () => '#9a9a9a',
  paddingLeft: () => 3.5,
  paddingRight: () => 3.5,
  paddingTop: () => 3,
  paddingBottom: () => 2,
}

function blockContent<B extends FlowBlock>(block: B, room: Room): Content {
  const content = contents[block.kind] as unknown as (block: B, room: Room) => Content
  return content(block, room)
}

/** Blocks one below the other; a heading never stands alone at the foot of a page. */
export const flowContent = (blocks: readonly FlowBlock[], room: Room): Content[] =>
  blocks.map((block, n) => {
    const content = blockContent(block, room)
    const next = blocks[n + 1]
    if (block.kind !== 'heading' || !next || next.kind === 'break') return content
    // Room that is asked for together with the heading, and given back.
    const ahead = Math.min(beginOf(blocks, n + 1, room), room.height * 0.9)
    return { stack: [{ stack: [content], margin: [0, 0, 0, ahead] }], unbreakable: true, margin: [0, 0, 0, -ahead] }
  })

/** What the first piece of a block takes at least, that can stand on a page by itself, pt. */
function beginOf(blocks: readonly FlowBlock[], n: number, room: Room): number {
  const block = blocks[n]
  if (!block) return 0
  if (block.kind === 'heading') return 18 + beginOf(blocks, n + 1, room)
  if (block.kind === 'figure') return heightOf(block.figure, room) + 16
  if (block.kind === 'figures')
    return Math.max(...block.items.slice(0, block.across).map(({ figure }) => heightOf(figure, room))) + 24
  return block.kind === 'table' ? 56 : 30
}

const heightOf = (figure: Figure, room: Room): number => figure.height * pointsPerMm * shrinkOf(figure, room)

/** Share at which a figure is drawn: 1, and less only where it would run out of its room. */
const shrinkOf = ({ width, height }: Figure, room: Room): number =>
  Math.min(1, room.width / (width * pointsPerMm), room.height / (height * pointsPerMm))

/** The scales at which the figures of a block stand on the page. */
export function scalesIn(block: Block, room: Room): Figure['scale'][] {
  if (block.kind === 'figure' || block.kind === 'page') return [scaleOn(block.figure, room)]
  return block.kind === 'figures'
    ? block.items.map(({ figure }) => scaleOn(figure, besideRoom(block.across, room)))
    : []
}

/** For each of so many figures beside each other. */
const besideRoom = (across: number, { width, height }: Room): Room => ({ width: width / across - 8, height })

/** None where a figure had to be drawn smaller than it says. */
const scaleOn = (figure: Figure, room: Room): Figure['scale'] =>
  shrinkOf(figure, room) > 1 - rounding ? figure.scale : null

/** Nobody measures a share so small. */
const rounding = 1e-6

const shrunkText = (figure: Figure, room: Room): string =>
  figure.scale && !scaleOn(figure, room) ? ' Drawn smaller to fit this paper: not to scale, not to be measured.' : ''

/** At its true size: a millimetre of the figure is one on paper. */
export function drawn(figure: Figure, room: Room): Content {
  const shrink = shrinkOf(figure, room)
  return {
    svg: figureSvg(figure),
    width: figure.width * pointsPerMm * shrink,
    height: figure.height * pointsPerMm * shrink,
  }
}

function captionOf(figure: Figure, caption: string | undefined, room: Room): Content[] {
  const { scaleInstead } = figure
  const scale = scaleOn(figure, room)
  const words = [
    ...(caption ? [caption] : []),
    ...(scale ? [`Scale ${scaleText(scale)}.`] : []),
    ...(scaleInstead ? ['The scale that was asked for does not fit this paper.'] : []),
  ]
  const text = (words.join(' ') + shrunkText(figure, room)).trim()
  return text === '' ? [] : [{ text, fontSize: 7.5, margin: [0, 2, 0, 0] }]
}
