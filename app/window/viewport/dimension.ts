/** A gap drawn as a dimension, in pixels of the picture: all that the overlay needs to know. */
export interface Dimension {
  readonly from: Point
  readonly to: Point
  /** Outlines of the arrow heads, as SVG paths. */
  readonly arrows: readonly string[]
  /** Lines beyond the ends where the arrows stand outside, as in any drawing when the gap is too narrow for them. */
  readonly tails: readonly (readonly [Point, Point])[]
  /** From the middle of the gap to the label. */
  readonly leader: readonly [Point, Point, Point]
  readonly label: { readonly at: Point; readonly anchor: 'start' | 'end' }
}
export type Point = readonly [x: number, y: number]

const arrowLength = 10
const arrowHalf = 2.6
const tail = 20
/** Room that a label takes, pixels. */
const labelWidth = 210
const labelHeight = 30

/**
 * @param room the part of the picture that no label covers; the dimension's label stays in it
 */
export function dimensionOf(
  from: Point,
  to: Point,
  room: { left: number; top: number; right: number; bottom: number },
): Dimension {
  const [dx, dy] = [to[0] - from[0], to[1] - from[1]]
  const size = Math.hypot(dx, dy)
  const along: Point = size > 1e-6 ? [dx / size, dy / size] : [1, 0]
  const inside = size >= 3 * arrowLength
  const outward = inside ? 1 : -1
  const back = scaled(along, -1)
  const middle: Point = [(from[0] + to[0]) / 2, (from[1] + to[1]) / 2]
  const { leader, label } = labelled(middle, room)
  return {
    from,
    to,
    arrows: [arrow(from, scaled(back, outward)), arrow(to, scaled(along, outward))],
    tails: inside
      ? []
      : [
          [from, moved(from, back, tail)],
          [to, moved(to, along, tail)],
        ],
    leader,
    label,
  }
}

const scaled = ([x, y]: Point, by: number): Point => [x * by, y * by]
const moved = ([x, y]: Point, [ax, ay]: Point, by: number): Point => [x + ax * by, y + ay * by]

/** A slender arrow head with its tip at a point, pointing along a unit vector. */
export function arrow(tip: Point, along: Point): string {
  const foot = moved(tip, along, -arrowLength)
  const across: Point = [-along[1], along[0]]
  const corners = [tip, moved(foot, across, arrowHalf), moved(foot, across, -arrowHalf)]
  return `M${corners.map(([x, y]) => `${x.toFixed(1)} ${y.toFixed(1)}`).join('L')}Z`
}

function labelled(middle: Point, room: { left: number; top: number; right: number; bottom: number }) {
  const toRight = middle[0] + 60 + labelWidth <= room.right
  const side = toRight ? 1 : -1
  const clamp = (x: number, low: number, high: number) => Math.max(low, Math.min(high, x))
  const elbow: Point = [
    clamp(middle[0] + side * 56, room.left, room.right),
    clamp(middle[1] - 64, room.top + labelHeight, room.bottom - labelHeight),
  ]
  const end: Point = [elbow[0] + side * labelWidth, elbow[1]]
  return {
    leader: [middle, elbow, end] as const,
    label: { at: elbow, anchor: toRight ? ('start' as const) : ('end' as const) },
  }
}
