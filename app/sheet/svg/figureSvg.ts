import { dimensionStrokes } from '../../../core/sheet/figure/dimensionStrokes.ts'
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
import { escaped } from './xmlText.ts'

/** mm; wide and narrow lines in the proportion 2 : 1 and their dashes by ISO 128-2 (from memory). */
const strokes: Record<Stroke, { readonly width: number; readonly dashes?: readonly number[] }> = {
  outline: { width: 0.35 },
  thin: { width: 0.18 },
  hidden: { width: 0.18, dashes: [2, 1] },
  centre: { width: 0.18, dashes: [6, 1, 0.5, 1] },
  neighbour: { width: 0.18, dashes: [6, 1, 0.5, 1, 0.5, 1] },
  fold: { width: 0.25, dashes: [4, 1.5] },
  cut: { width: 0.5 },
  hatch: { width: 0.09 },
}
const fills: Record<FigureArea['fill'], string> = {
  ...{ safety: '#d9d9d9', lamp: '#e4e4e4', cooling: '#ececec', moving: '#f2f2f2', hot: '#dedede' },
  ...{ body: '#eeeeee', service: '#f0f0f0', part: '#dbe5f1', ink: '#000000', paper: '#ffffff' },
}
/** Size of letters for capitals of one: the face's own proportion. */
const sizeOfCapitals = 1 / 0.729
/** The face that sheets are set in; a browser that has none takes one that is no wider. */
const family = 'DejaVu Sans Condensed'
const fallback = `'${family}', 'Arial Narrow', sans-serif`

/** A figure as an SVG of its true size, mm; as an SVG within a page it is the same. */
export const figureSvg = (figure: Figure): string => whole(figure, family, `<title>${escaped(figure.id)}</title>`)

/**
 * A figure as a file of its own.
 * @param title one line @param said what a reader of the file should know: scale, units, when and of what it was made
 * @returns text that an XML reader takes; names are escaped
 */
export function figureSvgFile(figure: Figure, title: string, said: readonly string[]): string {
  const { scale } = figure
  const all = [...said, ...(scale ? [`scale ${scale.paper} : ${scale.real}`] : ['not to scale'])]
  const head = `<title>${escaped(title)}</title><desc>${escaped(all.join(' | '))}</desc><rect width="${figure.width}" height="${figure.height}" fill="#ffffff"/>`
  return `<?xml version="1.0" encoding="UTF-8"?>\n${whole(figure, fallback, head)}`
}

function whole({ width, height, items }: Figure, face: string, head: string): string {
  return `<svg xmlns="http://www.w3.org/2000/svg" width="${number(width)}mm" height="${number(height)}mm" viewBox="0 0 ${number(width)} ${number(height)}" font-family="${face}">${head}
${inGroups(items)}
</svg>
`
}

/** Lines of one kind of one thing after each other are one path: a drawing has thousands. */
function inGroups(items: readonly FigureItem[]): string {
  const out: string[] = []
  let open: { line: FigureLine; tracks: string[] } | null = null
  const close = () => {
    if (open) out.push(pathSvg(open.tracks.join(''), open.line.stroke, open.line.name))
    open = null
  }
  for (const item of items) {
    if (item.kind !== 'line') {
      close()
      out.push(writers[item.kind](item as never))
      continue
    }
    if (open && (open.line.stroke !== item.stroke || open.line.name !== item.name)) close()
    open ??= { line: item, tracks: [] }
    open.tracks.push(`${track(item.points)}${item.closed ? 'Z' : ''}`)
  }
  close()
  return out.join('\n')
}

const writers = {
  area: ({ loops, fill, name }: FigureArea) =>
    `<path${named(name)} d="${loops.map((loop) => `${track(loop)}Z`).join('')}" fill="${fills[fill]}" stroke="none"/>`,
  text: textSvg,
  dimension: dimensionSvg,
}

const number = (x: number): string => String(Math.round(x * 1000) / 1000 + 0)
const place = ([x, y]: Paper): string => `${number(x)} ${number(y)}`
const track = (points: readonly Paper[]): string => `M${points.map(place).join('L')}`
const named = (name: string | undefined): string => (name === undefined ? '' : ` data-name="${escaped(name)}"`)

function pathSvg(d: string, stroke: Stroke, name?: string): string {
  const { width, dashes } = strokes[stroke]
  const dashed = dashes ? ` stroke-dasharray="${dashes.join(' ')}"` : ''
  return `<path${named(name)} data-line="${stroke}" d="${d}" fill="none" stroke="#000000" stroke-width="${width}" stroke-linejoin="round"${dashed}/>`
}

function textSvg({ at, text, size, anchor, turn = 0, bold = false }: Omit<FigureText, 'kind'>): string {
  const [x, y] = at.map(number)
  const turned = turn === 0 ? '' : ` transform="rotate(${number(-turn)} ${x} ${y})"`
  return `<text x="${x}" y="${y}" font-size="${number(size * sizeOfCapitals)}" text-anchor="${anchor}"${bold ? ' font-weight="bold"' : ''}${turned}>${escaped(text)}</text>`
}

/** What it measures and the true value stand beside it, for programs, and the ends of its line, from which a reader measures. */
function dimensionSvg(dimension: FigureDimension): string {
  const { of, value, quantity, line, text, textAt, textSize, turn } = dimension
  const { lines, heads } = dimensionStrokes(dimension)
  const inked = heads.map((head) => `${track(head)}Z`).join('')
  const ends = line.map(place).join(' ')
  return `<g data-of="${escaped(of)}" data-value="${value}" data-quantity="${quantity}" data-ends="${ends}">${pathSvg(lines.map(track).join(''), 'thin')}<path d="${inked}" fill="#000000"/>${textSvg({ at: textAt, text, size: textSize, anchor: 'middle', turn })}</g>`
}
