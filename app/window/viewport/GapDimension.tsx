import type { Verdict } from '../../../core/verdict/answer.ts'
import { words } from '../words.ts'
import type { Frame } from './camera.ts'
import { arrow, dimensionOf, type Point } from './dimension.ts'

interface Props {
  /** Pixels: on the part, and on what it is held against. */
  readonly ends: readonly [Point, Point]
  readonly frame: Frame
  readonly verdict: Verdict
  /** It tells how deep two overlap, along the way out, instead of how far they are apart. */
  readonly isDepth: boolean
  readonly number: string
  readonly names: string
  readonly testId: string
}

/** A gap as a dimension over the drawing, with its figure and its names. */
export function GapDimension({ ends, frame, verdict, isDepth, number, names, testId }: Props) {
  const [from, to] = ends
  const room = { left: 12, top: frame.top + 8, right: frame.width - 12, bottom: frame.height - frame.bottom - 8 }
  const { arrows, tails, leader, label } = dimensionOf(from, to, room)
  return (
    <g className={`gap gap-${verdict}`} data-testid={testId}>
      <Line ends={[from, to]} className="gap-line" />
      {tails.map((tail, i) => (
        <Line key={i === 0 ? 'from' : 'to'} ends={tail} className="gap-line" />
      ))}
      {isDepth ? (
        <path d={arrow(to, unit(from, to))} className="gap-arrow" />
      ) : (
        arrows.map((d) => <path key={d} d={d} className="gap-arrow" />)
      )}
      <circle cx={from[0]} cy={from[1]} r={3.4} className="gap-witness" />
      <circle cx={to[0]} cy={to[1]} r={3.4} className="gap-witness" />
      <polyline points={leader.map((p) => p.join()).join(' ')} className="gap-leader" />
      <text x={label.at[0]} y={label.at[1] - 6} textAnchor={label.anchor} className="gap-number">
        {words.verdict[verdict].mark} {number}
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

export function Line({ ends, className }: { ends: readonly [Point, Point]; className: string }) {
  const [[x1, y1], [x2, y2]] = ends
  return <line x1={x1} y1={y1} x2={x2} y2={y2} className={className} />
}
