import type { Flat } from '../drawing/view.ts'
import type { Figure, FigureItem, Paper } from '../figure/figure.ts'

export interface SenseWords {
  readonly feed: string
  readonly first: string
  readonly die: string
  readonly along: string
  /** A line each. */
  readonly zero: readonly string[]
  readonly turned: readonly string[]
}

const width = 178
const height = 50
/** Of the rotation that is shown. */
const shownDeg = 60

/**
 * How rotations are counted, drawn: the tube in the bender with the way that it is fed, its beginning first, and the tube
 * seen along the feed, where the leg of the bend before stands up at 0 and goes round by a positive rotation.
 *
 * Seen along the feed a right-hand rotation goes clockwise. That the tube itself turns so, and not against it, follows from
 * the rotation of checks D1, atan2(u·(n₁×n₂), n₁·n₂) about the way u from beginning to end: the beginning leads, so the feed
 * is −u, and the tube is turned back by what the next bend's plane is turned on.
 */
export function senseFigure(id: string, sense: 'right-hand' | 'left-hand', words: SenseWords): Figure {
  return { id, width, height, scale: null, items: [...fedTube(words), ...alongFeed(sense, words)] }
}

const line = (
  stroke: 'outline' | 'thin' | 'centre' | 'hidden',
  points: readonly Paper[],
  closed = false,
): FigureItem => ({
  kind: 'line',
  stroke,
  points,
  closed,
})
const text = (at: Paper, words: string, anchor: 'start' | 'middle' | 'end' = 'middle'): FigureItem => ({
  kind: 'text',
  at,
  text: words,
  size: 1.8,
  anchor,
})
const head = ([x, y]: Paper, [dx, dy]: Flat): FigureItem => ({
  kind: 'area',
  fill: 'ink',
  loops: [
    [
      [x, y],
      [x - 3 * dx + 0.8 * dy, y - 3 * dy - 0.8 * dx],
      [x - 3 * dx - 0.8 * dy, y - 3 * dy + 0.8 * dx],
    ],
  ],
})
const arc = ([x, y]: Paper, radius: number, from: number, to: number): Paper[] =>
  Array.from({ length: 33 }, (_, k): Paper => {
    const a = ((from + ((to - from) * k) / 32) * Math.PI) / 180
    return [x + radius * Math.sin(a), y - radius * Math.cos(a)]
  })

/** From the side: the tube lies level and goes to the right, where its beginning was bent upwards about the die. */
function fedTube({ feed, first, die }: SenseWords): FigureItem[] {
  const [half, bend, axis] = [4, 10, 36]
  const centre: Paper = [58, axis - bend]
  const side = (by: number): Paper[] => [[8, axis + by], ...arc(centre, bend + by, 180, 90), [centre[0] + bend + by, 8]]
  return [
    line('outline', [...side(half), ...side(-half).toReversed()], true),
    line('centre', side(0)),
    line('thin', arc(centre, bend - half - 0.6, 0, 360)),
    text([centre[0] - 8, centre[1] - 4], die, 'end'),
    line('thin', [
      [16, axis],
      [40, axis],
    ]),
    head([40, axis], [1, 0]),
    text([28, axis - half - 2], feed),
    text([centre[0] + bend + half + 2, 10], first, 'start'),
  ]
}

function alongFeed(sense: 'right-hand' | 'left-hand', { along, zero, turned }: SenseWords): FigureItem[] {
  const [centre, half, leg]: [Paper, number, number] = [[128, 30], 6, 19]
  const way = sense === 'right-hand' ? 1 : -1
  const end = way * shownDeg
  const rad = (end * Math.PI) / 180
  const tube = (deg: number): Paper[] => {
    const a = (deg * Math.PI) / 180
    const at = (out: number, by: number): Paper => [
      centre[0] + out * Math.sin(a) + by * Math.cos(a),
      centre[1] - out * Math.cos(a) + by * Math.sin(a),
    ]
    return [at(0, -half), at(leg, -half), at(leg, half), at(0, half)]
  }
  const tip = arc(centre, leg + 2.5, 0, end)
  const [tx, ty] = tip[tip.length - 1]
  const side = way === 1 ? 'start' : 'end'
  return [
    line('hidden', tube(0)),
    line('outline', tube(end)),
    { kind: 'area', fill: 'paper', loops: [arc(centre, half, 0, 360)] },
    line('outline', arc(centre, half, 0, 360)),
    line('centre', [centre, [centre[0], centre[1] - leg - 1]]),
    line('centre', [centre, [centre[0] + (leg + 1) * Math.sin(rad), centre[1] - (leg + 1) * Math.cos(rad)]]),
    line('thin', tip),
    head([tx, ty], [way * Math.cos(rad), way * Math.sin(rad)]),
    ...zero.map((words, k) => text([centre[0] - way * (half + 3), 20 + 3.5 * k], words, way === 1 ? 'end' : 'start')),
    ...turned.map((words, k) => text([tx + way * 4, ty + 5 + 3.5 * k], words, side)),
    text([centre[0], height - 3], along),
  ]
}
