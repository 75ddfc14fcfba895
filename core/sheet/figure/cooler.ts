import { holePlace, mountFrame } from '../../bay/mountFrame.ts'
import type { Candidate, Tank } from '../../bay/schema.ts'
import { portPoint, type Side as TankSide, sides, tankFrame } from '../../bay/tankPort.ts'
import { carriedFrom, poseOf } from '../../seat/move.ts'
import { unionBounds } from '../../shape/bounds.ts'
import { movedSolid } from '../../shape/moved.ts'
import { dot, identity, type Vec3 } from '../../shape/vec.ts'
import { drawing, type DrawnThing } from '../drawing/drawing.ts'
import { frameOfBounds, type View, type ViewName, views } from '../drawing/view.ts'
import type { Projection } from './arrange.ts'
import type { Figure } from './figure.ts'
import { dimension, flat } from './overview.ts'
import type { Side } from './sideGaps.ts'
import type { HoleWish } from './marks.ts'
import type { DimensionWish } from './layout.ts'
import { viewsFigure } from './views.ts'

/** A candidate's own body, drawn square to its axes. */
export interface CoolerScene {
  readonly candidate: Candidate
  readonly things: readonly DrawnThing[]
  readonly length: (mm: number) => string
  readonly projection: Projection
  /** 1 : this; null takes the largest standard scale that fits. */
  readonly scale: number | null
  readonly room: { readonly width: number; readonly height: number }
}

/** Core, tanks, stubs and mounts in three views with the sizes over them. */
export function coolerFigure(scene: CoolerScene): Figure {
  const own = ownThings(scene, () => true)
  return bodyFigure(
    scene,
    'core-and-tanks',
    own,
    holesOf(scene.candidate, () => true),
    {
      front: [...coreWidths(scene), ...heights(scene, own)],
      side: depths(scene, own),
      plan: [],
    },
  )
}

/** One tank with its stubs and mounts, with its own sizes and where its ports sit. */
export function tankFigure(scene: CoolerScene, side: TankSide): Figure | null {
  const tank = scene.candidate.tanks?.[side]
  if (!tank) return null
  const mounts = (scene.candidate.mounts ?? []).filter(({ on }) => on.part === `tank-${side}`).map(({ id }) => id)
  const isOwn = (name: string) =>
    name === `tank-${side}` || name.startsWith(`stub-${side}-`) || mounts.some((id) => name === `mount-${id}`)
  const holes = holesOf(scene.candidate, (id) => mounts.includes(id))
  return bodyFigure(scene, `tank-${side}`, ownThings(scene, isOwn), holes, tankSizes(scene, tank, side))
}

type Sizes = Readonly<Record<ViewName, readonly DimensionWish[]>>

/** In the candidate's own frame, origin at the core's middle. */
function ownThings({ candidate, things }: CoolerScene, isOwn: (name: string) => boolean): DrawnThing[] {
  const back = carriedFrom(poseOf(candidate), { turn: identity, at: [0, 0, 0] })
  return things
    .filter(({ name, role }) => role === 'part' && /^(core$|tank-|stub-|mount-)/.test(name) && isOwn(name))
    .map((thing) => ({ ...thing, solid: movedSolid(thing.solid, back) }))
}

/** Free around what is drawn, mm of true size: lines have a width. */
const rim = 1

function bodyFigure(
  scene: CoolerScene,
  id: string,
  own: readonly DrawnThing[],
  holes: readonly Hole[],
  sizes: Sizes,
): Figure {
  const bounds = unionBounds(own.map(({ solid }) => solid.bounds))
  const view = (name: ViewName) => {
    const { min, max } = frameOfBounds(bounds, views[name])
    return {
      drawing: drawing(own, views[name]),
      frame: { min: [min[0] - rim, min[1] - rim], max: [max[0] + rim, max[1] + rim] } as const,
      nearFirst: [],
      dimensions: sizes[name],
      holes: holes.flatMap((hole) => holeIn(views[name], hole)),
    }
  }
  return viewsFigure({
    id,
    projection: scene.projection,
    views: { front: view('front'), side: view('side'), plan: view('plan') },
    origin: null,
    placeText: () => '',
    scale: scene.scale,
    room: scene.room,
  }).figure
}

interface Hole {
  readonly at: Vec3
  readonly axis: Vec3
  readonly along: Vec3
  readonly diameter: number
  readonly length: number
}

function holesOf(candidate: Candidate, isOwn: (mount: string) => boolean): Hole[] {
  return (candidate.mounts ?? []).flatMap(({ id, on, shape }) => {
    const frame = mountFrame(candidate, on)
    if (!frame || shape.kind === 'pin' || !isOwn(id)) return []
    return (shape.holes ?? []).map((hole) => {
      const { at, axis, along } = holePlace(hole, shape, frame)
      return { at, axis, along, diameter: hole.diameter, length: hole.length ?? hole.diameter }
    })
  })
}

/** A hole is drawn where it is looked into. */
function holeIn(view: View, { at, axis, along, diameter, length }: Hole): HoleWish[] {
  if (Math.abs(dot(axis, view.eye)) < 1 - 1e-6) return []
  return [{ at: flat(view, at), along: flat(view, along), diameter, length }]
}

