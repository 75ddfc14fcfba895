import { formatLength, type LengthFormat, type PeopleUnits } from '../../units/lengthText.ts'
import type { Flat } from '../drawing/view.ts'
import type { Figure, FigureDimension, FigureItem, FigureLine, Paper } from '../figure/figure.ts'
import type { FaceName, FlatBody } from './flatBodies.ts'
import { type Edge, type LaidTank, layOut } from './laidTank.ts'
import { readable, textItem, textLength } from './spread.ts'

export interface FlatWords {
  /** At a bend line; degrees by which the sheet is turned there, away from who looks. */
  readonly fold: (degrees: number) => string
  readonly face: (face: FaceName) => string
  readonly port: (port: string, diameter: number) => string
}

export interface FlatWish {
  readonly units: PeopleUnits
  /** mm of paper */
  readonly room: { readonly width: number; readonly height: number }
  /** Reductions, 1 : this, ascending. */
  readonly scales: readonly number[]
  readonly words: FlatWords
}

/** A fabricated tank laid out flat. */
export interface TankFlat {
  /** `tank-left`, `tank-right` */
  readonly part: string
  readonly onPaper: Figure
  /** At true size, for cutting from a file. */
  readonly full: Figure
  readonly holes: readonly {
    readonly port: string
    readonly face: FaceName
    readonly diameter: number
    /** The stub reaches over a fold: its hole is drawn, and not as one to cut. */
    readonly overFold: boolean
  }[]
  /** Of the sheet, mm². */
  readonly area: number
}

/** Heights of capitals, mm. Source: ISO 3098, from memory. */
const textSize = 2.5
/** From the pattern to its overall dimensions and the figure's rim, mm of paper. */
const rim = { left: 16, top: 7, right: 7, bottom: 16 } as const

/**
 * End tanks as flat patterns, outside up: their end in the middle, the sides folded away from who looks, the foot open. Cut
 * lines, bend lines with their angles, holes where stubs go through, lengths of all edges, overall sizes. They are the
 * outside surface: nothing is allowed for bending.
 * @param bodies of `flatBodies`; the core is passed over
 * Error: rounding; texts are rounded to the nearest.
 */
export function tankFlats(bodies: readonly FlatBody[], wish: FlatWish): TankFlat[] {
  return bodies.flatMap((flat) => {
    if (flat.foot === null) return []
    const laid = layOut(flat)
    const reach = (real: number) => ({
      width: laid.width / real + rim.left + rim.right,
      height: laid.height / real + rim.top + rim.bottom,
    })
    const { width, height } = wish.room
    const real =
      wish.scales.find((each) => reach(each).width <= width && reach(each).height <= height) ?? wish.scales.at(-1) ?? 1
    return [
      {
        part: flat.part,
        onPaper: draw(`flat-${flat.part}`, laid, real, wish),
        full: draw(`flat-${flat.part}`, laid, 1, wish),
        holes: laid.holes.map(({ hole: { port, face, diameter, within } }) => ({
          port,
          face: flat.names.get(face) ?? 'end',
          diameter,
          overFold: !within,
        })),
        area: laid.area,
      },
    ]
  })
}

/** Tenths of a millimetre, 1/64 inch. */
const format = (units: PeopleUnits): LengthFormat =>
  units === 'mm' ? { decimals: 1, bare: true } : { fraction: 64, bare: true }

interface Pen {
  readonly on: (p: Flat) => Paper
  readonly length: (mm: number) => string
  readonly real: number
  readonly words: FlatWords
}

