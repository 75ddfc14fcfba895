import type { Bay } from '../../../core/bay/schema.ts'
import type { DrawnLine, Drawing as LineDrawing } from '../../../core/sheet/drawing/drawing.ts'
import { add, dot, scale, type Vec3 } from '../../../core/shape/vec.ts'
import { formatLength } from '../../../core/units/lengthText.ts'
import type { LedgerPair } from '../../../core/verdict/answer.ts'
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
import type { DrawingSheet, DrawnDimension, DrawnThing, Place } from './drawingSvg.ts'
import { overallBox } from './overall.ts'
import { keysWith, leastGaps, lookOf, rolesOf } from './shown.ts'
import { gapEnds, sideGaps, tightestOf } from '../../../core/sheet/figure/sideGaps.ts'

const text = words.seeing.picture

/**
 * Front, side or plan of what is drawn at present, as it stands at its seat, for a file.
 * @param lines of the bay from that side, as the core tells them
 */
export function drawnSheet(
  state: WindowState,
  scene: Scene,
  view: Exclude<ViewName, 'space'>,
  lines: LineDrawing,
  date: string,
): DrawingSheet {
  const { right, up } = axesOf(startRig(view))
  const place = (at: Vec3): Place => [dot(at, right), dot(at, up)]
  const bay = bayOf(state)
  return {
    title: text.caption(bay?.name ?? '', candidateIn(state)?.name ?? ''),
    caption: captionOf(state, view, date),
    things: thingsOf(state, bay, lines),
    dimensions: dimensionsOf(state, scene, view, place),
  }
}

/** Keep-outs first: the candidate lies over them. */
function thingsOf(state: WindowState, bay: Bay | null, { lines, outlines }: LineDrawing): DrawnThing[] {
  const gaps = leastGaps(shownLedger(state)?.ledger ?? null)
  const names = [...new Set([...outlines, ...lines].map(({ name }) => name))]
  const things = names.flatMap((name): DrawnThing[] => {
    const own = lines.filter((line) => line.name === name)
    const outline = outlines.find((each) => each.name === name)
    const isPart = (outline ?? own[0]).role === 'part'
    const look = isPart ? 'drawn' : lookOf(name, bay, state.seeing, gaps)
    if (look === 'hidden') return []
    const points = (looks: readonly DrawnLine['look'][]) =>
      own.filter((line) => looks.includes(line.look)).map((line) => line.points)
    return [
      {
        name: isPart ? partName(candidateIn(state), name) : keepOutName(bay, name),
        hatch: isPart ? (name === 'core' ? 'part' : 'none') : ((bay && rolesOf(bay).get(name)) ?? 'none'),
        isPart,
        // What comes off or moves stands back, as it hides nothing.
        ghosted: look === 'ghosted' || (outline?.beside ?? false),
        rings: outline?.loops ?? [],
        lines: points(['seen', 'beside']),
        hidden: points(['hidden']),
      },
    ]
  })
  return [...things.filter(({ isPart }) => !isPart), ...things.filter(({ isPart }) => isPart)]
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
