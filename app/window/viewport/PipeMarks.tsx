import type { PipeReason } from '../../../core/pipe/answer.ts'
import { reasonText } from '../../wording/reasonWords.ts'
import { useWindow } from '../state/context.ts'
import { type Frame, onScreen, type Rig } from './camera.ts'
import type { Point } from './dimension.ts'
import { type Box, placeLabels } from './labels.ts'
import { translated } from './translated.ts'

/** More labels than this hide more than they tell: the others have their mark, and their words when pointed at. */
const mostLabels = 4
const labelWidth = 196
/** Letters of the label that fit in a line, and its lines' height, pixels. */
const line = { letters: 29, height: 15 }
/** Marks nearer than this cover each other, pixels: a reason then stands for both. */
const covered = 14

interface Props {
  readonly remarks: readonly PipeReason[]
  /** So many of the remarks are reasons, the others notes. */
  readonly reasons: number
  /** The pipe as it lies in the picture: labels stand beside it. */
  readonly thing: Box
  readonly rig: Rig
  readonly frame: Frame
}

interface Mark {
  readonly number: number
  readonly kind: 'reason' | 'note'
  readonly at: Point
  readonly text: string
}

/** What is wrong, where it is: a mark on the spot and the reason beside it. */
export function PipeMarks({ remarks, reasons, thing, rig, frame }: Props) {
  const units = useWindow((state) => state.units)
  const pointed = useWindow((state) => state.reason)
  const all = remarks.flatMap((remark, number): Mark[] => {
    if (!remark.at) return []
    const kind = number < reasons ? 'reason' : 'note'
    return [{ number, kind, at: onScreen(remark.at, rig, frame), text: briefly(reasonText(remark, units)) }]
  })
  const marks = all.filter((mark) => mark.kind === 'reason' || mark.number === pointed || !isCovered(mark, all))
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
    thing,
    { left: 8, top: frame.top, right: frame.width - 8, bottom: frame.height - frame.bottom },
  )
  return (
    // All of it is said in the list beside the drawing.
    <div className="pipe-marks" aria-hidden="true">
      <svg className="overlay" width={frame.width} height={frame.height} aria-hidden="true">
        {labelled.map(({ number, kind }, i) => {
          const [[x1, y1], [x2, y2]] = placed[i].leader
          return <line key={number} className={`mark-leader mark-${kind}`} x1={x1} y1={y1} x2={x2} y2={y2} />
        })}
      </svg>
      {[...marks].reverse().map(({ number, kind, at }) => (
        <span
          key={number}
          className={`spot spot-${kind} ${pointed === number ? 'spot-now' : ''}`}
          style={{ transform: translated(at) }}
        >
          {kind === 'reason' ? '⚠' : 'i'}
        </span>
      ))}
      {labelled.map(({ number, kind, text }, i) => (
        <p
          key={number}
          className={`spot-label spot-label-${kind} ${pointed === number ? 'spot-label-now' : ''}`}
          style={{ transform: translated([placed[i].left, placed[i].top]), width: labelWidth }}
        >
          {text}
        </p>
      ))}
    </div>
  )
}

/** What is wrong, without what may be done, which the list tells. */
const briefly = (text: string): string => text.replace(/;.*$/, '').replace(/\.$/, '')

const isCovered = ({ number, at }: Mark, all: readonly Mark[]): boolean =>
  all.some((other) => other.number < number && Math.hypot(other.at[0] - at[0], other.at[1] - at[1]) < covered)
