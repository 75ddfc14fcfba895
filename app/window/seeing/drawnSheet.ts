import type { Bay } from '../../../core/bay/schema.ts'
import { add, dot, scale, type Vec3 } from '../../../core/shape/vec.ts'
import { formatLength } from '../../../core/units/lengthText.ts'
import type { LedgerPair } from '../../../core/verdict/answer.ts'
import type { DrawnSolid } from '../../worker/protocol.ts'
import { gapFull, overlapGlance } from '../ledger/figures.ts'
import { keepOutName, pairNames, partName } from '../ledger/names.ts'
import type { Scene } from '../state/scene.ts'
import {
  bayOf,
  candidateIn,
  freshness,
  selectedPair,
  shownLedger,
  type ViewName,
  type WindowState,
} from '../state/windowState.ts'
import { axesOf, startRig } from '../viewport/camera.ts'
import { words } from '../words.ts'
import type { DrawingSheet, DrawnDimension, DrawnThing } from './drawingSvg.ts'
import { type Place, outlineOf } from './outline.ts'
import { overallBox } from './overall.ts'
import { keysWith, leastGaps, lookOf, rolesOf } from './shown.ts'
import { gapEnds, sideGaps, tightestOf } from './sideGaps.ts'

const text = words.seeing.picture

/** Edges of more segments than this are left to the outline: scans would be a blur of ink. */
const mostEdges = 4000

/** Front, side or plan of what is drawn at present, as it stands at its seat, for a file. */
export function drawnSheet(
  state: WindowState,
  scene: Scene,
  view: Exclude<ViewName, 'space'>,
  date: string,
): DrawingSheet {
  const { right, up } = axesOf(startRig(view))
  const place = (at: Vec3): Place => [dot(at, right), dot(at, up)]
  const bay = bayOf(state)
  const ledger = shownLedger(state)?.ledger ?? null
  const gaps = leastGaps(ledger)
  const things = [...scene.keepOuts, ...scene.parts].flatMap((solid): DrawnThing[] => {
    const look = solid.side === 'part' ? 'drawn' : lookOf(solid.key, bay, state.seeing, gaps)
    // A plane has no end that could be drawn.
    const endless = ![...solid.bounds.min, ...solid.bounds.max].every(Number.isFinite)
    return look === 'hidden' || endless
      ? []
      : [thingOf(solid, state, bay, look === 'ghosted', { right, up, place, scene })]
  })
  return {
    title: text.caption(bay?.name ?? '', candidateIn(state)?.name ?? ''),
    caption: captionOf(state, view, date),
    things,
    dimensions: dimensionsOf(state, scene, view, place),
  }
}

interface Drawn {
  readonly right: Vec3
  readonly up: Vec3
  readonly place: (at: Vec3) => Place
  readonly scene: Scene
}

function thingOf(solid: DrawnSolid, state: WindowState, bay: Bay | null, ghosted: boolean, drawn: Drawn): DrawnThing {
  const { right, up, place, scene } = drawn
  const { edges, side, key } = solid
  const [dx, dy] = place(scene.origin)
  const moved = ([x, y]: Place): Place => [x + dx, y + dy]
  const at = (i: number): Place => moved(place([edges[i], edges[i + 1], edges[i + 2]]))
  const few = edges.length / 6 <= mostEdges
  return {
    name: side === 'part' ? partName(candidateIn(state), key) : keepOutName(bay, key),
    hatch: side === 'part' ? (key === 'core' ? 'part' : 'none') : ((bay && rolesOf(bay).get(key)) ?? 'none'),
    isPart: side === 'part',
    ghosted,
    rings: largeOnes(outlineOf(solid.light ?? solid.surface, right, up), solid.mesh).map((ring) => ring.map(moved)),
    lines: few ? Array.from({ length: edges.length / 6 }, (_, i) => [at(6 * i), at(6 * i + 3)]) : [],
  }
}

/** Folds of a scan that are small beside it would be a blur of ink; other solids keep every ring. */
function largeOnes(rings: Place[][], isMesh: boolean): Place[][] {
  if (!isMesh) return rings
  const sizes = rings.map((ring) => {
    const [xs, ys] = [ring.map(([x]) => x), ring.map(([, y]) => y)]
    const spread = (all: readonly number[]) =>
      all.reduce((a, b) => Math.max(a, b), -Infinity) - all.reduce((a, b) => Math.min(a, b), Infinity)
    return Math.hypot(spread(xs), spread(ys))
  })
  const largest = sizes.reduce((a, b) => Math.max(a, b), 0)
  return rings.filter((_, i) => sizes[i] > largest / 8)
}

function dimensionsOf(
  state: WindowState,
  scene: Scene,
  view: Exclude<ViewName, 'space'>,
  place: (at: Vec3) => Place,
): DrawnDimension[] {
  const ledger = freshness(state) === 'fresh' ? (shownLedger(state)?.ledger ?? null) : null
  const rig = startRig(view)
  const { right, up } = axesOf(rig)
  const chosen = ledger && selectedPair(state)
  const pairs = new Set([
    ...(chosen ? [chosen] : []),
    ...(ledger ? sideGaps(ledger.pairs, right, up).map(({ pair }) => pair) : []),
    ...(ledger && state.seeing.tightest ? tightestOf(ledger.pairs, 5) : []),
  ])
  const gaps = [...pairs].map((pair): DrawnDimension => {
    const [from, to] = gapEnds(pair)
    const { other } = pairNames(bayOf(state), candidateIn(state), pair)
    return { kind: 'gap', from: place(from), to: place(to), text: gapText(pair, state), name: other, mm: pair.gap }
  })
  const box = overallBox(scene.parts, rig)
  if (!box) return gaps
  const corner = (x: number, y: number): Place => place(add(scale(right, x), scale(up, y)))
  const size = (kind: 'across' | 'up', mm: number, to: Place): DrawnDimension => ({
    kind,
    from: corner(box.left, box.below),
    to,
    text: formatLength(mm, state.units, state.units === 'mm' ? { decimals: 1 } : { fraction: 32 }),
    name: text.overall,
    mm,
  })
  return [
    ...gaps,
    size('across', box.right - box.left, corner(box.right, box.below)),
    size('up', box.above - box.below, corner(box.left, box.above)),
  ]
}

function gapText({ gap, overlap, verdict }: LedgerPair, { units }: WindowState): string {
  const { mark } = words.verdict[verdict]
  if (!overlap) return `${mark} ${gapFull(gap, units)}`
  const { touches, overlaps } = words.seeing.gaps
  return `${mark} ${overlap.depth === 0 ? touches : overlaps(overlapGlance(overlap.depth, units))}`
}

/** What a picture says of itself: what it shows, of when, in which units, and the caution. */
export function captionOf(state: WindowState, view: ViewName, date: string): string[] {
  const ledger = shownLedger(state)?.ledger ?? null
  const hidden = keysWith('hidden', bayOf(state), state.seeing, ledger).length
  const facts = [
    text.facts(date, text.units[state.units], text.drawing(words.view[view])),
    freshness(state) === 'fresh' && ledger ? text.ledger(words.verdict[ledger.verdict].one) : text.stale,
    ...(hidden > 0 ? [words.seeing.left.hidden(hidden)] : []),
  ]
  return [facts.join(' · '), words.footer.caution]
}
