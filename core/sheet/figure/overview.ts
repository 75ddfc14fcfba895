import { grownBounds, unionBounds } from '../../shape/bounds.ts'
import type { Bounds } from '../../shape/form.ts'
import { distance, type Vec3 } from '../../shape/vec.ts'
import type { LedgerPair } from '../../verdict/answer.ts'
import { drawing, type DrawnThing } from '../drawing/drawing.ts'
import {
  depthOf,
  type Flat,
  type Frame,
  frameOfBounds,
  seen,
  type View,
  type ViewName,
  views,
} from '../drawing/view.ts'
import type { Projection } from './arrange.ts'
import type { GapWish, NumberWish } from './labels.ts'
import { gapEnds, type Side, sideGaps } from './sideGaps.ts'
import type { DimensionWish } from './layout.ts'
import { type ViewsFigure, viewsFigure, type ViewWish } from './views.ts'

/** A candidate in its bay, and how lengths read. */
export interface OverviewScene {
  readonly things: readonly DrawnThing[]
  readonly pairs: readonly LedgerPair[]
  /** Of the keep-outs, as the list beside the drawing numbers them. */
  readonly numbers: readonly NumberWish[]
  readonly texts: OverviewTexts
  readonly projection: Projection
  /** 1 : this; null takes the largest standard scale that fits. */
  readonly scale: number | null
  readonly room: { readonly width: number; readonly height: number }
}

export interface OverviewTexts {
  readonly length: (mm: number) => string
  readonly gap: (pair: LedgerPair) => string
  readonly place: (place: Vec3) => string
}

/** Around the parts so much of the bay is shown, as a share of their largest size, and mm at least. */
const around = { share: 0.08, least: 60 }

/**
 * Front, side and plan of a candidate in its bay, with its overall sizes and the least gap on each side that a view shows
 * squarely. What stands wholly before the candidate in a view is drawn in outline there, as if cut away (ISO 128-2, 05.1).
 */
export function overviewFigure(scene: OverviewScene): ViewsFigure {
  const parts = scene.things.filter(({ role }) => role === 'part')
  const bounds = unionBounds(parts.map(({ solid }) => solid.bounds))
  const most = Math.max(...[0, 1, 2].map((k) => bounds.max[k] - bounds.min[k]))
  const reach = Math.max(around.least, around.share * most)
  const view = (name: ViewName) => viewOf(scene, parts, bounds, reach, views[name])
  return viewsFigure({
    id: 'overview',
    projection: scene.projection,
    views: { front: view('front'), side: view('side'), plan: view('plan') },
    origin: [0, 0, 0],
    placeText: scene.texts.place,
    scale: scene.scale,
    room: scene.room,
  })
}

function viewOf(
  scene: OverviewScene,
  parts: readonly DrawnThing[],
  bounds: Bounds,
  reach: number,
  view: View,
): ViewWish {
  const own = frameOfBounds(bounds, view)
  const frame = withOrigin(grown(own, reach), reach)
  const [, nearest] = depthOf(bodyBounds(parts), view)
  const vicinity = grownBounds(bounds, reach)
  const things = scene.things
    .filter(({ solid }) => boundsMeet(solid.bounds, vicinity))
    .map((thing) =>
      thing.role !== 'part' && depthOf(thing.solid.bounds, view)[0] >= nearest - 1e-6
        ? { ...thing, beside: true }
        : thing,
    )
  const near = [...things].sort((a, b) => depthOf(b.solid.bounds, view)[1] - depthOf(a.solid.bounds, view)[1])
  return {
    drawing: drawing(things, view),
    frame,
    nearFirst: near.map(({ name }) => name),
    dimensions: overall(parts, view, scene.texts),
    gaps: gapsOf(scene, view, frame, reach),
    numbers: scene.numbers,
  }
}

const grown = ({ min, max }: Frame, by: number): Frame => ({
  min: [min[0] - by, min[1] - by],
  max: [max[0] + by, max[1] + by],
})

/** The origin is shown where that takes the view no more than a little beyond what it shows anyway. */
function withOrigin({ min, max }: Frame, reach: number): Frame {
  const beyond = [0, 1].some((k) => min[k] > 2 * reach || max[k] < -2 * reach)
  if (beyond) return { min, max }
  const rim = reach / 4
  return {
    min: [Math.min(min[0], -rim), Math.min(min[1], -rim)],
    max: [Math.max(max[0], rim), Math.max(max[1], rim)],
  }
}

const boundsMeet = (a: Bounds, b: Bounds): boolean =>
  [0, 1, 2].every((k) => a.min[k] <= b.max[k] && b.min[k] <= a.max[k])

const isBody = ({ name }: DrawnThing): boolean => name === 'core' || name.startsWith('tank-')

const bodyBounds = (parts: readonly DrawnThing[]): Bounds =>
  unionBounds(parts.filter(isBody).map(({ solid }) => solid.bounds))

/** Which sizes each view shows: each once (ISO 129-1). */
const shownIn: Readonly<Record<ViewName, readonly Side[]>> = { front: ['below', 'left'], side: ['below'], plan: [] }
const sizeWords = {
  front: { below: 'width', left: 'height' },
  side: { below: 'depth', left: 'height' },
  plan: { below: 'width', left: 'depth' },
} as const

/** Sizes over core and tanks, and over all parts where pipes, stubs or mounts stand out. */
function overall(parts: readonly DrawnThing[], view: View, { length }: OverviewTexts): DimensionWish[] {
  const body = frameOfBounds(bodyBounds(parts), view)
  const all = frameOfBounds(unionBounds(parts.map(({ solid }) => solid.bounds)), view)
  return shownIn[view.name].flatMap((side) => {
    const wish = (of: string, { min, max }: Frame) =>
      dimension(
        side,
        `${of} ${sizeWords[view.name][side as 'below' | 'left']}`,
        min,
        side === 'below' ? [max[0], min[1]] : [min[0], max[1]],
        length,
      )
    const [inner, outer] = [wish('body', body), wish('overall', all)]
    return outer.value > inner.value + 0.05 ? [inner, outer] : [inner]
  })
}

/** The longer side of what it measures counts: across below and above, up left and right. */
export function dimension(side: Side, of: string, from: Flat, to: Flat, text: (mm: number) => string): DimensionWish {
  const k = side === 'below' || side === 'above' ? 0 : 1
  const value = Math.abs(to[k] - from[k])
  return { side, of, value, text: text(value), from, to }
}

/** @param reach of gaps that are told: what is farther off holds nothing */
function gapsOf({ pairs, texts }: OverviewScene, view: View, { min, max }: Frame, reach: number): GapWish[] {
  const near = pairs.filter(({ gap }) => gap <= reach)
  return sideGaps(near, view.right, view.up).flatMap(({ pair }) => {
    const [from, to] = gapEnds(pair)
    const [a, b] = [flat(view, from), flat(view, to)]
    const shown = [a, b].every((p) => [0, 1].every((k) => p[k] >= min[k] && p[k] <= max[k]))
    if (!shown || distance(from, to) === 0) return []
    const value = pair.overlap && pair.overlap.depth > 0 ? -pair.overlap.depth : pair.gap
    return [{ of: `gap ${pair.part} ${pair.keepOut}`, value, text: texts.gap(pair), from: a, to: b }]
  })
}

export function flat(view: View, point: Vec3): Flat {
  const [u, v] = seen(view, point)
  return [u, v]
}
