import type { Role } from '../../bay/schema.ts'
import type { DrawnGround, DrawnLine, Drawing } from '../drawing/drawing.ts'
import { type Loops, simplified, unionOf, withinFrame, without } from '../drawing/region.ts'
import type { Flat, Frame } from '../drawing/view.ts'
import { clipLine } from '../flat/clipLine.ts'
import type { FigureItem, Paper, Stroke } from './figure.ts'
import { hatches, hatchLines } from './hatch.ts'

/** How a view lies on paper: true size to mm of paper, and the paper that it may cover. */
export interface OnPaper {
  readonly share: number
  readonly place: (point: Flat) => Paper
  /** What the view shows, true size. */
  readonly frame: Frame
}

/** Lines may be drawn off their place by this, mm of paper: a seventh of the narrowest pen. */
const penError = 0.025

export interface Sketch {
  readonly items: readonly FigureItem[]
  /** What is seen of each thing that stands, and nothing stands before, on paper. */
  readonly seen: ReadonlyMap<string, Loops>
  /** Outlines of what is drawn through, on paper, where they do not run over the candidate's parts. */
  readonly rims: ReadonlyMap<string, readonly (readonly Paper[])[]>
}

/**
 * One view as strokes: seen edges of the candidate wide, those of keep-outs narrow, hidden ones dashed, what comes off or
 * stands before the part in outline; keep-outs hatched by role as far as nothing stands before them.
 */
export function sketch({ lines, outlines, grounds }: Drawing, nearFirst: readonly string[], paper: OnPaper): Sketch {
  const { share, place, frame } = paper
  const onPaper = (loops: Loops): Loops =>
    withinFrame(
      loops.map((loop) => simplified(loop, penError / share)),
      frame,
    ).map((loop) => loop.map(place))
  const parts = outlines
    .filter(({ role }) => role === 'part')
    .map(({ name, loops }) => ({ name, loops: onPaper(loops) }))
  const covered = unionOf(parts.flatMap(({ loops }) => loops))
  const seen = seenOf(outlines, nearFirst, covered, onPaper)
  const window = windowOf(paper)
  const beside = outlines
    .filter((outline) => outline.beside)
    .flatMap(({ name, loops }) =>
      loops.map((loop) => ({
        name,
        runs: clipLine(simplified(loop, penError / share).map(place), true, window),
      })),
    )
  const roles = new Map(outlines.map(({ name, role }) => [name, role]))
  return {
    seen,
    rims: rimsOf(beside, covered),
    items: [
      ...[...seen].flatMap(([name, loops]) => hatched(name, roles.get(name) as Role, loops)),
      ...parts.map(({ name, loops }): FigureItem => ({ kind: 'area', fill: 'part', name, loops })),
      ...grounds.flatMap((ground) => groundItems(ground, paper)),
      ...beside.flatMap(({ name, runs }) =>
        runs.map((points): FigureItem => ({ kind: 'line', stroke: 'neighbour', name, points })),
      ),
      ...drawnIn(lines, 'hidden', paper),
      ...drawnIn(lines, 'seen', paper),
    ],
  }
}

function windowOf({ place, frame: { min, max } }: OnPaper) {
  const [x, y] = place([min[0], max[1]])
  const [right, bottom] = place([max[0], min[1]])
  return { x, y, width: right - x, height: bottom - y }
}

function drawnIn(lines: readonly DrawnLine[], look: 'seen' | 'hidden', paper: OnPaper): FigureItem[] {
  const stroke = (role: DrawnLine['role']): Stroke =>
    look === 'hidden' ? 'hidden' : role === 'part' ? 'outline' : 'thin'
  const window = windowOf(paper)
  return lines
    .filter((line) => line.look === look)
    .flatMap(({ name, role, points }) => {
      const onPaper = simplified(points, penError / paper.share).map(paper.place)
      return clipLine(onPaper, false, window).map(
        (run): FigureItem => ({ kind: 'line', stroke: stroke(role), name, points: run }),
      )
    })
}

/** @param covered by the parts, which stand out from all hatching */
function seenOf(
  outlines: Drawing['outlines'],
  nearFirst: readonly string[],
  covered: Loops,
  onPaper: (loops: Loops) => Loops,
): Map<string, Loops> {
  const standing = outlines.filter(({ role, beside }) => role !== 'part' && !beside)
  const seen = new Map<string, Loops>()
  let before = covered
  for (const { name, loops } of nearFirst.flatMap((near) => standing.find(({ name }) => name === near) ?? [])) {
    const whole = onPaper(loops)
    seen.set(name, without(whole, before))
    before = unionOf([...before, ...whole])
  }
  return seen
}

const hatched = (name: string, role: Role, loops: Loops): FigureItem[] =>
  hatchLines(loops, hatches[role]).map((points) => ({ kind: 'line', stroke: 'hatch', name, points }))

interface Beside {
  readonly name: string
  readonly runs: readonly (readonly Paper[])[]
}

function rimsOf(beside: readonly Beside[], covered: Loops): Map<string, Paper[][]> {
  const rims = new Map<string, Paper[][]>()
  for (const { name, runs } of beside) {
    const pieces = runs.flatMap((run) => run.slice(1).map((p, i): Paper[] => [run[i], p]))
    const free = pieces.filter(([a, b]) => !isInside([(a[0] + b[0]) / 2, (a[1] + b[1]) / 2], covered))
    rims.set(name, [...(rims.get(name) ?? []), ...free])
  }
  return rims
}

function isInside([x, y]: Paper, loops: Loops): boolean {
  let inside = false
  for (const loop of loops)
    loop.forEach((a, i) => {
      const b = loop[(i + 1) % loop.length]
      if (a[1] > y !== b[1] > y && x < a[0] + ((y - a[1]) / (b[1] - a[1])) * (b[0] - a[0])) inside = !inside
    })
  return inside
}

/** Strokes of the hatching below a ground, mm of paper. */
const tick = { apart: 4, long: 3 }

/** A plane that is seen edge-on: a line across the view, with short strokes on the side that is solid. */
function groundItems({ name, at, along, out }: DrawnGround, paper: OnPaper): FigureItem[] {
  const { place, frame } = paper
  const { min, max } = frame
  const reach = Math.hypot(max[0] - min[0], max[1] - min[1]) + Math.hypot(at[0] - min[0], at[1] - min[1])
  const end = (by: number): Paper => place([at[0] + by * along[0], at[1] + by * along[1]])
  return clipLine([end(-reach), end(reach)], false, windowOf(paper)).flatMap(([a, b]): FigureItem[] => {
    const long = Math.hypot(b[0] - a[0], b[1] - a[1])
    const way: Paper = [(b[0] - a[0]) / long, (b[1] - a[1]) / long]
    // On paper y runs down.
    const into: Paper = [-out[0], out[1]]
    const ticks = Array.from({ length: Math.floor(long / tick.apart) }, (_, k): FigureItem => {
      const s = (k + 0.75) * tick.apart
      const foot: Paper = [a[0] + s * way[0], a[1] + s * way[1]]
      const slant = tick.long * Math.SQRT1_2
      return {
        kind: 'line',
        stroke: 'hatch',
        name,
        points: [foot, [foot[0] + slant * (into[0] - way[0]), foot[1] + slant * (into[1] - way[1])]],
      }
    })
    return [{ kind: 'line', stroke: 'thin', name, points: [a, b] }, ...ticks]
  })
}