function draw(id: string, laid: LaidTank, real: number, { units, words }: FlatWish): Figure {
  const { left, top, width, height } = laid
  const pen: Pen = {
    on: ([x, y]) => [rim.left + (x - left) / real, rim.top + (top - y) / real],
    length: (mm) => formatLength(mm, units, format(units)),
    real,
    words,
  }
  return {
    id,
    width: width / real + rim.left + rim.right,
    height: height / real + rim.top + rim.bottom,
    scale: { paper: 1, real },
    items: [
      {
        kind: 'line',
        stroke: 'cut',
        closed: true,
        points: laid.edges.map(({ from }) => pen.on(from)),
        name: 'outline',
      },
      ...laid.folds.map(
        ({ from, to }): FigureItem => ({
          kind: 'line',
          stroke: 'fold',
          points: [pen.on(from), pen.on(to)],
          name: 'fold',
        }),
      ),
      ...laid.holes.flatMap((hole) => holeItems(hole, pen)),
      ...laid.faces.map((face) => faceText(face, laid, pen)),
      ...laid.edges.map((edge) => besideEdge(edge, pen.length(lengthOf(edge)), -1, pen)),
      ...laid.folds.flatMap((fold) => foldTexts(fold, laid, pen)),
      ...overall(laid, pen),
    ],
  }
}

const lengthOf = ({ from, to }: Edge): number => Math.hypot(to[0] - from[0], to[1] - from[1])

/** Its length and its angle in two lines, on the side that is turned; on the other where that has a hole. */
function foldTexts(fold: LaidTank['folds'][number], { holes }: LaidTank, pen: Pen): FigureItem[] {
  const side = holes.some(({ hole }) => hole.face === fold.other) ? 1 : -1
  return [
    besideEdge(fold, pen.length(lengthOf(fold)), side, pen),
    besideEdge(fold, pen.words.fold(fold.fold), side, pen, 6.2),
  ]
}

/** A text along an edge, in its middle: `side` 1 to its left, −1 to its right, seen from beginning to end; mm of paper off it. */
function besideEdge({ from, to }: Edge, text: string, side: 1 | -1, { on, real }: Pen, paper = 2.6): FigureItem {
  const [dx, dy] = [to[0] - from[0], to[1] - from[1]]
  const long = Math.hypot(dx, dy)
  const off = side * paper * real
  const at: Flat = [(from[0] + to[0]) / 2 - (off * dy) / long, (from[1] + to[1]) / 2 + (off * dx) / long]
  const turn = readable((Math.atan2(dy, dx) * 180) / Math.PI)
  return textItem({ at: on(at), text, size: textSize, turn })
}

/** In the middle of its face; where a hole is near, towards the corner that lies farthest from the hole and its dimensions. */
function faceText(
  { name, corners }: LaidTank['faces'][number],
  { holes }: LaidTank,
  { on, real, words }: Pen,
): FigureItem {
  const mean = (points: readonly Flat[]): Flat => [
    points.reduce((sum, [x]) => sum + x, 0) / points.length,
    points.reduce((sum, [, y]) => sum + y, 0) / points.length,
  ]
  const middle = mean(corners)
  const taken = holes.flatMap((each) => (each.corners === corners ? takenBy(each) : []))
  const free = (p: Flat) => Math.min(...taken.map((q) => Math.hypot(p[0] - q[0], p[1] - q[1])))
  const places = [middle, ...corners.map((corner) => mean([corner, corner, middle]))]
  const at = free(middle) > 6 * real ? middle : places.reduce((best, p) => (free(p) > free(best) ? p : best))
  return textItem({ at: on(at), text: words.face(name), size: textSize, turn: 0 }, true)
}

/** The rim of a hole, and the lines by which its middle is dimensioned. */
const takenBy = ({ points, centre, corners }: LaidTank['holes'][number]): Flat[] => [
  ...points,
  ...nearestTwo(edgesOf(corners), centre).flatMap((edge) => {
    const [x, y] = footOn(edge, centre)
    return [0, 0.25, 0.5, 0.75].map((t): Flat => [x + t * (centre[0] - x), y + t * (centre[1] - y)])
  }),
]

const edgesOf = (corners: readonly Flat[]): Edge[] =>
  corners.map((from, k): Edge => ({ from, to: corners[(k + 1) % corners.length] }))

