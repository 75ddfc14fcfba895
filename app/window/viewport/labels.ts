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

export interface Room {
  readonly left: number
  readonly top: number
  readonly right: number
  readonly bottom: number
}

/** From a place to its label, pixels. */
const away = 46
const apart = 6

/**
 * Puts labels beside their places so that they do not cover each other: right of the place where there is room, else
 * left of it, and moved down as far as those before it need.
 */
export function placeLabels(wanted: readonly LabelWanted[], room: Room): PlacedLabel[] {
  const order = wanted.map((_, i) => i).sort((a, b) => wanted[a].at[1] - wanted[b].at[1])
  const placed: (PlacedLabel & { readonly width: number; readonly height: number })[] = []
  const result: PlacedLabel[] = new Array(wanted.length)
  for (const i of order) {
    const { at, width, height } = wanted[i]
    const toRight = at[0] + away + width <= room.right
    const left = clamp(toRight ? at[0] + away : at[0] - away - width, room.left, room.right - width)
    let top = clamp(at[1] - height - 14, room.top, room.bottom - height)
    const covers = () =>
      placed.find(
        (other) =>
          left < other.left + other.width + apart &&
          other.left < left + width + apart &&
          top < other.top + other.height + apart &&
          other.top < top + height + apart,
      )
    for (let other = covers(); other; other = covers()) top = other.top + other.height + apart
    const leader = [at, [toRight ? left : left + width, top + height / 2]] as const
    const label = { left, top, leader }
    placed.push({ ...label, width, height })
    result[i] = label
  }
  return result
}

const clamp = (x: number, low: number, high: number): number => Math.max(low, Math.min(high, x))
