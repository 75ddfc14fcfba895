import { dot, type Vec3 } from '../../shape/vec.ts'
import type { AnyView, Flat } from '../drawing/view.ts'
import type { Projection } from './arrange.ts'
import { dimensionSizes } from './lanes.ts'
import type { FigureItem, Paper, Stroke } from './figure.ts'
import type { OnPaper } from './sketch.ts'

const line = (stroke: Stroke, ...points: Paper[]): FigureItem => ({ kind: 'line', stroke, points })

/** A circle as a closed line. */
export function circle([x, y]: Paper, radius: number, stroke: Stroke = 'thin'): FigureItem {
  const points = Array.from({ length: 32 }, (_, i): Paper => {
    const a = (i * Math.PI) / 16
    return [x + radius * Math.cos(a), y + radius * Math.sin(a)]
  })
  return { kind: 'line', stroke, closed: true, points, round: { centre: [x, y], major: [radius, 0], share: 1 } }
}

/** A hole that is looked into: round, or a slot along its way; true size in the view's own directions, mm. */
export interface HoleWish {
  readonly at: Flat
  /** Unit */
  readonly along: Flat
  readonly diameter: number
  /** Over the round ends of a slot; the diameter of a round one. */
  readonly length: number
}

/** Its rim, and centre lines that run out past it. */
export function holeItems({ at, along: [u, v], diameter, length }: HoleWish, { place, share }: OnPaper): FigureItem[] {
  const [x, y] = place(at)
  const way: Paper = [u, -v]
  const [r, half] = [(diameter * share) / 2, ((length - diameter) * share) / 2]
  const on = (a: number, b: number): Paper => [x + a * way[0] - b * way[1], y + a * way[1] + b * way[0]]
  const turn = Math.atan2(way[1], way[0])
  const end = (sign: 1 | -1) => {
    const [cx, cy] = on(sign * half, 0)
    const start = turn + (sign > 0 ? -Math.PI / 2 : Math.PI / 2)
    return Array.from({ length: 17 }, (_, i): Paper => {
      const angle = start + (i * Math.PI) / 16
      return [cx + r * Math.cos(angle), cy + r * Math.sin(angle)]
    })
  }
  const rim: FigureItem =
    half > 0
      ? { kind: 'line', stroke: 'outline', closed: true, points: [...end(1), ...end(-1)] }
      : circle([x, y], r, 'outline')
  return [rim, line('centre', on(-half - r - 1, 0), on(half + r + 1, 0)), line('centre', on(0, -r - 1), on(0, r + 1))]
}

/** mm of paper */
export const symbolSize = { width: 21, height: 9 } as const

/**
 * The symbol of the projection: a truncated cone and its view from the left, where its small end is. In first angle that view
 * stands to its right, in third angle to its left. Source: ISO 5456-2, figures 4 and 6; proportions from memory.
 * @param at upper left corner
 */
export function projectionSymbol([x, y]: Paper, projection: Projection): FigureItem[] {
  const [small, large, long] = [1.75, 3.5, 7]
  const middle = y + symbolSize.height / 2
  const [cone, rings] = projection === 'first-angle' ? [x + 1, x + 16] : [x + 13, x + 5]
  return [
    line(
      'outline',
      [cone, middle - small],
      [cone + long, middle - large],
      [cone + long, middle + large],
      [cone, middle + small],
      [cone, middle - small],
    ),
    circle([rings, middle], small, 'outline'),
    circle([rings, middle], large, 'outline'),
    line('centre', [cone - 1, middle], [cone + long + 1, middle]),
    line('centre', [rings - large - 1, middle], [rings + large + 1, middle]),
    line('centre', [rings, middle - large - 1], [rings, middle + large + 1]),
  ]
}

const axes: readonly (readonly [string, Vec3])[] = [
  ['X', [1, 0, 0]],
  ['Y', [0, 1, 0]],
  ['Z', [0, 0, 1]],
]

/** Room that the axes take from their origin, mm of paper. */
export const axesReach = 12

/** The bay's axes with their letters: arrows in the picture, a dot for one that comes towards the eye, a cross for one that leaves it. */
export function axesMark(origin: Paper, { right, up, eye }: AnyView): FigureItem[] {
  return axes.flatMap(([letter, axis]) => {
    const way: Paper = [dot(axis, right), -dot(axis, up)]
    const reach = Math.hypot(...way)
    return reach > 0.3 ? arrowItems(letter, origin, way) : atTheEye(letter, origin, dot(axis, eye) > 0)
  })
}

function arrowItems(letter: string, [x, y]: Paper, [dx, dy]: Paper): FigureItem[] {
  const { arrow, text } = dimensionSizes
  const at = (along: number, across = 0): Paper => [x + along * dx - across * dy, y + along * dy + across * dx]
  const long = axesReach - text - 1
  const letterAt = at(long + 1.8)
  return [
    line('outline', [x, y], at(long - arrow)),
    { kind: 'area', fill: 'ink', loops: [[at(long), at(long - arrow, 0.6), at(long - arrow, -0.6)]] },
    { kind: 'text', at: [letterAt[0], letterAt[1] + text / 2], text: letter, size: text, anchor: 'middle', bold: true },
  ]
}

function atTheEye(letter: string, [x, y]: Paper, towards: boolean): FigureItem[] {
  const r = 1.1
  const d = r * Math.SQRT1_2
  const inside: FigureItem[] = towards
    ? [{ kind: 'area', fill: 'ink', loops: [square([x, y], 0.35)] }]
    : [line('thin', [x - d, y - d], [x + d, y + d]), line('thin', [x - d, y + d], [x + d, y - d])]
  return [
    { kind: 'area', fill: 'paper', loops: [square([x, y], r)] },
    circle([x, y], r),
    ...inside,
    { kind: 'text', at: [x - 2.6, y + 3.6], text: letter, size: dimensionSizes.text, anchor: 'middle', bold: true },
  ]
}

const square = ([x, y]: Paper, half: number): Paper[] => [
  [x - half, y - half],
  [x + half, y - half],
  [x + half, y + half],
  [x - half, y + half],
]
