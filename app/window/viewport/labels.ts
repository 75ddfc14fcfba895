import type { Point } from './dimension.ts'

/** A label beside its place: its box, and the line that leads to it, pixels. */
export interface PlacedLabel {
  readonly left: number
  readonly top: number
  readonly leader: readonly [Point, Point]
}

export interface LabelWanted {
  readonly at: Point
  readonly width: number
  readonly height: number
}

/** Pixels of the picture. */
export interface Box {
  readonly left: number
  readonly top: number
  readonly right: number
  readonly bottom: number
}

/** Between labels, and between a label and what it must not cover, pixels. */
const apart = 8
const aside = 22

/**
 * Puts labels beside a drawn thing, in a column where there is room for it, so that they cover neither each other nor
 * the thing. Where there is no room beside it, they stand at the edge of the picture that is farther from their places.
 * @param thing what is labelled, as it lies in the picture
 */
export function placeLabels(wanted: readonly LabelWanted[], thing: Box, room: Box): PlacedLabel[] {
  if (wanted.length === 0) return []
  const widest = Math.max(...wanted.map(({ width }) => width))
  const left = columnFor(widest, wanted, thing, room)
  const isRight = left >= (thing.left + thing.right - widest) / 2
  const order = wanted.map((_, i) => i).sort((a, b) => wanted[a].at[1] - wanted[b].at[1])
  const tops = spread(
    order.map((i) => ({ middle: wanted[i].at[1], height: wanted[i].height })),
    room,
  )
  const placed: PlacedLabel[] = new Array(wanted.length)
  for (const [k, i] of order.entries()) {
    const { at, width, height } = wanted[i]
    const leader = [at, [isRight ? left : left + width, tops[k] + height / 2]] as const
    placed[i] = { left, top: tops[k], leader }
  }
  return placed
}

function columnFor(width: number, wanted: readonly LabelWanted[], thing: Box, room: Box): number {
  const [right, left] = [thing.right + aside, thing.left - aside - width]
  if (right + width <= room.right) return Math.max(right, room.left)
  if (left >= room.left) return Math.min(left, room.right - width)
  const middle = wanted.reduce((sum, { at }) => sum + at[0], 0) / wanted.length
  return middle > (room.left + room.right) / 2 ? room.left : room.right - width
}

/** Boxes one below the other, each as near to its middle as those above allow; pushed up again at the foot. */
function spread(boxes: readonly { readonly middle: number; readonly height: number }[], room: Box): number[] {
  const tops: number[] = []
  let free = room.top
  for (const { middle, height } of boxes) {
    tops.push(Math.max(free, middle - height / 2))
    free = (tops.at(-1) as number) + height + apart
  }
  let foot = room.bottom
  for (let k = boxes.length - 1; k >= 0; k--) {
    tops[k] = Math.min(tops[k], foot - boxes[k].height)
    foot = tops[k] - apart
  }
  return tops
}
