import { arrow, type Point } from '../viewport/dimension.ts'
import type { Box } from '../viewport/labels.ts'
import { placeBoxes } from '../../../core/sheet/figure/placeBoxes.ts'
import { escaped } from '../../sheet/svg/xmlText.ts'
import { figure, hatchPatterns, type PaperHatch } from './svgPaper.ts'

/** A place on a drawing, mm: to the right, and up. */
export type Place = readonly [x: number, y: number]

/** A solid on a drawing. Places in mm of the bay, to the right and up. */
export interface DrawnThing {
  readonly name: string
  readonly hatch: PaperHatch
  /** Of the candidate: drawn in its own ink. */
  readonly isPart?: boolean
  /** Stands back: its lines only, and thin. */
  readonly ghosted?: boolean
  /** Closed rings round what it covers; filled by the non-zero rule. */
  readonly rings: readonly (readonly Place[])[]
  /** Its edges that are seen, and those that something hides. */
  readonly lines: readonly (readonly Place[])[]
  readonly hidden?: readonly (readonly Place[])[]
}

export interface DrawnDimension {
  /** 'gap' from witness to witness, 'across' and 'up' outside the candidate. */
  readonly kind: 'gap' | 'across' | 'up'
  readonly from: Place
  readonly to: Place
  /** As people read it, units and rounding included, and what it is measured to. */
  readonly text: string
  readonly name: string
  /** The true value, mm: for programs that read the file. */
  readonly mm: number
}

export interface DrawingSheet {
  readonly title: string
  readonly caption: readonly string[]
  /** Drawn in this order: what comes later lies over it. */
  readonly things: readonly DrawnThing[]
  readonly dimensions: readonly DrawnDimension[]
}

/** Units of the file in a millimetre of paper. */
const fine = 4
const paper = { width: 420, height: 297, margin: 22, foot: 24 }
/** Common scales for drawings, 1 to so much (ISO 5455). */
const scales = [1, 2, 5, 10, 20, 50, 100]

/**
 * A drawing as the text of an SVG file: A3 on its side, at a standard scale, with hatches by role, dimensions and a
 * caption. What is seen is drawn wide, what is hidden dashed and narrow (ISO 128-2, types 01.2 and 02.1; from memory).
 * @returns text that an XML reader takes; names are escaped
 */
export function drawingSvg({ title, caption, things, dimensions }: DrawingSheet): string {
  const spread = extentOf(things, dimensions)
  const room = [paper.width - 2 * paper.margin, paper.height - 2 * paper.margin - paper.foot] as const
  const needed = Math.max((spread.right - spread.left) / room[0], (spread.bottom - spread.top) / room[1])
  const scale = scales.find((each) => each >= needed) ?? Math.ceil(needed)
  const k = fine / scale
  const [cx, cy] = [(paper.width * fine) / 2, ((paper.height - paper.foot) * fine) / 2]
  const put = ([x, y]: Place): Point => [
    cx + (x - (spread.left + spread.right) / 2) * k,
    cy - (y - (spread.top + spread.bottom) / 2) * k,
  ]
  const [width, height] = [paper.width * fine, paper.height * fine]
  return `<?xml version="1.0" encoding="UTF-8"?>
<svg xmlns="http://www.w3.org/2000/svg" width="${paper.width}mm" height="${paper.height}mm" viewBox="0 0 ${width} ${height}" font-family="DejaVu Sans, Verdana, sans-serif" font-size="12">
<title>${escaped(title)}</title>
<desc>${escaped([...caption, `scale 1 : ${scale}`].join(' | '))}</desc>
<defs>
${hatchPatterns()}
</defs>
<rect width="${width}" height="${height}" fill="#fdfcf6"/>
<rect x="20" y="20" width="${width - 40}" height="${height - 40}" fill="none" stroke="#1c2630" stroke-width="1.4"/>
${things.map((thing) => filled(thing, put)).join('')}
${things.map((thing) => stroked(thing, put)).join('\n')}
${drawnDimensions(dimensions, put)}
${drawnCaption(title, [...caption, `scale 1 : ${scale}`])}
</svg>
`
}

