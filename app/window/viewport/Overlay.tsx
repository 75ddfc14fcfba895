import { useStore } from 'zustand'
import { allowances, askedGlance, gapGlance, overlapGlance } from '../ledger/figures.ts'
import { keepOutName, pairNames, partName } from '../ledger/names.ts'
import { leastOf } from '../seat/figures.ts'
import { useHere, useWindow } from '../state/context.ts'
import { isAway, tightestShown } from '../state/motion.ts'
import { heldPair } from '../handles/heldPair.ts'
import { bayOf, candidateIn, selectedPair } from '../state/windowState.ts'
import type { Bay, Candidate } from '../../../core/bay/schema.ts'
import type { PeopleUnits } from '../../../core/units/lengthText.ts'
import { along, distance } from '../../../core/shape/vec.ts'
import type { LeastOnTheWay } from '../../../core/seat/answer.ts'
import type { LedgerPair, Verdict } from '../../../core/verdict/answer.ts'
import { Dimensions } from '../seeing/Dimensions.tsx'
import { words } from '../words.ts'
import { axesOf, onScreen, type Rig } from './camera.ts'
import { Leader } from './Leader.tsx'
import { besideSmallDrawings } from './insets.ts'
import type { Point } from './dimension.ts'
import { GapDimension, Line } from './GapDimension.tsx'

/** What is drawn over the picture in lines and letters: the chosen gap as a dimension, and the axes. */
export function Overlay() {
  const { eye } = useHere()
  const view = useWindow((state) => state.view)
  const rig = useStore(eye.store, (state) => state.rigs[view])
  const frame = useStore(eye.store, (state) => state.frame)
  const away = useWindow((state) => isAway(state) || tightestShown(state) !== null)
  const pair = useWindow((state) => heldPair(state) ?? selectedPair(state))
  const isHeld = useWindow((state) => heldPair(state) !== null)
  return (
    <svg className="overlay" width={frame.width} height={frame.height} aria-hidden="true">
      <Axes
        rig={rig}
        at={[frame.width - 64, frame.height - (besideSmallDrawings(frame.width) ? 52 : frame.bottom + 36)]}
      />
      <Dimensions rig={rig} frame={frame} />
      <Leader rig={rig} />
      {!away && pair && <PairGap pair={pair} rig={rig} testId={isHeld ? 'held-gap' : 'chosen-gap'} />}
      <TightestPlace rig={rig} />
    </svg>
  )
}

function PairGap({ pair, rig, testId }: { pair: LedgerPair; rig: Rig; testId: string }) {
  const { eye } = useHere()
  const frame = useStore(eye.store, (state) => state.frame)
  const bay = useWindow(bayOf)
  const candidate = useWindow(candidateIn)
  const units = useWindow((state) => state.units)
  const { overlap } = pair
  // An overlap is dimensioned along the way out, as far as it is deep.
  const end =
    overlap?.direction && overlap.depth > 0 ? along(pair.onPart, overlap.direction, overlap.depth) : pair.onKeepOut
  const { number, names } = labelOf(pair, bay, candidate, units)
  return (
    <GapDimension
      ends={[onScreen(pair.onPart, rig, frame), onScreen(end, rig, frame)]}
      frame={frame}
      verdict={pair.verdict}
      isDepth={overlap?.direction !== undefined}
      number={number}
      names={names}
      testId={testId}
    />
  )
}

/** Where the candidate is tightest on its way in, while it is drawn just there. */
function TightestPlace({ rig }: { rig: Rig }) {
  const { eye } = useHere()
  const frame = useStore(eye.store, (state) => state.frame)
  const tightest = useWindow(tightestShown)
  const bay = useWindow(bayOf)
  const candidate = useWindow(candidateIn)
  const units = useWindow((state) => state.units)
  if (!tightest) return null
  const { atLeast, part, keepOut, onPart, onKeepOut } = tightest
  const gap = distance(onPart, onKeepOut)
  return (
    <GapDimension
      ends={[onScreen(onPart, rig, frame), onScreen(onKeepOut, rig, frame)]}
      frame={frame}
      verdict={verdictOn(tightest, gap)}
      isDepth={false}
      number={words.seat.tightest.number(gapGlance(gap, units), leastOf(atLeast, units))}
      names={words.seat.tightest.names(keepOutName(bay, keepOut), partName(candidate, part))}
      testId="tightest-place"
    />
  )
}

/** In the ledger's words: what is proved at the tightest place. */
function verdictOn({ atLeast, atMost }: LeastOnTheWay, gap: number): Verdict {
  if (atLeast >= 0) return 'clears'
  if (atMost >= 0) return 'unproved'
  return gap === 0 ? 'fouls' : 'short'
}

function labelOf(
  pair: LedgerPair,
  bay: Bay | null,
  candidate: Candidate | null,
  units: PeopleUnits,
): { number: string; names: string } {
  const { other, part } = pairNames(bay, candidate, pair)
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
