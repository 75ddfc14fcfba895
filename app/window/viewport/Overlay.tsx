import { useStore } from 'zustand'
import { allowances, askedGlance, gapGlance, overlapGlance } from '../ledger/figures.ts'
import { pairNames } from '../ledger/names.ts'
import { useHere, useWindow } from '../state/context.ts'
import { bayOf, candidateIn, selectedPair, type WindowState } from '../state/windowState.ts'
import { along } from '../../../core/shape/vec.ts'
import type { LedgerPair } from '../../../core/verdict/answer.ts'
import { words } from '../words.ts'
import { axesOf, onScreen, type Rig } from './camera.ts'
import { Leader } from './Leader.tsx'
import { besideSmallDrawings } from './insets.ts'
import { arrow, dimensionOf, type Point } from './dimension.ts'

/** What is drawn over the picture in lines and letters: the chosen gap as a dimension, and the axes. */
export function Overlay() {
  const { eye } = useHere()
  const view = useWindow((state) => state.view)
  const rig = useStore(eye.store, (state) => state.rigs[view])
  const frame = useStore(eye.store, (state) => state.frame)
  return (
    <svg className="overlay" width={frame.width} height={frame.height} aria-hidden="true">
      <Axes
        rig={rig}
        at={[frame.width - 64, frame.height - (besideSmallDrawings(frame.width) ? 52 : frame.bottom + 36)]}
      />
      <Leader rig={rig} />
      <ChosenGap rig={rig} />
    </svg>
  )
}

function ChosenGap({ rig }: { rig: Rig }) {
  const { eye } = useHere()
  const frame = useStore(eye.store, (state) => state.frame)
  const state = useWindow((whole) => whole)
  const pair = selectedPair(state)
  if (!pair) return null
  const { overlap } = pair
  // An overlap is dimensioned along the way out, as far as it is deep.
  const end =
    overlap?.direction && overlap.depth > 0 ? along(pair.onPart, overlap.direction, overlap.depth) : pair.onKeepOut
  const [from, to] = [onScreen(pair.onPart, rig, frame), onScreen(end, rig, frame)]
  const room = { left: 12, top: frame.top + 8, right: frame.width - 12, bottom: frame.height - frame.bottom - 8 }
  const { arrows, tails, leader, label } = dimensionOf(from, to, room)
  const { number, names } = labelOf(pair, state)
  return (
    <g className={`gap gap-${pair.verdict}`} data-testid="chosen-gap">
      <Line ends={[from, to]} className="gap-line" />
      {tails.map((ends, i) => (
        <Line key={i === 0 ? 'from' : 'to'} ends={ends} className="gap-line" />
      ))}
      {overlap?.direction ? (
        <path d={arrow(to, unit(from, to))} className="gap-arrow" />
      ) : (
        arrows.map((d) => <path key={d} d={d} className="gap-arrow" />)
      )}
      <circle cx={from[0]} cy={from[1]} r={3.4} className="gap-witness" />
      <circle cx={to[0]} cy={to[1]} r={3.4} className="gap-witness" />
      <polyline points={leader.map((p) => p.join()).join(' ')} className="gap-leader" />
      <text x={label.at[0]} y={label.at[1] - 6} textAnchor={label.anchor} className="gap-number">
        {words.verdict[pair.verdict].mark} {number}
      </text>
      <text x={label.at[0]} y={label.at[1] + 15} textAnchor={label.anchor} className="gap-names">
        {names}
      </text>
    </g>
  )
}

function unit(from: Point, to: Point): Point {
  const size = Math.hypot(to[0] - from[0], to[1] - from[1]) || 1
  return [(to[0] - from[0]) / size, (to[1] - from[1]) / size]
}

function labelOf(pair: LedgerPair, state: WindowState): { number: string; names: string } {
  const { units } = state
  const { other, part } = pairNames(bayOf(state), candidateIn(state), pair)
  const names = words.view.names(other, part, askedGlance(allowances(pair), units))
  if (pair.overlap) {
    const { depth, kind } = pair.overlap
    if (depth === 0) return { names, number: words.view.touches }
    const said =
      kind === 'exact'
        ? words.view.overlaps(overlapGlance(depth, units))
        : words.view.overlapsMore(gapGlance(depth, units))
    return { names, number: said }
  }
  const gap = gapGlance(pair.gap, units)
  const required = askedGlance(pair.required, units)
  return { names, number: pair.verdict === 'short' ? words.view.short(gap, required) : words.view.of(gap, required) }
}

function Line({ ends, className }: { ends: readonly [Point, Point]; className: string }) {
  const [[x1, y1], [x2, y2]] = ends
  return <line x1={x1} y1={y1} x2={x2} y2={y2} className={className} />
}

const axisLength = 26

/** The bay's axes as they lie in the picture, the nearest drawn last. */
function Axes({ rig, at }: { rig: Rig; at: Point }) {
  const { right, up, eye } = axesOf(rig)
  const axes = ['X', 'Y', 'Z'].map((name, k) => ({
    name,
    end: [at[0] + axisLength * right[k], at[1] - axisLength * up[k]] as const,
    towards: eye[k],
    length: Math.hypot(right[k], up[k]),
  }))
  return (
    <g className="axes">
      {axes
        .sort((a, b) => a.towards - b.towards)
        .map(({ name, end, length }) => (
          <g key={name}>
            <Line ends={[at, end]} className="axis" />
            {length > 0.2 && (
              <text
                x={at[0] + (end[0] - at[0]) * (1 + 9 / (axisLength * length))}
                y={at[1] + (end[1] - at[1]) * (1 + 9 / (axisLength * length)) + 4}
                textAnchor="middle"
              >
                {name}
              </text>
            )}
          </g>
        ))}
    </g>
  )
}
