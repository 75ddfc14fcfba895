/** From this many triangles in all keep-outs together on, even solids of moderate size get a lighter copy. */
const heavyBay = 250_000
/** About so many triangles are drawn then in all, while the view moves or where the machine is slow. */
const lightBay = 40_000
/** A solid is never made coarser than this: it would not be known again. */
const least = 160

/**
 * How many triangles the lighter copy of a solid may have, where the bay is so heavy that each has to give; null where
 * the solid is drawn as it is, or only its own weight counts.
 * @param own triangles of the solid @param all triangles of all keep-outs together
 */
export function lightBudget(own: number, all: number): number | null {
  if (all <= heavyBay) return null
  const share = Math.max(least, Math.round((lightBay * own) / all))
  return own > 2 * share ? share : null
}
