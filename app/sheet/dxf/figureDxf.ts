import { DxfWriter, LWPolylineFlags, TextHorizontalAlignment, Units, point2d, point3d } from '@tarikjabiri/dxf'
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

/** One layer for each kind of line, so that a shop switches off what its machine is not to see. Colours by number. */
const layers = {
  CUT: 1,
  BEND: 5,
  OUTLINE: 7,
  ENGRAVE: 3,
  HIDDEN: 8,
  CENTRE: 4,
  BESIDE: 6,
  TEXT: 7,
  DIMENSION: 3,
} as const
type Layer = keyof typeof layers

const layerOf: Record<Stroke, Layer> = {
  cut: 'CUT',
  fold: 'BEND',
  outline: 'OUTLINE',
  thin: 'ENGRAVE',
  hidden: 'HIDDEN',
  centre: 'CENTRE',
  neighbour: 'BESIDE',
  hatch: 'ENGRAVE',
}

/**
 * A figure as DXF (AC1021, from AutoCAD 2007 on), mm, at true size, y up, its lower left corner at 0, 0: cut lines,
 * bend lines and the rest on layers of their own; round holes as circles and ellipses; dimensions as lines, arrows and text,
 * which every reader shows alike.
 * @returns the same text for the same figure
 */
export function figureDxf(figure: Figure): string {
  const writer = new DxfWriter()
  writer.setUnits(Units.Millimeters)
  for (const [name, colour] of Object.entries(layers)) writer.addLayer(name, colour, 'Continuous')
  const pen = penOf(figure, writer)
  for (const item of figure.items) draw(item, pen)
  return writer.stringify()
}

interface Pen {
  readonly writer: DxfWriter
  readonly point: (paper: Paper) => readonly [x: number, y: number]
  /** True size of a millimetre on paper. */
  readonly size: number
}

function penOf({ height, scale }: Figure, writer: DxfWriter): Pen {
  const size = scale ? scale.real / scale.paper : 1
  return { writer, size, point: ([x, y]) => [x * size, (height - y) * size] }
}

function draw(item: FigureItem, pen: Pen): void {
  if (item.kind === 'line') drawLine(item, pen)
  else if (item.kind === 'area') drawArea(item, pen)
  else if (item.kind === 'text') drawText(item, pen)
  else drawDimension(item, pen)
}

function drawLine({ points, closed = false, stroke, round }: FigureLine, pen: Pen): void {
  const layer = layerOf[stroke]
  if (round) drawRound(round, layer, pen)
  else polyline(points, closed, layer, pen)
}

function polyline(points: readonly Paper[], closed: boolean, layerName: Layer, { writer, point }: Pen): void {
  if (points.length < 2) return
  if (points.length === 2) {
    const [from, to] = points.map(point)
    writer.addLine(point3d(from[0], from[1], 0), point3d(to[0], to[1], 0), { layerName })
    return
  }
  writer.addLWPolyline(
    points.map((each) => ({ point: point2d(...point(each)) })),
    { flags: closed ? LWPolylineFlags.Closed : LWPolylineFlags.None, layerName },
  )
}

function drawRound(
  { centre, major, share }: NonNullable<FigureLine['round']>,
  layerName: Layer,
  { writer, point, size }: Pen,
): void {
  const at = point3d(...point(centre), 0)
  if (share >= 1) writer.addCircle(at, Math.hypot(...major) * size, { layerName })
  else writer.addEllipse(at, point3d(major[0] * size, -major[1] * size, 0), share, 0, 2 * Math.PI, { layerName })
}

/** Only its rim: hatching is for paper. */
function drawArea({ loops, fill }: FigureArea, pen: Pen): void {
  if (fill === 'paper') return
  for (const loop of loops) polyline(loop, true, 'ENGRAVE', pen)
}

const anchors = {
  start: TextHorizontalAlignment.Left,
  middle: TextHorizontalAlignment.Center,
  end: TextHorizontalAlignment.Right,
} as const

function drawText({ at, text, size, anchor, turn = 0 }: FigureText, pen: Pen): void {
  writeText(text, at, size, { anchor, turn, layerName: 'TEXT' }, pen)
}

interface Lettering {
  readonly anchor: FigureText['anchor']
  readonly turn: number
  readonly layerName: Layer
}

function writeText(text: string, at: Paper, size: number, { anchor, turn, layerName }: Lettering, pen: Pen): void {
  const place = point3d(...pen.point(at), 0)
  pen.writer.addText(place, size * pen.size, plainText(text), {
    layerName,
    rotation: turn,
    ...(anchor !== 'start' && { horizontalAlignment: anchors[anchor], secondAlignmentPoint: place }),
  })
}

/** Of names that people gave: `%%` and `^` begin signs of their own in DXF, and a line break ends the value. */
const plainText = (text: string): string =>
  text
    .replace(/[\p{Cc}\u2028\u2029]+/gu, ' ')
    .replaceAll('%%', '% %')
    .replaceAll('^', '^ ')

function drawDimension(dimension: FigureDimension, pen: Pen): void {
  const { lines, heads } = dimensionStrokes(dimension)
  for (const line of lines) polyline(line, false, 'DIMENSION', pen)
  for (const head of heads) polyline(head, true, 'DIMENSION', pen)
  const { text, textAt, textSize, turn } = dimension
  writeText(text, textAt, textSize, { anchor: 'middle', turn, layerName: 'DIMENSION' }, pen)
}
