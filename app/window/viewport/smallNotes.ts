import { gapEnds } from '../../../core/sheet/figure/sideGaps.ts'
import type { Bounds } from '../../../core/shape/form.ts'
import type { Vec3 } from '../../../core/shape/vec.ts'
import type { LedgerPair, Verdict } from '../../../core/verdict/answer.ts'
import type { Theme, ViewName } from '../state/windowState.ts'
import { type Frame, onScreen, type Rig } from './camera.ts'
import { arrow, type Point } from './dimension.ts'

export interface Notes {
  readonly image: ImageData | null
  readonly rig: Rig
  readonly frame: Frame
  readonly ratio: number
  readonly view: ViewName
  /** Bounds of the core as it stands. */
  readonly core: Bounds | null
  readonly figures: Readonly<Record<'depth' | 'width' | 'height', string>> | null
  readonly pair: LedgerPair | null
  readonly theme: Theme
}

interface Inks {
  readonly part: string
  readonly paper: string
  /** Family of the figures' letters. */
  readonly numbers: string
  readonly verdict: Readonly<Record<Verdict, string>>
}

/** Asking the page for its colours has it work out all its styles: once for each paper. */
const known = new Map<Theme, Inks>()

function inksOf(theme: Theme, element: Element): Inks {
  const before = known.get(theme)
  if (before) return before
  const style = getComputedStyle(element)
  const ink = (name: string) => style.getPropertyValue(`--${name}`).trim()
  const [clears, unproved, short, fouls] = ['clears', 'unproved', 'short', 'fouls'].map(ink)
  const verdict = { clears, unproved, short, fouls }
  const inks = { part: ink('part-ink'), paper: ink('paper-drawing'), numbers: ink('numbers'), verdict }
  known.set(theme, inks)
  return inks
}

/** Which of the core's sizes are seen in each drawing: across, and upwards. */
const seen: Record<ViewName, readonly [across: 'depth' | 'width' | 'height', up: 'depth' | 'width' | 'height'] | null> =
  {
    space: null,
    front: ['width', 'height'],
    side: ['depth', 'height'],
    plan: ['width', 'depth'],
  }

/** Paints a small drawing: the picture, the core's dimensions, and where the chosen gap is. */
export function drawNotes(canvas: HTMLCanvasElement, notes: Notes): void {
  const pen = canvas.getContext('2d')
  if (!pen) return
  const { image, ratio, frame, rig, core, figures, view, pair, theme } = notes
  pen.setTransform(1, 0, 0, 1, 0, 0)
  pen.clearRect(0, 0, canvas.width, canvas.height)
  if (image) pen.putImageData(image, 0, 0)
  pen.setTransform(ratio, 0, 0, ratio, 0, 0)
  const inks = inksOf(theme, canvas)
  const sizes = seen[view]
  if (core && figures && sizes) {
    pen.strokeStyle = pen.fillStyle = inks.part
    dimensions(pen, corners(core, rig, frame), [figures[sizes[0]], figures[sizes[1]]], frame, inks)
  }
  if (pair) marker(pen, pair, rig, frame, inks.verdict[pair.verdict])
}

function corners({ min, max }: Bounds, rig: Rig, frame: Frame): { low: Point; high: Point } {
  const points = Array.from(
    { length: 8 },
    (_, i) => [0, 1, 2].map((k) => ((i >> k) & 1 ? max[k] : min[k])) as unknown as Vec3,
  )
  const places = points.map((point) => onScreen(point, rig, frame))
  const [xs, ys] = [places.map(([x]) => x), places.map(([, y]) => y)]
  return { low: [Math.min(...xs), Math.min(...ys)], high: [Math.max(...xs), Math.max(...ys)] }
}

/** One dimension along the foot of the drawing, one along its left side, with lines from the core to them. */
function dimensions(
  pen: CanvasRenderingContext2D,
  { low, high }: { low: Point; high: Point },
  [across, up]: readonly [string, string],
  { height }: Frame,
  inks: Inks,
): void {
  pen.lineWidth = 0.7
  pen.font = `10px ${inks.numbers}`
  pen.textAlign = 'center'
  pen.textBaseline = 'middle'
  const [foot, side] = [height - 11, 11]
  dimension(pen, [low[0], foot], [high[0], foot], across, inks)
  witness(pen, [low[0], high[1] + 2], [low[0], foot + 3])
  witness(pen, [high[0], high[1] + 2], [high[0], foot + 3])
  if (high[1] - low[1] < 26) return
  dimension(pen, [side, high[1]], [side, low[1]], up, inks)
  witness(pen, [low[0] - 2, low[1]], [side - 3, low[1]])
  witness(pen, [low[0] - 2, high[1]], [side - 3, high[1]])
}

function dimension(pen: CanvasRenderingContext2D, from: Point, to: Point, text: string, inks: Inks): void {
  const size = Math.hypot(to[0] - from[0], to[1] - from[1])
  const along: Point = [(to[0] - from[0]) / size, (to[1] - from[1]) / size]
  witness(pen, from, to)
  if (size > 24) {
    pen.fill(new Path2D(arrow(to, along)))
    pen.fill(new Path2D(arrow(from, [-along[0], -along[1]])))
  }
  const wide = pen.measureText(text).width + 6
  pen.save()
  pen.translate((from[0] + to[0]) / 2, (from[1] + to[1]) / 2)
  if (along[0] === 0) pen.rotate(-Math.PI / 2)
  const ink = pen.fillStyle
  pen.fillStyle = inks.paper
  // Where the figure is wider than its dimension it stands beside it.
  const beside = wide + 22 > size ? size / 2 + wide / 2 + 2 : 0
  pen.fillRect(beside - wide / 2, -6, wide, 12)
  pen.fillStyle = ink
  pen.fillText(text, beside, 0.5)
  pen.restore()
}

function witness(pen: CanvasRenderingContext2D, from: Point, to: Point): void {
  pen.beginPath()
  pen.moveTo(...from)
  pen.lineTo(...to)
  pen.stroke()
}

function marker(pen: CanvasRenderingContext2D, pair: LedgerPair, rig: Rig, frame: Frame, colour: string): void {
  const [from, to] = gapEnds(pair).map((end) => onScreen(end, rig, frame))
  pen.strokeStyle = pen.fillStyle = colour
  pen.lineWidth = 2
  witness(pen, from, to)
  pen.lineWidth = 1.4
  const middle: Point = [(from[0] + to[0]) / 2, (from[1] + to[1]) / 2]
  pen.beginPath()
  pen.arc(middle[0], middle[1], 6, 0, 2 * Math.PI)
  pen.stroke()
}