function extentOf(things: readonly DrawnThing[], dimensions: readonly DrawnDimension[]): Box {
  const box = { left: Infinity, right: -Infinity, top: Infinity, bottom: -Infinity }
  const take = ([x, y]: Place) => {
    box.left = Math.min(box.left, x)
    box.right = Math.max(box.right, x)
    box.top = Math.min(box.top, y)
    box.bottom = Math.max(box.bottom, y)
  }
  for (const { rings, lines } of things) for (const line of [...rings, ...lines]) line.forEach(take)
  for (const { from, to } of dimensions) [from, to].forEach(take)
  return box.left <= box.right ? box : { left: -1, right: 1, top: -1, bottom: 1 }
}

const pathOf = (all: readonly (readonly Place[])[], put: (place: Place) => Point, end = ''): string =>
  all.map((line) => `M${line.map((place) => put(place).map(figure).join(' ')).join('L')}${end}`).join('')

/** What a solid covers; all of them lie under all lines, so that none hides what is seen before it. */
function filled({ hatch, isPart = false, ghosted, rings }: DrawnThing, put: (place: Place) => Point): string {
  const area = pathOf(rings, put, 'Z')
  if (ghosted || area === '') return ''
  const tint = `<path d="${area}" fill="${isPart ? '#d7e3f2' : '#dedbd0'}" fill-opacity="${isPart ? 0.75 : 0.35}"/>`
  return hatch === 'none' ? tint : `${tint}<path d="${area}" fill="url(#hatch-${hatch})"/>`
}

function stroked({ name, isPart = false, ghosted, lines, hidden }: DrawnThing, put: (place: Place) => Point): string {
  const ink = isPart ? '#1b4c88' : '#4b4f52'
  const wide = ghosted ? 0.5 : isPart ? 1.8 : 1.2
  const strokes = [
    lines.length > 0 ? `<path d="${pathOf(lines, put)}" stroke-width="${wide}"/>` : '',
    hidden && hidden.length > 0 ? `<path d="${pathOf(hidden, put)}" stroke-width="0.5" stroke-dasharray="4 2.5"/>` : '',
  ].join('')
  return `<g data-name="${escaped(name)}"><title>${escaped(name)}</title><g fill="none" stroke="${ink}" stroke-linejoin="round">${strokes}</g></g>`
}

/** Letters over lines stand out from them; as attributes, since a page that opens the file may take no styles. */
const halo = 'paint-order="stroke" stroke="#fdfcf6" stroke-width="3.5" stroke-linejoin="round"'
/** Overall sizes stand this far outside what they measure. */
const outside = 46

function drawnDimensions(dimensions: readonly DrawnDimension[], put: (place: Place) => Point): string {
  const drawn = dimensions.map((dimension) => ({ dimension, ends: endsOf(dimension, put) }))
  const gaps = drawn.filter(({ dimension }) => dimension.kind === 'gap')
  const sizes = drawn.filter(({ dimension }) => dimension.kind !== 'gap')
  const room = { left: 30, top: 30, right: paper.width * fine - 30, bottom: (paper.height - paper.foot) * fine - 10 }
  const taken = sizes.map(({ dimension, ends: [a, b] }) => textBox([(a[0] + b[0]) / 2, (a[1] + b[1]) / 2], dimension))
  const places = placeBoxes(
    gaps.map(({ dimension, ends: [a, b] }) => ({
      at: [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2],
      width: Math.max(dimension.text.length * 7.8, dimension.name.length * 6.8) + 8,
      height: 31,
      towards: towards(a, b),
    })),
    taken,
    room,
  )
  return [
    ...sizes.map(({ dimension, ends }) => sizeLine(dimension, ends, put)),
    ...gaps.map(({ dimension, ends }, i) => gapLine(dimension, ends, places[i])),
  ].join('\n')
}