/** Its rim, its centre as a cross, and how far the centre lies from two edges of its face that meet. */
function holeItems({ hole, centre, major, share, points, corners }: LaidTank['holes'][number], pen: Pen): FigureItem[] {
  const { on, real, words } = pen
  const [cx, cy] = on(centre)
  const arm = 2.5
  const axis = (...line: Paper[]): FigureItem => ({ kind: 'line', stroke: 'centre', points: line })
  const rimLine: FigureLine = {
    kind: 'line',
    stroke: hole.within ? 'cut' : 'thin',
    closed: true,
    points: points.map(on),
    name: `hole ${hole.port}`,
    round: { centre: [cx, cy], major: [major[0] / real, -major[1] / real], share },
  }
  const text = words.port(hole.port, hole.diameter)
  const measured = nearestTwo(edgesOf(corners), centre)
  const fits = textLength(text, 1.8) < (1.7 * Math.hypot(...major) * share) / real
  const below = measured.some((edge) => footOn(edge, centre)[1] < centre[1] - 1e-6)
  return [
    rimLine,
    axis([cx - arm, cy], [cx + arm, cy]),
    axis([cx, cy - arm], [cx, cy + arm]),
    // On the side that its dimensions leave free, where it has room within the rim.
    ...(fits ? [textItem({ at: [cx, cy + (below ? -1 : 1) * (arm + 2.2)], text, size: 1.8, turn: 0 })] : []),
    ...measured.map((edge) => fromEdge(edge, centre, hole.port, pen)),
  ]
}

const footOn = ({ from, to }: Edge, [px, py]: Flat): Flat => {
  const [dx, dy] = [to[0] - from[0], to[1] - from[1]]
  const share = ((px - from[0]) * dx + (py - from[1]) * dy) / (dx * dx + dy * dy)
  return [from[0] + share * dx, from[1] + share * dy]
}
const away = (edge: Edge, p: Flat): number => {
  const [x, y] = footOn(edge, p)
  return Math.hypot(p[0] - x, p[1] - y)
}

/** The nearest edge, and the nearer of the two that meet it. */
function nearestTwo(edges: readonly Edge[], p: Flat): Edge[] {
  const order = edges.map((_, k) => k).sort((a, b) => away(edges[a], p) - away(edges[b], p) || a - b)
  const first = order[0]
  const meets = (k: number) => (k + 1) % edges.length === first || (first + 1) % edges.length === k
  const second = order.find((k) => k !== first && meets(k))
  return second === undefined ? [edges[first]] : [edges[first], edges[second]]
}

function fromEdge(edge: Edge, centre: Flat, port: string, { on, length }: Pen): FigureDimension {
  const foot = footOn(edge, centre)
  const value = away(edge, centre)
  const [from, to] = [on(foot), on(centre)]
  const [dx, dy] = [to[0] - from[0], to[1] - from[1]]
  const turn = readable((Math.atan2(-dy, dx) * 180) / Math.PI)
  const rad = (turn * Math.PI) / 180
  const text = length(value)
  const share = 0.45
  return {
    kind: 'dimension',
    of: `hole ${port} from edge`,
    value,
    quantity: 'mm',
    from,
    to,
    line: [from, to],
    text,
    textAt: [from[0] + share * dx - 0.9 * Math.sin(rad), from[1] + share * dy - 0.9 * Math.cos(rad)],
    textSize,
    turn,
  }
}

function overall({ left, top, width, height }: LaidTank, { on, length }: Pen): FigureDimension[] {
  const [low, high] = [on([left, top - height]), on([left + width, top])]
  const y = low[1] + 9
  const x = low[0] - 9
  const common = { kind: 'dimension', quantity: 'mm', textSize } as const
  return [
    {
      ...common,
      of: 'flat width',
      value: width,
      from: low,
      to: [high[0], low[1]],
      line: [
        [low[0], y],
        [high[0], y],
      ],
      text: length(width),
      textAt: [(low[0] + high[0]) / 2, y - 0.9],
      turn: 0,
    },
    {
      ...common,
      of: 'flat height',
      value: height,
      from: low,
      to: [low[0], high[1]],
      line: [
        [x, low[1]],
        [x, high[1]],
      ],
      text: length(height),
      textAt: [x - 0.9, (low[1] + high[1]) / 2],
      turn: 90,
    },
  ]
}