const front = views.front

/** Core, tanks one by one, and all of them, below the front view. */
function coreWidths({ candidate: { core, tanks }, length }: CoolerScene): DimensionWish[] {
  const low = -core.height / 2
  const at = (y: number) => flat(front, [0, y, low])
  const across = (of: string, from: number, to: number) => dimension('below', of, at(from), at(to), length)
  const half = core.width / 2
  const [left, right] = [-half - (tanks?.left?.length ?? 0), half + (tanks?.right?.length ?? 0)]
  return [
    across('core width', -half, half),
    ...(tanks?.left ? [across('tank-left length', left, -half)] : []),
    ...(tanks?.right ? [across('tank-right length', half, right)] : []),
    ...(tanks?.left || tanks?.right ? [across('body width', left, right)] : []),
  ]
}

const isOver = (wish: DimensionWish, inner: number): boolean => wish.value > inner + 0.05

function heights({ candidate: { core }, length }: CoolerScene, own: readonly DrawnThing[]): DimensionWish[] {
  const { min, max } = unionBounds(own.map(({ solid }) => solid.bounds))
  const y = max[1]
  const up = (of: string, low: number, high: number) =>
    dimension('left', of, flat(front, [0, y, low]), flat(front, [0, y, high]), length)
  const over = up('overall height', min[2], max[2])
  return [up('core height', -core.height / 2, core.height / 2), ...(isOver(over, core.height) ? [over] : [])]
}

function depths({ candidate: { core }, length }: CoolerScene, own: readonly DrawnThing[]): DimensionWish[] {
  const { min, max } = unionBounds(own.map(({ solid }) => solid.bounds))
  const across = (of: string, from: number, to: number) =>
    dimension('below', of, flat(views.side, [from, 0, min[2]]), flat(views.side, [to, 0, min[2]]), length)
  const over = across('overall depth', min[0], max[0])
  return [across('core depth', -core.depth / 2, core.depth / 2), ...(isOver(over, core.depth) ? [over] : [])]
}

/** Foot, far end and length of a tank, and the middles of its ports from the foot and its lower and front edges. */
function tankSizes({ candidate: { core }, length }: CoolerScene, tank: Tank, side: TankSide): Sizes {
  const frame = tankFrame(core, tank, side)
  const { centre, halfDepth, halfHeight, outward } = frame
  const name = `tank-${side}`
  const [foot, end] = [centre[1], centre[1] + outward * frame.length]
  const [low, near] = [centre[2] - halfHeight[0], centre[0] - halfDepth[0]]
  // Seen from the front, the car's left is on the right.
  const [footSide, endSide]: [Side, Side] = outward < 0 ? ['left', 'right'] : ['right', 'left']
  const wish = (view: ViewName, at: Side, of: string, from: Vec3, to: Vec3) =>
    dimension(at, `${name} ${of}`, flat(views[view], from), flat(views[view], to), length)
  const span = (view: ViewName, at: Side, of: string, k: 0 | 2, which: 0 | 1) => {
    const half = (k === 0 ? halfDepth : halfHeight)[which]
    const point = (by: number): Vec3 => {
      const p: [number, number, number] = [centre[0], which === 0 ? foot : end, centre[2]]
      p[k] += by
      return p
    }
    return wish(view, at, of, point(-half), point(half))
  }
  const { depth, height } = tank.taper ?? { depth: 1, height: 1 }
  const ports = (tank.ports ?? []).map((port) => ({ port, at: portPoint(port, frame) }))
  const on = (faces: readonly string[]) => ports.filter(({ port }) => faces.includes(port.face))
  return {
    front: [
      wish('front', 'below', 'length', [0, foot, low], [0, end, low]),
      span('front', footSide, 'foot height', 2, 0),
      ...(height === 1 ? [] : [span('front', endSide, 'end height', 2, 1)]),
      ...on(['front', 'rear']).flatMap(({ port, at }) => [
        wish('front', 'above', `port ${port.id} from foot`, [0, foot, at[2]], at),
        wish('front', endSide, `port ${port.id} from lower edge`, [0, at[1], low], at),
      ]),
    ],
    side: [
      span('side', 'below', 'foot depth', 0, 0),
      ...on(['end']).flatMap(({ port, at }) => [
        wish('side', 'above', `port ${port.id} from front edge`, [near, 0, at[2]], at),
        wish('side', 'right', `port ${port.id} from lower edge`, [at[0], 0, low], at),
      ]),
    ],
    plan: [
      ...(depth === 1 ? [] : [span('plan', endSide, 'end depth', 0, 1)]),
      ...on(['above', 'below']).flatMap(({ port, at }) => [
        wish('plan', 'above', `port ${port.id} from foot`, [at[0], foot, 0], at),
        wish('plan', footSide, `port ${port.id} from front edge`, [near, at[1], 0], at),
      ]),
    ],
  }
}

/** Sides of a candidate that have a tank. */
export const tankSides = ({ tanks }: Candidate): TankSide[] => sides.filter((side) => tanks?.[side] !== undefined)
