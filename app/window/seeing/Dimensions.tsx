import { useStore } from 'zustand'
import { add, dot, scale, type Vec3 } from '../../../core/shape/vec.ts'
import { formatLength, type PeopleUnits } from '../../../core/units/lengthText.ts'
import type { LedgerPair } from '../../../core/verdict/answer.ts'
import { gapGlance, overlapGlance } from '../ledger/figures.ts'
import { pairNames } from '../ledger/names.ts'
import { useHere, useWindow } from '../state/context.ts'
import { isAway } from '../state/motion.ts'
import { cutPair } from '../state/seeing.ts'
import { pairKey } from '../state/pairs.ts'
import { bayOf, candidateIn, selectedPair, shownLedger } from '../state/windowState.ts'
import { axesOf, type Frame, onScreen, type Rig } from '../viewport/camera.ts'
import { arrow, type Point } from '../viewport/dimension.ts'
import type { Box } from '../viewport/labels.ts'
import { words } from '../words.ts'
import { overallBox } from './overall.ts'
import { placeBoxes } from '../../../core/sheet/figure/placeBoxes.ts'
import { gapEnds, sideGaps, tightestOf } from '../../../core/sheet/figure/sideGaps.ts'
import { textScale } from './seeing.ts'

interface Props {
  readonly rig: Rig
  readonly frame: Frame
}

/** Rows that are dimensioned where they are: on wish the tightest, in a drawing the nearest on each side, and the cut's. */
function useDrawnPairs(rig: Rig): readonly LedgerPair[] {
  const ledger = useWindow((state) => (isAway(state) ? null : (shownLedger(state)?.ledger ?? null)))
  const { tightest, dimensions } = useWindow((state) => state.seeing)
  const view = useWindow((state) => state.view)
  const chosen = useWindow(selectedPair)
  const cut = useWindow(cutPair)
  if (!ledger) return []
  const { right, up } = axesOf(rig)
  const pairs = [
    ...(cut ? [cut] : []),
    ...(dimensions && view !== 'space' ? sideGaps(ledger.pairs, right, up).map(({ pair }) => pair) : []),
    ...(tightest ? tightestOf(ledger.pairs, 5) : []),
  ]
  // The chosen one has a dimension of its own.
  return [...new Set(pairs)].filter((pair) => pair !== chosen)
}

/** Over the drawing: gaps dimensioned in their places, and the overall sizes in front, side and plan. */
export function Dimensions({ rig, frame }: Props) {
  const pairs = useDrawnPairs(rig)
  const bay = useWindow(bayOf)
  const candidate = useWindow(candidateIn)
  const units = useWindow((state) => state.units)
  const grown = textScale[useWindow((state) => state.seeing.text)]
  const room = { left: 10, top: frame.top + 4, right: frame.width - 10, bottom: frame.height - frame.bottom }
  const overall = useOverall(rig, frame)
  const taken = overall.map(({ name, from, to, text }) => labelBox(middle(from, to), text, grown, name === 'up'))
  const wanted = pairs.map((pair) => {
    const [from, to] = gapEnds(pair).map((end) => onScreen(end, rig, frame))
    const number = numberOf(pair, units)
    const { other } = pairNames(bay, candidate, pair)
    const width = Math.max(number.length * 8.2, Math.min(other.length, 26) * 6.6) * grown + 6
    const size = Math.hypot(to[0] - from[0], to[1] - from[1])
    const towards: Point = size > 1 ? [(to[0] - from[0]) / size, (to[1] - from[1]) / size] : [1, 0]
    return { pair, from, to, number, other, at: middle(from, to), width, height: 31 * grown, towards }
  })
  const inSight = wanted.filter(({ at: [x, y] }) => x > 0 && y > 0 && x < frame.width && y < frame.height)
  const places = placeBoxes(inSight, taken, room)
  return (
    <g data-testid="dimensions">
      {overall.map((size) => (
        <SizeLine key={size.name} {...size} />
      ))}
      {inSight.map(({ pair, from, to, number, other, at, width, height }, i) => {
        const place = places[i]
        return (
          <g key={pairKey(pair)} className={`gap gap-${pair.verdict}`} data-pair={pairKey(pair)}>
            <line className="gap-line" x1={from[0]} y1={from[1]} x2={to[0]} y2={to[1]} />
            <circle className="gap-witness" cx={from[0]} cy={from[1]} r={2.6} />
            <circle className="gap-witness" cx={to[0]} cy={to[1]} r={2.6} />
            {place && (
              <>
                <line className="side-leader" x1={at[0]} y1={at[1]} {...nearestOn(at, place, width, height)} />
                <text className="side-number" x={place[0] + 3} y={place[1] + 13 * grown}>
                  {words.verdict[pair.verdict].mark} {number}
                </text>
                <text className="side-name" x={place[0] + 3} y={place[1] + 26 * grown}>
                  {shortened(other)}
                </text>
              </>
            )}
          </g>
        )
      })}
    </g>
  )
}

