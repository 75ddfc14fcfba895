import { formatLength, type LengthFormat, type PeopleUnits } from '../../units/lengthText.ts'
import type { Flat } from '../drawing/view.ts'
import type { Figure, FigureDimension, FigureItem } from '../figure/figure.ts'
import type { FaceName, FlatBody } from './flatBodies.ts'
import { flatText, type FlatWords, type Pen } from './flatPen.ts'
import { holeItems, takenBy } from './holeItems.ts'
import { type Edge, type LaidTank, layOut } from './laidTank.ts'
import { readable, textItem } from './spread.ts'

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
  const side = sideOf(fold, holes)
  return [
    besideEdge(fold, pen.length(lengthOf(fold)), side, pen),
    besideEdge(fold, pen.words.fold(fold.fold), side, pen, 6.2),
  ]
}

const sideOf = ({ other }: LaidTank['folds'][number], holes: LaidTank['holes']): 1 | -1 =>
  holes.some(({ hole }) => hole.face === other) ? 1 : -1

/** A text along an edge, in its middle: `side` 1 to its left, −1 to its right, seen from beginning to end; mm of paper off it. */
function besideEdge({ from, to }: Edge, text: string, side: 1 | -1, { on, real }: Pen, paper = 2.6): FigureItem {
  const [dx, dy] = [to[0] - from[0], to[1] - from[1]]
  const long = Math.hypot(dx, dy)
  const off = side * paper * real
  const at: Flat = [(from[0] + to[0]) / 2 - (off * dy) / long, (from[1] + to[1]) / 2 + (off * dx) / long]
  const turn = readable((Math.atan2(dy, dx) * 180) / Math.PI)
  return textItem({ at: on(at), text, size: flatText, turn })
}

/** In the middle of its face; where that is taken, towards the corner that lies farthest from a hole, its dimensions and texts of folds. */
function faceText(
  { face, name, corners }: LaidTank['faces'][number],
  { folds, holes }: LaidTank,
  pen: Pen,
): FigureItem {
  const { on, real, words } = pen
  const mean = (points: readonly Flat[]): Flat => [
    points.reduce((sum, [x]) => sum + x, 0) / points.length,
    points.reduce((sum, [, y]) => sum + y, 0) / points.length,
  ]
  const middle = mean(corners)
  const written = folds.filter((fold) => (sideOf(fold, holes) === 1 ? fold.face : fold.other) === face)
  const taken = [
    ...holes.flatMap((each) => (each.corners === corners ? takenBy(each) : [])),
    ...written.flatMap((fold) => takenAt(fold, sideOf(fold, holes), real)),
  ]
  const free = (p: Flat) => Math.min(...taken.map((q) => Math.hypot(p[0] - q[0], p[1] - q[1])))
  const next = (k: number) => corners[(k + 1) % corners.length]
  const places = [
    middle,
    ...corners.map((corner, k) => mean([mean([corner, next(k)]), middle])),
    ...corners.map((corner) => mean([corner, corner, middle])),
  ]
  const enough = places.find((p) => taken.length === 0 || free(p) > 6 * real)
  const at = enough ?? places.reduce((best, p) => (free(p) > free(best) ? p : best))
  return textItem({ at: on(at), text: words.face(name), size: flatText, turn: 0 }, true)
}

/** Where the two lines of text at a fold stand. */
function takenAt({ from, to }: Edge, side: 1 | -1, real: number): Flat[] {
  const [dx, dy] = [to[0] - from[0], to[1] - from[1]]
  const long = Math.hypot(dx, dy)
  return [-7, 0, 7].flatMap((along) =>
    [2.6, 6.2].map((off): Flat => {
      const [s, t] = [long / 2 + along * real, side * off * real]
      return [from[0] + (s * dx - t * dy) / long, from[1] + (s * dy + t * dx) / long]
    }),
  )
}

function overall({ left, top, width, height }: LaidTank, { on, length }: Pen): FigureDimension[] {
  const [low, high] = [on([left, top - height]), on([left + width, top])]
  const y = low[1] + 9
  const x = low[0] - 9
  const common = { kind: 'dimension', quantity: 'mm', textSize: flatText } as const
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
