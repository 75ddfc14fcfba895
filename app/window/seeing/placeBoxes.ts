import type { Point } from '../viewport/dimension.ts'
import type { Box } from '../viewport/labels.ts'

export interface BoxWanted {
  /** What the label belongs to, pixels. */
  readonly at: Point
  readonly width: number
  readonly height: number
  /** Unit vector: where the label would best stand. */
  readonly towards: Point
}

/** Between labels, pixels. */
const apart = 5
const turns = [0, 0.4, -0.4, 0.8, -0.8, 1.3, -1.3, 1.9, -1.9, 2.6, -2.6, Math.PI]
const distances = [16, 30, 50, 76, 108, 146, 190, 240]

/**
 * Places labels near what they belong to, so that none covers another, or anything in `taken`: each goes where it would
 * best stand, or else to the nearest free place around. A label for which there is no room at all gets none.
 * @returns the left and top of each
 */
export function placeBoxes(wanted: readonly BoxWanted[], taken: readonly Box[], room: Box): (Point | null)[] {
  const full = [...taken]
  return wanted.map((label) => {
    const found = tries(label).find((box) => isInside(box, room) && !full.some((other) => overlap(box, other)))
    if (!found) return null
    full.push(found)
    return [found.left, found.top]
  })
}

function tries({ at, width, height, towards }: BoxWanted): Box[] {
  const angle = Math.atan2(towards[1], towards[0])
  return distances.flatMap((distance) =>
    turns.map((turn) => {
      const [x, y] = [Math.cos(angle + turn), Math.sin(angle + turn)]
      // The box touches the circle of this distance from outside.
      const left = at[0] + distance * x + (x - 1) * (width / 2)
      const top = at[1] + distance * y + (y - 1) * (height / 2)
      return { left, top, right: left + width, bottom: top + height }
    }),
  )
}

const isInside = (box: Box, room: Box): boolean =>
  box.left >= room.left && box.right <= room.right && box.top >= room.top && box.bottom <= room.bottom

export const overlap = (a: Box, b: Box): boolean =>
  a.left < b.right + apart && b.left < a.right + apart && a.top < b.bottom + apart && b.top < a.bottom + apart
