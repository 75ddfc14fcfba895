import type { Flat } from '../drawing/view.ts'
import type { FigureDimension, FigureItem, FigureLine, Paper } from '../figure/figure.ts'
import { flatText, type Pen } from './flatPen.ts'
import type { Edge, LaidTank } from './laidTank.ts'
import { readable, textItem, textLength } from './spread.ts'

/** Its rim, its centre as a cross, and how far the centre lies from two edges of its face that meet. */
export function holeItems(
  { hole, centre, major, share, points, corners }: LaidTank['holes'][number],
  pen: Pen,
): FigureItem[] {
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
    textSize: flatText,
    turn,
  }
}

/** The rim of a hole, and the lines by which its middle is dimensioned. */
export const takenBy = ({ points, centre, corners }: LaidTank['holes'][number]): Flat[] => [
  ...points,
  ...nearestTwo(edgesOf(corners), centre).flatMap((edge) => {
    const [x, y] = footOn(edge, centre)
    return [0, 0.25, 0.5, 0.75].map((t): Flat => [x + t * (centre[0] - x), y + t * (centre[1] - y)])
  }),
]

const edgesOf = (corners: readonly Flat[]): Edge[] =>
  corners.map((from, k): Edge => ({ from, to: corners[(k + 1) % corners.length] }))
