/** A line that a shift in a plane must keep off: its gap grows by n · shift. */
export interface Side {
  /** In the plane; a unit vector or shorter. */
  readonly n: readonly [number, number]
  /** Gap without a shift, mm. */
  readonly gap: number
}

const halvings = 50
/** A shift found by intersecting lines may miss one of them by this, mm. */
const slack = 1e-9

/**
 * The least shift in a plane that leaves as much room to all sides as there can be, or `enough`.
 * @param farthest no shift is longer, mm
 * @returns null where no shift within `farthest` leaves even −`farthest`; else the shift and the least gap after it
 */
export function lean(
  sides: readonly Side[],
  enough: number,
  farthest: number,
): { readonly shift: readonly [number, number]; readonly gap: number } | null {
  const atOnce = leastShift(sides, enough, farthest)
  if (atOnce) return { shift: atOnce, gap: enough }
  let [low, high] = [-farthest, enough]
  let best = leastShift(sides, low, farthest)
  for (let i = 0; best && i < halvings; i++) {
    const middle = (low + high) / 2
    const shift = leastShift(sides, middle, farthest)
    if (shift) [low, best] = [middle, shift]
    else high = middle
  }
  return best && { shift: best, gap: low }
}

/** The shortest shift that leaves `gap` everywhere: none, square to one side, or where two of them meet. */
function leastShift(sides: readonly Side[], gap: number, farthest: number): readonly [number, number] | null {
  let best: readonly [number, number] | null = null
  let least = farthest
  const offer = (x: number, y: number): void => {
    const far = Math.hypot(x, y)
    if (!(far <= least) || (best && far === least)) return
    if (sides.some((side) => side.gap + side.n[0] * x + side.n[1] * y < gap - slack)) return
    best = [x, y]
    least = far
  }
  offer(0, 0)
  if (best) return best
  for (const [i, a] of sides.entries()) {
    const wanted = gap - a.gap
    const size = a.n[0] ** 2 + a.n[1] ** 2
    offer((a.n[0] * wanted) / size, (a.n[1] * wanted) / size)
    for (const b of sides.slice(i + 1)) {
      const cross = a.n[0] * b.n[1] - a.n[1] * b.n[0]
      if (Math.abs(cross) < 1e-9) continue
      const other = gap - b.gap
      offer((wanted * b.n[1] - other * a.n[1]) / cross, (a.n[0] * other - b.n[0] * wanted) / cross)
    }
  }
  return best
}