/** The overall sizes of the candidate in a drawing along an axis, outside all that it dimensions. */
function useOverall(rig: Rig, frame: Frame) {
  const { room } = useHere()
  const parts = useStore(room.scene, (scene) => scene.parts)
  const view = useWindow((state) => state.view)
  const on = useWindow((state) => state.seeing.dimensions && !isAway(state))
  const units = useWindow((state) => state.units)
  if (!on || view === 'space') return []
  const box = overallBox(parts, rig)
  if (!box) return []
  const { right, up } = axesOf(rig)
  const corner = (x: number, y: number): Point =>
    onScreen(add(scale(right, x), scale(up, y)), onPlane(rig, right, up), frame)
  const [low, high] = [corner(box.left, box.below), corner(box.right, box.above)]
  const [foot, side] = [Math.min(low[1] + 34, frame.height - frame.bottom - 12), Math.max(low[0] - 34, 26)]
  const text = (mm: number) =>
    formatLength(mm, units, units === 'mm' ? { decimals: 1, bare: true } : { fraction: 32, bare: true })
  return [
    {
      name: 'across',
      from: [low[0], foot] as Point,
      to: [high[0], foot] as Point,
      witness: [low[1], low[1]] as const,
      text: text(box.right - box.left),
    },
    {
      name: 'up',
      from: [side, low[1]] as Point,
      to: [side, high[1]] as Point,
      witness: [low[0], low[0]] as const,
      text: text(box.above - box.below),
    },
  ]
}

/** The same rig with its target in the plane through the origin: only what lies across the picture counts. */
const onPlane = (rig: Rig, right: Vec3, up: Vec3): Rig => ({
  ...rig,
  target: add(scale(right, dot(rig.target, right)), scale(up, dot(rig.target, up))),
})

function SizeLine({ from, to, witness, text, name }: ReturnType<typeof useOverall>[number]) {
  const size = Math.hypot(to[0] - from[0], to[1] - from[1])
  const along: Point = size > 0 ? [(to[0] - from[0]) / size, (to[1] - from[1]) / size] : [1, 0]
  const [x, y] = middle(from, to)
  const upright = name === 'up'
  const lines = [from, to].map(([px, py], i) =>
    upright ? { x1: witness[i], y1: py, x2: px - 5, y2: py } : { x1: px, y1: witness[i], x2: px, y2: py + 5 },
  )
  return (
    <g data-size={name}>
      <line className="size-line" x1={from[0]} y1={from[1]} x2={to[0]} y2={to[1]} />
      <path className="size-arrow" d={arrow(to, along)} />
      <path className="size-arrow" d={arrow(from, [-along[0], -along[1]])} />
      {lines.map((line) => (
        <line key={`${line.x1} ${line.y1}`} className="size-witness" {...line} />
      ))}
      <text
        className="size-number"
        textAnchor="middle"
        x={x}
        y={y - 5}
        transform={upright ? `rotate(-90 ${x} ${y})` : undefined}
      >
        {text}
      </text>
    </g>
  )
}

function numberOf({ gap, overlap }: LedgerPair, units: PeopleUnits): string {
  if (!overlap) return gapGlance(gap, units)
  if (overlap.depth === 0) return words.seeing.gaps.touches
  return words.seeing.gaps.overlaps(overlapGlance(overlap.depth, units))
}

const shortened = (name: string): string => (name.length > 26 ? `${name.slice(0, 25)}…` : name)
const middle = ([x1, y1]: Point, [x2, y2]: Point): Point => [(x1 + x2) / 2, (y1 + y2) / 2]

/** Room of an overall size's figure; the upright one is written upwards, left of its line. */
function labelBox([x, y]: Point, text: string, grown: number, upright: boolean): Box {
  const [half, high] = [(text.length * 7.4 * grown) / 2 + 4, 20 * grown]
  return upright
    ? { left: x - high, right: x + 6, top: y - half, bottom: y + half }
    : { left: x - half, right: x + half, top: y - high, bottom: y + 6 }
}

/** Where a leader meets the box of its label. */
function nearestOn([x, y]: Point, [left, top]: Point, width: number, height: number) {
  const within = (value: number, low: number, high: number) => Math.max(low, Math.min(high, value))
  return { x2: within(x, left, left + width), y2: within(y, top, top + height) }
}
