import type { Candidate } from '../../bay/schema.ts'
import type { LeastOnTheWay, Move, SeatPath } from '../../seat/answer.ts'
import { carriedFrom, poseAt, poseOf, posesOf } from '../../seat/move.ts'
import { unionBounds } from '../../shape/bounds.ts'
import { movedSolid } from '../../shape/moved.ts'
import { mix, placed, type Pose, type Vec3 } from '../../shape/vec.ts'
import type { DrawnThing } from '../drawing/drawing.ts'
import { type Loops, unionOf, withinFrame } from '../drawing/region.ts'
import { solidSight } from '../drawing/solidSight.ts'
import {
  depthOf,
  type Flat,
  type Frame,
  frameOf,
  joinedFrame,
  seen,
  type View,
  type ViewName,
  views,
} from '../drawing/view.ts'
import type { Figure, FigureItem, Paper, Stroke } from './figure.ts'

/** The way in, and what is drawn of it. */
export interface MoveScene {
  readonly candidate: Pick<Candidate, 'core' | 'at' | 'turn'>
  readonly path: SeatPath
  readonly least: LeastOnTheWay | null
  /** Parts and keep-outs as they stand with the candidate at its seat. */
  readonly things: readonly DrawnThing[]
  /** Names of the parts that go in, and of the keep-outs that are off for it. */
  readonly withPart: readonly string[]
  readonly off: readonly string[]
  /** mm of paper */
  readonly width: number
  readonly height: number
}

/** A move's picture, and the side that it is seen from. */
export interface MovePicture {
  readonly figure: Figure
  readonly view: ViewName
  /** The tightest place of the whole way is marked in it. */
  readonly tightest: boolean
}

/** How far chords of round things may lie off them here, mm: less than a hairline of the paper. */
const sag = 0.5
/** Left free around what moves, as a share of the picture. */
const aroundShare = 0.12

/**
 * One small picture for each move, not to scale: the part where the move begins (dashed, double-dotted) and where it ends,
 * what stays level with it, the way that it goes, and the tightest place where that is in this move.
 */
export function moveFigures(scene: MoveScene): MovePicture[] {
  const { path } = scene
  const poses = posesOf(path)
  const seat = poseOf(scene.candidate)
  const around = new Map<ViewName, Loops[]>()
  return path.moves.map((move, n) => {
    const view = views[sideFor(move)]
    const stays = around.get(view.name) ?? staying(scene, view)
    around.set(view.name, stays)
    return movePicture(scene, { n, move, seat, from: poses[n], to: poses[n + 1], view }, stays)
  })
}

/** Turns are seen along their axis; shifts from where they are long: up and down, to and fro from the side, else from the front. */
function sideFor({ shift, axis, angle }: Move): ViewName {
  const along = (v: Vec3) => v.map(Math.abs).indexOf(Math.max(...v.map(Math.abs)))
  if (angle !== 0) return (['front', 'side', 'plan'] as const)[along(axis)]
  return (['side', 'front', 'side'] as const)[along(shift)]
}

const outlineOf = ({ solid }: Pick<DrawnThing, 'solid'>, view: View): Loops => solidSight(solid, view, sag).outline

/** Only what stands level with the part as it is looked at: what stands before or behind it would cover the picture. */
function staying({ things, off, withPart }: MoveScene, view: View): Loops[] {
  const parts = things.filter(({ name, role }) => role === 'part' && withPart.includes(name))
  const [near, far] = depthOf(unionBounds(parts.map(({ solid }) => solid.bounds)), view)
  return things
    .filter(({ name, role, solid }) => {
      if (role === 'part' || off.includes(name)) return false
      const [low, high] = depthOf(solid.bounds, view)
      return low < far && high > near
    })
    .map((thing) => outlineOf(thing, view))
}

interface Step {
  readonly n: number
  readonly move: Move
  readonly seat: Pose
  readonly from: Pose
  readonly to: Pose
  readonly view: View
}

function movePicture(scene: MoveScene, step: Step, stays: readonly Loops[]): MovePicture {
  const { n, move, seat, from, to, view } = step
  const parts = scene.things.filter(({ name, role }) => role === 'part' && scene.withPart.includes(name))
  const partAt = (pose: Pose): Loops => {
    const carry = carriedFrom(seat, pose)
    return unionOf(parts.flatMap(({ solid }) => outlineOf({ solid: movedSolid(solid, carry) }, view)))
  }
  const [before, after] = [partAt(from), partAt(to)]
  const onPaper = paperFor(joinedFrame(frameOf(before.flat()), frameOf(after.flat())), scene)
  const items: FigureItem[] = []
  for (const loops of stays) {
    const kept = withinFrame(loops, onPaper.frame)
    if (kept.length === 0) continue
    items.push({ kind: 'area', loops: kept.map((loop) => loop.map(onPaper.at)), fill: 'body' })
    items.push(...openLines(kept, onPaper))
  }
  items.push({ kind: 'area', loops: after.map((loop) => loop.map(onPaper.at)), fill: 'part' })
  items.push(...closedLines(before, 'neighbour', onPaper), ...closedLines(after, 'outline', onPaper))
  items.push(...wayItems(scene, step, onPaper))
  const tightest = scene.least?.move === n
  if (tightest && scene.least)
    items.push(ring(onPaper.at(flat(view, mix(scene.least.onPart, scene.least.onKeepOut, 0.5)))))
  if (move.angle !== 0) items.push(...cross(onPaper.at(flat(view, move.pivot))))
  return {
    view: view.name,
    tightest,
    figure: { id: `move-${n + 1}`, width: scene.width, height: scene.height, scale: null, items },
  }
}

