import type { Paper } from '../figure/figure.ts'
import type { Flat } from '../drawing/view.ts'
import type { FaceName, FlatBody } from './flatBodies.ts'
import { pattern, type PatternPiece, type Tab } from './pattern.ts'
import { laidHole } from './portHoles.ts'
import type { RimEdge } from './rimEdges.ts'
import { onPaper, patternText, readable, type Spread, type SpreadLine, type SpreadText, textLength } from './spread.ts'

export interface MockUpWords {
  /** A face, on the card; a line each. */
  readonly face: (part: string, face: FaceName) => readonly string[]
  readonly hole: (port: string, diameter: number) => string
  /** On a tab by which a body is glued to what it stands on. */
  readonly toCore: string
}

/** One body of the mock-up, laid out flat with its tabs. */
export interface MockUpPart {
  readonly part: string
  readonly pieces: readonly PatternPiece[]
  readonly spread: Spread
}

/** A foot that overhangs its core by no more than this is left open and glued by its tabs, mm. */
const openUpTo = 4
/** Free round each piece and between two, mm. */
const rim = 6

/**
 * Core and tanks as nets of card in full size. Seams have numbers of their own over all bodies: a tab goes behind the edge of
 * the same number. A tank's foot stays open, and its tabs go flat onto the core; where the foot is larger than the
 * core's face it is a face of card.
 * @param overhang how far a tank's foot reaches beyond the core's face at most, mm
 */
export function mockUp(
  bodies: readonly FlatBody[],
  overhang: (part: string) => number,
  words: MockUpWords,
): MockUpPart[] {
  let seams = 0
  return bodies.map((flat) => {
    const open = flat.foot !== null && overhang(flat.part) <= openUpTo ? [flat.foot] : []
    const pieces = pattern(flat.body, flat.root, open)
    const spread = spreadOf(flat, pieces, seams, words)
    seams += pieces.reduce((sum, { tabs }) => sum + tabs.length, 0)
    return { part: flat.part, pieces, spread }
  })
}

/** Pieces beside each other. */
function spreadOf(flat: FlatBody, pieces: readonly PatternPiece[], seams: number, words: MockUpWords): Spread {
  const spreads = pieces.map((piece) => pieceSpread(flat, piece, seams, words))
  let x = 0
  const placed = spreads.map((spread) => {
    const moved = shifted(spread, x)
    x += spread.width
    return moved
  })
  return {
    width: x,
    height: Math.max(...spreads.map(({ height }) => height)),
    lines: placed.flatMap(({ lines }) => lines),
    marks: [],
    texts: placed.flatMap(({ texts }) => texts),
    labels: placed.flatMap(({ labels }) => labels),
  }
}

function shifted(spread: Spread, by: number): Spread {
  const move = ([x, y]: Paper): Paper => [x + by, y]
  return {
    ...spread,
    lines: spread.lines.map((line) => ({ ...line, points: line.points.map(move) })),
    texts: spread.texts.map((text) => ({ ...text, at: move(text.at) })),
    labels: spread.labels.map(({ loop, lines }) => ({ loop: loop.map(move), lines })),
  }
}

function pieceSpread(flat: FlatBody, piece: PatternPiece, seams: number, words: MockUpWords): Spread {
  const { width, height, place } = onPaper(piece.outline, rim)
  const line = (stroke: SpreadLine['stroke'], points: readonly Flat[], closed = false): SpreadLine => ({
    stroke,
    points: points.map(place),
    closed,
  })
  const holes = piece.faces.flatMap((face) =>
    flat.holes.filter((hole) => hole.face === face.face).map((hole) => laidHole(flat.body, face, hole)),
  )
  return {
    width,
    height,
    lines: [
      line('cut', piece.outline, true),
      ...piece.hinges.map(({ from, to }) => line('fold', [from, to])),
      ...piece.tabs.map(({ edge: { from, to } }) => line('fold', [from, to])),
      ...holes.map(({ points }) => line('thin', points, true)),
    ],
    marks: [],
    texts: [
      ...piece.tabs.map((tab) => tabText(tab, seams, place, words)),
      ...piece.bare.map(({ number, edge }) => numberText(edge, String(seams + number), 3.2, place)),
      ...holes.map(({ hole, centre }): SpreadText => {
        const text = words.hole(hole.port, hole.diameter)
        return { at: place(centre), text, size: 2.5, turn: 0 }
      }),
    ],
    labels: piece.faces.map(({ face, corners }) => ({
      loop: labelRoom(
        corners.map(place),
        holes.filter(({ hole }) => hole.face === face).map(({ points }) => points.map(place)),
      ),
      lines: words.face(flat.part, flat.names.get(face) ?? 'front'),
    })),
  }
}

/** Above a hole, where there is one, so that its name and the face's do not meet. */
function labelRoom(loop: readonly Paper[], holes: readonly (readonly Paper[])[]): Paper[] {
  const top = Math.min(...holes.flat().map(([, y]) => y))
  const least = Math.min(...loop.map(([, y]) => y))
  if (!(top - least > 4 * patternText)) return [...loop]
  return loop.map(([x, y]) => [x, Math.min(y, top)])
}

function tabText(
  { edge, corners, number, gluedTo }: Tab,
  seams: number,
  place: (p: Flat) => Paper,
  words: MockUpWords,
) {
  const [, a, b] = corners
  const depth = Math.hypot(a[0] - edge.from[0], a[1] - edge.from[1]) / Math.SQRT2
  const own = String(seams + number)
  const long = Math.hypot(b[0] - a[0], b[1] - a[1])
  const text = gluedTo === null && textLength(`${own} ${words.toCore}`, 2.5) < long ? `${own} ${words.toCore}` : own
  return numberText(edge, text, -Math.min(depth, 10) / 2, place)
}

/** Along an edge, in its middle; `inward` mm to its left. */
function numberText({ from, to }: RimEdge, text: string, inward: number, place: (p: Flat) => Paper): SpreadText {
  const [dx, dy] = [to[0] - from[0], to[1] - from[1]]
  const long = Math.hypot(dx, dy)
  const at: Flat = [(from[0] + to[0]) / 2 - (inward * dy) / long, (from[1] + to[1]) / 2 + (inward * dx) / long]
  const turn = readable((Math.atan2(dy, dx) * 180) / Math.PI)
  return { at: place(at), text, size: 2.5, turn }
}
