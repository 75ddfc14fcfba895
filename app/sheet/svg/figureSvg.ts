import type {
  Figure,
  FigureArea,
  FigureDimension,
  FigureItem,
  FigureLine,
  FigureText,
  Paper,
  Stroke,
} from '../../../core/sheet/figure/figure.ts'

/** mm; wide and narrow lines in the proportion 2 : 1 and their dashes by ISO 128-2 (from memory). */
const strokes: Record<Stroke, { readonly width: number; readonly dashes?: readonly number[] }> = {
  outline: { width: 0.35 },
  thin: { width: 0.18 },
  hidden: { width: 0.18, dashes: [2, 1] },
  centre: { width: 0.18, dashes: [6, 1, 0.5, 1] },
  neighbour: { width: 0.18, dashes: [6, 1, 0.5, 1, 0.5, 1] },
  fold: { width: 0.25, dashes: [4, 1.5] },
  cut: { width: 0.5 },
}
const fills: Record<FigureArea['fill'], string> = {
  ...{ safety: '#d9d9d9', lamp: '#e4e4e4', cooling: '#ececec', moving: '#f2f2f2', hot: '#dedede' },
  ...{ body: '#eeeeee', service: '#f0f0f0', part: '#dbe5f1', ink: '#000000', paper: '#ffffff' },
}
/** Size of letters for capitals of one: the face's own proportion. */
const sizeOfCapitals = 1 / 0.729
const family = 'DejaVu Sans Condensed'
const arrow = { length: 2.5, half: 0.42 }

/** A figure as an SVG of its true size, mm. */
export function figureSvg({ id, width, height, items }: Figure): string {
  return `<svg xmlns="http://www.w3.org/2000/svg" width="${width}mm" height="${height}mm" viewBox="0 0 ${width} ${height}"><title>${escaped(id)}</title>
${items.map(itemSvg).join('\n')}
</svg>
`
}

const writers: { readonly [K in FigureItem['kind']]: (item: Extract<FigureItem, { kind: K }>) => string } = {
  line: ({ stroke, points, closed }: FigureLine) => pathSvg(points, closed === true, stroke),
  area: ({ loops, fill }: FigureArea) =>
    `<path d="${loops.map((loop) => `${track(loop)}Z`).join('')}" fill="${fills[fill]}" stroke="none"/>`,
  text: textSvg,
  dimension: dimensionSvg,
}

const itemSvg = (item: FigureItem): string => (writers[item.kind] as (item: FigureItem) => string)(item)

const figure = (x: number): string => String(Number(x.toFixed(4)))
const place = ([x, y]: Paper): string => `${figure(x)} ${figure(y)}`
const track = (points: readonly Paper[]): string => `M${points.map(place).join('L')}`
const escaped = (text: string): string =>
  text.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;').replaceAll('"', '&quot;')

function pathSvg(points: readonly Paper[], closed: boolean, stroke: Stroke): string {
  const { width, dashes } = strokes[stroke]
  const dashed = dashes ? ` stroke-dasharray="${dashes.join(' ')}"` : ''
  return `<path d="${track(points)}${closed ? 'Z' : ''}" fill="none" stroke="#000000" stroke-width="${width}"${dashed}/>`
}

function textSvg({ at, text, size, anchor, turn = 0, bold = false }: Omit<FigureText, 'kind'>): string {
  const [x, y] = at.map(figure)
  const turned = turn === 0 ? '' : ` transform="rotate(${figure(-turn)} ${x} ${y})"`
  return `<text x="${x}" y="${y}" font-family="${family}" font-size="${figure(size * sizeOfCapitals)}" text-anchor="${anchor}"${bold ? ' font-weight="bold"' : ''}${turned}>${escaped(text)}</text>`
}

function dimensionSvg({ of, value, quantity, from, to, line, text, textAt, textSize, turn }: FigureDimension): string {
  const lines = [[from, line[0]], [to, line[1]], line].map((points) => pathSvg(points, false, 'thin'))
  const heads = [arrowSvg(line[0], line[1]), arrowSvg(line[1], line[0])]
  const words = textSvg({ at: textAt, text, size: textSize, anchor: 'middle', turn })
  return `<g data-of="${escaped(of)}" data-value="${value}" data-quantity="${quantity}">${[...lines, ...heads, words].join('')}</g>`
}

function arrowSvg(tip: Paper, other: Paper): string {
  const [dx, dy] = [other[0] - tip[0], other[1] - tip[1]]
  const length = Math.hypot(dx, dy)
  if (length === 0) return ''
  const [ux, uy] = [dx / length, dy / length]
  const foot = (side: number): Paper => [
    tip[0] + ux * arrow.length - uy * side * arrow.half,
    tip[1] + uy * arrow.length + ux * side * arrow.half,
  ]
  return `<path d="${track([tip, foot(1), foot(-1)])}Z" fill="#000000"/>`
}