const flat = (view: View, point: Vec3): Flat => {
  const [u, v] = seen(view, point)
  return [u, v]
}

interface OnPaper {
  /** What the picture shows, true size. */
  readonly frame: Frame
  readonly at: (point: Flat) => Paper
}

/** The frame that shows all of this in the middle of the paper. */
function paperFor({ min, max }: Frame, { width, height }: MoveScene): OnPaper {
  const share = 1 - 2 * aroundShare
  const scale = Math.min((share * width) / (max[0] - min[0]), (share * height) / (max[1] - min[1]))
  const middle = [(min[0] + max[0]) / 2, (min[1] + max[1]) / 2]
  const half = [width / 2 / scale, height / 2 / scale]
  return {
    frame: { min: [middle[0] - half[0], middle[1] - half[1]], max: [middle[0] + half[0], middle[1] + half[1]] },
    at: ([u, v]) => [width / 2 + (u - middle[0]) * scale, height / 2 - (v - middle[1]) * scale],
  }
}

const closedLines = (loops: Loops, stroke: Stroke, { at }: OnPaper): FigureItem[] =>
  loops.map((loop) => ({ kind: 'line', stroke, points: loop.map(at), closed: true }))

/** Outlines without the pieces where the picture's edge cuts them. */
function openLines(loops: Loops, { frame, at }: OnPaper): FigureItem[] {
  const onEdge = (a: Flat, b: Flat) =>
    [0, 1].some((k) => [frame.min[k], frame.max[k]].some((edge) => isNear(a[k], edge) && isNear(b[k], edge)))
  return loops.flatMap((loop) =>
    loop.flatMap((a, i): FigureItem[] => {
      const b = loop[(i + 1) % loop.length]
      return onEdge(a, b) ? [] : [{ kind: 'line', stroke: 'thin', points: [at(a), at(b)] }]
    }),
  )
}

/** Places of regions are rounded. */
const isNear = (a: number, b: number): boolean => Math.abs(a - b) < 1e-3

const steps = 16
/** An arrow that is seen at a glance: longer and wider than those of dimensions, mm and radians to either side. */
const arrowLong = 4
const arrowHalf = Math.PI / 10

/** The way of the core's middle, or where it turns of the corner that goes farthest, with an arrow at its end. */
function wayItems({ candidate: { core } }: MoveScene, { from, move, view }: Step, { at }: OnPaper): FigureItem[] {
  const [x, y, z] = [core.depth / 2, core.width / 2, core.height / 2]
  const corners = [-x, x].flatMap((a) => [-y, y].flatMap((b) => [-z, z].map((c): Vec3 => [a, b, c])))
  const ways = (move.angle === 0 ? [[0, 0, 0] as Vec3] : corners).map((corner) =>
    Array.from({ length: steps + 1 }, (_, i) => at(flat(view, placed(poseAt(from, move, i / steps), corner)))),
  )
  const farthest = ways.reduce((a, b) => (longOf(b) > longOf(a) + 1e-9 ? b : a))
  const tip = farthest[steps]
  // The shaft ends within the head, so that its line does not stick out at the tip.
  const shaft = farthest.filter((point) => point !== tip && longOf([point, tip]) > arrowLong / 2)
  if (shaft.length === 0) return []
  const before = shaft[shaft.length - 1]
  const back = Math.atan2(before[1] - tip[1], before[0] - tip[0])
  const wing = (side: number): Paper => [
    tip[0] + arrowLong * Math.cos(back + side * arrowHalf),
    tip[1] + arrowLong * Math.sin(back + side * arrowHalf),
  ]
  return [
    { kind: 'line', stroke: 'thin', points: shaft },
    { kind: 'area', loops: [[tip, wing(1), wing(-1)]], fill: 'ink' },
  ]
}

const longOf = (way: readonly Paper[]): number =>
  way.slice(1).reduce((sum, [x, y], i) => sum + Math.hypot(x - way[i][0], y - way[i][1]), 0)

/** Half of the mark of a pivot, and the radius of that of the tightest place, mm of paper. */
const crossHalf = 2.5
const ringRadius = 2

const cross = ([x, y]: Paper): FigureItem[] => [
  {
    kind: 'line',
    stroke: 'thin',
    points: [
      [x - crossHalf, y],
      [x + crossHalf, y],
    ],
  },
  {
    kind: 'line',
    stroke: 'thin',
    points: [
      [x, y - crossHalf],
      [x, y + crossHalf],
    ],
  },
]

const ring = ([x, y]: Paper): FigureItem => ({
  kind: 'line',
  stroke: 'outline',
  closed: true,
  points: Array.from({ length: 24 }, (_, i) => {
    const angle = (2 * Math.PI * i) / 24
    return [x + ringRadius * Math.cos(angle), y + ringRadius * Math.sin(angle)]
  }),
})
