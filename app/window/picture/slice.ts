/** Where triangles meet a plane, as segments of six numbers each: the line of a cut through a surface. */
export function sliced(
  positions: ArrayLike<number>,
  triangles: ArrayLike<number>,
  [nx, ny, nz]: readonly [number, number, number],
  offset: number,
): Float32Array {
  const out: number[] = []
  const heights = new Float64Array(positions.length / 3)
  for (let v = 0; v < heights.length; v++)
    heights[v] = nx * positions[3 * v] + ny * positions[3 * v + 1] + nz * positions[3 * v + 2] - offset
  for (let i = 0; i < triangles.length; i += 3) {
    const [a, b, c] = [triangles[i], triangles[i + 1], triangles[i + 2]]
    const [above, over, on] = [heights[a] > 0, heights[b] > 0, heights[c] > 0]
    if (above === over && over === on) continue
    // The corner that is alone on its side: both edges from it cross the plane.
    const [p, q, r] = over === on ? [a, b, c] : above === on ? [b, c, a] : [c, a, b]
    crossing(out, positions, heights, p, q)
    crossing(out, positions, heights, p, r)
  }
  return Float32Array.from(out)
}

function crossing(out: number[], at: ArrayLike<number>, heights: Float64Array, p: number, q: number): void {
  const share = heights[p] / (heights[p] - heights[q])
  for (let k = 0; k < 3; k++) out.push(at[3 * p + k] + share * (at[3 * q + k] - at[3 * p + k]))
}
