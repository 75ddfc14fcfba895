import { pointAlong } from '../../shape/centreline.ts'
import type { Piece } from '../../shape/form.ts'
import { dot, type Vec3 } from '../../shape/vec.ts'
import { drawing, type Drawing, type DrawnThing } from '../drawing/drawing.ts'
import { type AnyView, type Flat, isometric, views } from '../drawing/view.ts'
import type { Figure, FigureItem, Paper, Stroke } from '../figure/figure.ts'
import { textItem, textLength } from '../flat/spread.ts'

export interface PipeScene {
  readonly id: string
  /** The pipe, its couplers and clamps. */
  readonly things: readonly DrawnThing[]
  readonly centreline: readonly Piece[]
  /** Beside the ends of the pipe. */
  readonly words: { readonly begin: string; readonly end: string }
  /** Of one picture, mm of paper. */
  readonly width: number
  readonly height: number
  /** Reductions to choose from, 1 : this, ascending. */
  readonly scales: readonly number[]
}

export interface PipePicture {
  readonly view: 'front' | 'side' | 'plan' | 'isometric'
  readonly figure: Figure
}

const order = [
  ['front', views.front],
  ['side', views.side],
  ['plan', views.plan],
  ['isometric', isometric],
] as const

/** How far chords of round things may lie off them here, mm: less than half a hairline at 1 : 2. */
const sag = 0.1
/** Of lines and their balloons, mm of paper. */
const rim = 10
const balloon = 2.6

/**
 * A pipe with its couplers from the front, from the left and from above, all at one scale, and as a picture of space; bends
 * carry their numbers from the beginning.
 */
export function pipeFigures(scene: PipeScene): PipePicture[] {
  const drawn = order.map(([name, view]) => ({ name, view, seen: drawing(scene.things, view, sag) }))
  const reduce = (of: readonly Drawing[]) =>
    scene.scales.find((real) => of.every((each) => fits(each, real, scene))) ?? scene.scales[scene.scales.length - 1]
  const flat = reduce(drawn.filter(({ name }) => name !== 'isometric').map(({ seen }) => seen))
  const space = reduce(drawn.filter(({ name }) => name === 'isometric').map(({ seen }) => seen))
  return drawn.map(({ name, view, seen }) => ({
    view: name,
    figure: picture(
      `${scene.id}-${name}`,
      scene,
      seen,
      view,
      name === 'isometric' ? space : flat,
      name !== 'isometric',
    ),
  }))
}

const fits = ({ frame: { min, max } }: Drawing, real: number, { width, height }: PipeScene): boolean =>
  (max[0] - min[0]) / real + 2 * rim <= width && (max[1] - min[1]) / real + 2 * rim <= height

const strokes: Record<'seen' | 'hidden' | 'beside', Stroke> = { seen: 'outline', hidden: 'hidden', beside: 'neighbour' }

function picture(
  id: string,
  scene: PipeScene,
  { lines, frame }: Drawing,
  view: AnyView,
  real: number,
  measured: boolean,
): Figure {
  const { width, centreline, words } = scene
  const wide = (frame.max[0] - frame.min[0]) / real
  const height = (frame.max[1] - frame.min[1]) / real + 2 * rim
  const left = (width - wide) / 2
  const place = ([u, v]: Flat): Paper => [left + (u - frame.min[0]) / real, rim + (frame.max[1] - v) / real]
  const flat = (p: Vec3): Flat => [dot(p, view.right), dot(p, view.up)]
  const on = (p: Vec3): Paper => place(flat(p))
  const items: FigureItem[] = [
    ...lines.map(
      ({ name, look, points }): FigureItem => ({
        kind: 'line',
        stroke: strokes[look],
        points: points.map(place),
        name,
      }),
    ),
    ...centreline.map((piece): FigureItem => ({ kind: 'line', stroke: 'centre', points: pointsOf(piece).map(on) })),
    ...balloons(centreline, on),
    ...endText(words.begin, on(pointAlong(centreline[0], 0).point), away(centreline[0], 0, on)),
    ...endText(
      words.end,
      on(pointAlong(centreline[centreline.length - 1], 1).point),
      away(centreline[centreline.length - 1], 1, on),
    ),
  ]
  return { id, width, height, scale: measured ? { paper: 1, real } : null, items }
}

const pointsOf = (piece: Piece): Vec3[] => {
  const steps = piece.kind === 'arc' ? Math.max(2, Math.ceil((piece.angle * 180) / Math.PI / 5)) : 1
  return Array.from({ length: steps + 1 }, (_, k) => pointAlong(piece, k / steps).point)
}

/** A number in a ring on the outside of each bend, led to the middle of its arc. */
function balloons(centreline: readonly Piece[], on: (p: Vec3) => Paper): FigureItem[] {
  let number = 0
  return centreline.flatMap((piece): FigureItem[] => {
    if (piece.kind !== 'arc') return []
    const [mx, my] = on(pointAlong(piece, 0.5).point)
    const [cx, cy] = on(piece.centre)
    const long = Math.hypot(mx - cx, my - cy)
    const [dx, dy] = long > 0.5 ? [(mx - cx) / long, (my - cy) / long] : [Math.SQRT1_2, -Math.SQRT1_2]
    const at: Paper = [mx + 9 * dx, my + 9 * dy]
    number++
    return [
      {
        kind: 'line',
        stroke: 'thin',
        points: [
          [mx, my],
          [at[0] - balloon * dx, at[1] - balloon * dy],
        ],
      },
      { kind: 'area', fill: 'paper', loops: [ring(at)] },
      { kind: 'line', stroke: 'thin', closed: true, points: ring(at) },
      { kind: 'text', at: [at[0], at[1] + 0.9], text: String(number), size: 1.8, anchor: 'middle', bold: true },
    ]
  })
}

const ring = ([x, y]: Paper): Paper[] =>
  Array.from({ length: 32 }, (_, k): Paper => {
    const a = (k * Math.PI) / 16
    return [x + balloon * Math.cos(a), y + balloon * Math.sin(a)]
  })

/** The way off the pipe's end on paper; up where the pipe is seen end on. */
function away(piece: Piece, share: 0 | 1, on: (p: Vec3) => Paper): Paper {
  const [from, to] = [on(pointAlong(piece, share === 0 ? 0.05 : 0.95).point), on(pointAlong(piece, share).point)]
  const long = Math.hypot(to[0] - from[0], to[1] - from[1])
  return long > 0.05 ? [(to[0] - from[0]) / long, (to[1] - from[1]) / long] : [0, -1]
}

/** On a patch of paper, so that it is read whatever it lies on. */
function endText(text: string, [x, y]: Paper, [dx, dy]: Paper): FigureItem[] {
  const size = 1.8
  const at: Paper = [x + 8 * dx, y + 8 * dy]
  const [w, h] = [textLength(text, size) / 2 + 0.6, size * 0.9]
  const patch: Paper[] = [
    [at[0] - w, at[1] - h],
    [at[0] + w, at[1] - h],
    [at[0] + w, at[1] + h],
    [at[0] - w, at[1] + h],
  ]
  return [{ kind: 'area', fill: 'paper', loops: [patch] }, textItem({ at, text, size, turn: 0 }, true)]
}