function endsOf({ kind, from, to }: DrawnDimension, put: (place: Place) => Point): readonly [Point, Point] {
  const [a, b] = [put(from), put(to)]
  if (kind === 'across')
    return [
      [a[0], a[1] + outside],
      [b[0], a[1] + outside],
    ]
  if (kind === 'up')
    return [
      [a[0] - outside, a[1]],
      [a[0] - outside, b[1]],
    ]
  return [a, b]
}

const towards = (a: Point, b: Point): Point => {
  const size = Math.hypot(b[0] - a[0], b[1] - a[1])
  return size > 1e-6 ? [(b[0] - a[0]) / size, (b[1] - a[1]) / size] : [1, 0]
}

/** Room of an overall size's figure; the upright one is written upwards, left of its line. */
function textBox([x, y]: Point, { text, kind }: DrawnDimension): Box {
  const half = text.length * 4.2 + 4
  return kind === 'up'
    ? { left: x - 18, right: x + 6, top: y - half, bottom: y + half }
    : { left: x - half, right: x + half, top: y - 18, bottom: y + 6 }
}

const attributes = ({ kind, mm, name }: DrawnDimension): string =>
  `class="dimension" data-kind="${kind}" data-mm="${figure(mm)}" data-to="${escaped(name)}"`
const line = (a: Point, b: Point, width: number): string =>
  `<path d="M${a.map(figure).join(' ')}L${b.map(figure).join(' ')}" fill="none" stroke-width="${width}"/>`

function sizeLine(dimension: DrawnDimension, [a, b]: readonly [Point, Point], put: (place: Place) => Point): string {
  const way = towards(a, b)
  const [x, y] = [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2]
  const turn = dimension.kind === 'up' ? ` transform="rotate(-90 ${figure(x)} ${figure(y)})"` : ''
  const arrows = `<path d="${arrow(b, way)}${arrow(a, [-way[0], -way[1]])}" fill="#1c2630" stroke="none"/>`
  const witness = line(put(dimension.from), a, 0.4) + line(put(dimension.to), b, 0.4)
  return `<g ${attributes(dimension)} stroke="#1c2630">${line(a, b, 0.7)}${witness}${arrows}<text x="${figure(x)}" y="${figure(y - 5)}" text-anchor="middle" fill="#1c2630" ${halo}${turn}>${escaped(dimension.text)}</text></g>`
}

function gapLine(dimension: DrawnDimension, [a, b]: readonly [Point, Point], place: Point | null): string {
  const ink = '#0a6f6a'
  const ends = [a, b].map(([x, y]) => `<circle cx="${figure(x)}" cy="${figure(y)}" r="1.8" fill="${ink}"/>`).join('')
  const label = place
    ? line([(a[0] + b[0]) / 2, (a[1] + b[1]) / 2], [place[0] + 2, place[1] + 16], 0.5) +
      `<g fill="${ink}"><text x="${figure(place[0] + 4)}" y="${figure(place[1] + 13)}" font-weight="700" ${halo}>${escaped(dimension.text)}</text><text x="${figure(place[0] + 4)}" y="${figure(place[1] + 26)}" font-size="10.5" fill="#5b6570" ${halo}>${escaped(dimension.name)}</text></g>`
    : ''
  return `<g ${attributes(dimension)} stroke="${ink}">${line(a, b, 1.3)}${ends}${label}</g>`
}

function drawnCaption(title: string, caption: readonly string[]): string {
  const top = (paper.height - paper.foot) * fine
  const lines = caption.map(
    (text, i) => `<text x="34" y="${top + 34 + i * 15}" font-size="10.5" fill="#5b6570">${escaped(text)}</text>`,
  )
  return `<g class="caption"><path d="M20 ${top}H${paper.width * fine - 20}" stroke="#1c2630" stroke-width="1"/><text x="34" y="${top + 19}" font-size="14" font-weight="700" fill="#1c2630">${escaped(title)}</text>${lines.join('')}</g>`
}
