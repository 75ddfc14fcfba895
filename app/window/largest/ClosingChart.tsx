import type { SearchPoint } from '../../worker/searchProtocol.ts'
import { words } from '../words.ts'
import { boundLitres, foundLitres } from './figures.ts'

const size = { width: 270, height: 62, left: 4, right: 58, top: 8, bottom: 14 }

/** The best found, rising, and what nothing exceeds, falling, from the first answer on: how far the search has come at a glance. */
export function ClosingChart({ trace }: { trace: readonly SearchPoint[] }) {
  const [first, last] = [trace[0], trace.at(-1)]
  if (!first || !last || first === last) return null
  const { width, height, left, right, top, bottom } = size
  const least = Math.min(...trace.map(({ value }) => value))
  const most = Math.max(...trace.map(({ bound }) => bound))
  const x = (ms: number) =>
    left + ((width - left - right) * (ms - first.milliseconds)) / Math.max(last.milliseconds - first.milliseconds, 1)
  const y = (mm3: number) => top + ((height - top - bottom) * (most - mm3)) / Math.max(most - least, 1e-9)
  const [begun, seconds] = [first, last].map(({ milliseconds }) => (milliseconds / 1000).toFixed(1))
  // Names stand apart even where the lines meet.
  const [yBound, yValue] = [y(last.bound), Math.max(y(last.value), y(last.bound) + 11)]
  const text = words.largest
  return (
    <svg
      className="closing"
      viewBox={`0 0 ${width} ${height}`}
      role="img"
      aria-label={text.chart(foundLitres(last.value), boundLitres(last.bound), seconds)}
    >
      <line className="closing-foot" x1={left} x2={width - right} y1={height - bottom} y2={height - bottom} />
      <path className="closing-bound" d={steps(trace, ({ bound }) => y(bound), x)} />
      <path className="closing-value" d={steps(trace, ({ value }) => y(value), x)} />
      <text x={width - right + 5} y={yBound + 4}>
        {text.chartBound}
      </text>
      <text x={width - right + 5} y={yValue + 4} className="closing-found">
        {text.chartFound}
      </text>
      <text x={left} y={height - 3}>
        {text.chartTime(begun)}
      </text>
      <text x={width - right} y={height - 3} textAnchor="end">
        {text.chartTime(seconds)}
      </text>
    </svg>
  )
}

/** A line that holds its height until the next point: nothing is known in between. */
function steps(trace: readonly SearchPoint[], y: (point: SearchPoint) => number, x: (ms: number) => number): string {
  const ends = trace.map((point, i) => {
    const until = trace[i + 1]?.milliseconds ?? point.milliseconds
    return `${y(point).toFixed(1)}H${x(until).toFixed(1)}`
  })
  return ends.map((end, i) => (i === 0 ? `M${x(trace[0].milliseconds).toFixed(1)} ${end}` : `V${end}`)).join('')
}
