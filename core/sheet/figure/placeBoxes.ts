/** A place on paper or screen: to the right, and down. */
type Point = readonly [x: number, y: number]

export interface Box {
  readonly left: number
  readonly top: number
  readonly right: number
  readonly bottom: number
}

export interface BoxWanted {
  /** What the label belongs to. */
  readonly at: Point
  readonly width: number
  readonly height: number
  /** Unit vector: where the label would best stand. */
  readonly towards: Point
}

export interface Spacing {
  /** Between labels. */
  readonly apart: number
  /** Of a label from what it belongs to, those tried first first; 0 on it. */
  readonly distances: readonly number[]
}

/** Pixels. */
const onScreen: Spacing = { apart: 5, distances: [16, 30, 50, 76, 108, 146, 190, 240] }
const turns = [0, 0.4, -0.4, 0.8, -0.8, 1.3, -1.3, 1.9, -1.9, 2.6, -2.6, Math.PI]

/**
 * Places labels near what they belong to, so that none covers another, or anything in `taken`: each goes where it would
 * best stand, or else to the nearest free place around. A label for which there is no room at all gets none.
 * @returns the left and top of each
 */
export function placeBoxes(
  wanted: readonly BoxWanted[],
  taken: readonly Box[],
  room: Box,
  spacing: Spacing = onScreen,
): (Point | null)[] {
  const full = [...taken]
  return wanted.map((label) => {
    const isFree = (box: Box) => isInside(box, room) && !full.some((other) => overlap(box, other, spacing.apart))
    const found = tries(label, spacing.distances).find(isFree)
    if (!found) return null
    full.push(found)
    return [found.left, found.top]
  })
}

function tries({ at, width, height, towards }: BoxWanted, distances: readonly number[]): Box[] {
  const angle = Math.atan2(towards[1], towards[0])
  return distances.flatMap((distance) =>
    (distance === 0 ? [null] : turns).map((turn) => {
      // The box touches the circle of this distance from outside; at none it stands about the place.
      const [x, y] = turn === null ? [0, 0] : [Math.cos(angle + turn), Math.sin(angle + turn)]
      const left = at[0] + distance * x + (x - 1) * (width / 2)
      const top = at[1] + distance * y + (y - 1) * (height / 2)
      return { left, top, right: left + width, bottom: top + height }
    }),
  )
}

const isInside = (box: Box, room: Box): boolean =>
  box.left >= room.left && box.right <= room.right && box.top >= room.top && box.bottom <= room.bottom

export const overlap = (a: Box, b: Box, apart = onScreen.apart): boolean =>
  a.left < b.right + apart && b.left < a.right + apart && a.top < b.bottom + apart && b.top < a.bottom + apart
