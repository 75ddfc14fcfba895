// Private to one call.
let from = new Float64Array(3 * 64)
let to = new Float64Array(3 * 64)

/**
 * Middle of what of a triangle lies behind some planes: a point well within the body that they bound.
 * @param planes n·x ≤ offset, four numbers each
 * @param corners nine numbers
 * @returns false where nothing of it does
 * Source: I. E. Sutherland, G. W. Hodgman, Reentrant polygon clipping (1974), from memory.
 */
export function clippedMiddle(planes: Float64Array, corners: Float64Array, out: Float64Array): boolean {
  if (from.length < 3 * (4 + planes.length / 4)) {
    from = new Float64Array(6 * (4 + planes.length / 4))
    to = new Float64Array(from.length)
  }
  for (let i = 0; i < 9; i++) from[i] = corners[i]
  let count = 3
  for (let p = 0; p < planes.length; p += 4) {
    count = clipped(count, planes[p], planes[p + 1], planes[p + 2], planes[p + 3])
    if (count === 0) return false
  }
  out.fill(0, 0, 3)
  for (let i = 0; i < count; i++) for (let k = 0; k < 3; k++) out[k] += from[3 * i + k] / count
  return true
}

function clipped(count: number, nx: number, ny: number, nz: number, offset: number): number {
  let kept = 0
  for (let i = 0; i < count; i++) {
    const a = 3 * i
    const b = 3 * ((i + 1) % count)
    const da = offset - nx * from[a] - ny * from[a + 1] - nz * from[a + 2]
    const db = offset - nx * from[b] - ny * from[b + 1] - nz * from[b + 2]
    if (da >= 0) {
      to[3 * kept] = from[a]
      to[3 * kept + 1] = from[a + 1]
      to[3 * kept + 2] = from[a + 2]
      kept++
    }
    if (da >= 0 === db >= 0) continue
    const s = da / (da - db)
    for (let k = 0; k < 3; k++) to[3 * kept + k] = from[a + k] + s * (from[b + k] - from[a + k])
    kept++
  }
  const swap = from
  from = to
  to = swap
  return kept
}
