import { useMemo } from 'react'
import { useStore } from 'zustand'
import type { PipeReason } from '../../../core/pipe/answer.ts'
import { reasonText } from '../../wording/reasonWords.ts'
import { pointsOf } from '../pipes/run.ts'
import { useHere, useWindow } from '../state/context.ts'
import { bendsOf, pipeIn, remarksOf, shownBends, stageIn } from '../state/pipes.ts'
import { bayOf, candidateIn } from '../state/windowState.ts'
import { onScreen, type Frame, type Rig } from './camera.ts'
import { CornerHandles } from './CornerHandles.tsx'
import { placeLabels } from './labels.ts'
import { translated } from './translated.ts'

/** Over the drawing in the Pipes stage: the pipe's centreline with its corners to take hold of, and what is wrong where. */
export function PipeLayer() {
  const stage = useWindow(stageIn)
  const pipe = useWindow(pipeIn)
  const bay = useWindow(bayOf)
  const candidate = useWindow(candidateIn)
  const answer = useWindow(shownBends)
  const view = useWindow((state) => state.view)
  const { eye } = useHere()
  const rig = useStore(eye.store, (state) => state.rigs[view])
  const frame = useStore(eye.store, (state) => state.frame)
  const points = useMemo(
    () => (bay && candidate && pipe ? pointsOf(bay, candidate, pipe) : null),
    [bay, candidate, pipe],
  )
  if (stage !== 'pipes' || !pipe || !points) return null
  const remarks = remarksOf(bendsOf(answer, pipe))
  const reasons = bendsOf(answer, pipe)?.reasons.length ?? 0
  return (
    <>
      <svg className="overlay" width={frame.width} height={frame.height} aria-hidden="true">
        <polyline className="pipe-line" points={points.map((point) => onScreen(point, rig, frame).join()).join(' ')} />
      </svg>
      <Marks remarks={remarks} reasons={reasons} rig={rig} frame={frame} />
      <CornerHandles key={`${candidate?.id} ${pipe.id}`} pipe={pipe} points={points} rig={rig} frame={frame} />
    </>
  )
}

/** More labels than this hide more than they tell: the others have their mark, and their words when pointed at. */
const mostLabels = 4
const labelWidth = 196
/** Letters of the label that fit in a line, and its lines' height, pixels. */
const line = { letters: 31, height: 15 }

interface MarksProps {
  readonly remarks: readonly PipeReason[]
  /** So many of the remarks are reasons, the others notes. */
  readonly reasons: number
  readonly rig: Rig
  readonly frame: Frame
}

/** What is wrong, where it is: a mark on the spot and the reason beside it. */
function Marks({ remarks, reasons, rig, frame }: MarksProps) {
  const units = useWindow((state) => state.units)
  const pointed = useWindow((state) => state.reason)
  const marks = remarks.flatMap((remark, number) => {
    if (!remark.at) return []
    const kind = number < reasons ? ('reason' as const) : ('note' as const)
    return [{ number, kind, at: onScreen(remark.at, rig, frame), text: reasonText(remark, units) }]
  })
  const roomy = frame.width > 520
  const labelled = marks.filter(
    ({ number, kind }, i) => number === pointed || (roomy && kind === 'reason' && i < mostLabels),
  )
  const placed = placeLabels(
    labelled.map(({ at, text }) => ({
      at,
      width: labelWidth,
      height: 10 + line.height * Math.ceil(text.length / line.letters),
    })),
    { left: 8, top: frame.top, right: frame.width - 8, bottom: frame.height - frame.bottom },
  )
  return (
    <div className="pipe-marks" data-testid="pipe-marks">
      <svg className="overlay" width={frame.width} height={frame.height} aria-hidden="true">
        {labelled.map(({ number, kind }, i) => {
          const [[x1, y1], [x2, y2]] = placed[i].leader
          return <line key={number} className={`mark-leader mark-${kind}`} x1={x1} y1={y1} x2={x2} y2={y2} />
        })}
      </svg>
      {marks.map(({ number, kind, at }) => (
        <span
          key={number}
          className={`spot spot-${kind} ${pointed === number ? 'spot-now' : ''}`}
          style={{ transform: translated(at) }}
          aria-hidden="true"
        >
          {kind === 'reason' ? '⚠' : 'i'}
        </span>
      ))}
      {labelled.map(({ number, kind, text }, i) => (
        <p
          key={number}
          className={`spot-label spot-label-${kind} ${pointed === number ? 'spot-label-now' : ''}`}
          style={{ transform: translated([placed[i].left, placed[i].top]), width: labelWidth }}
          aria-hidden="true"
        >
          {text}
        </p>
      ))}
    </div>
  )
}
