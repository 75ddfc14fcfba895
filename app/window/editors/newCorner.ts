import { distance, mix, type Vec3 } from '../../../core/shape/vec.ts'

/** Nearer than this a whole millimetre might be the neighbour itself, mm. */
const near = 4

/**
 * Where a new corner starts: half-way between its neighbours, in whole millimetres where these are not too near.
 * @param points ends and corners of the pipe, bay frame, mm
 * @param index the place that it gets among the corners
 */
export function newCorner(points: readonly Vec3[], index: number): [number, number, number] {
  const [before, after] = [points[index], points[index + 1]]
  const middle = mix(before, after, 0.5)
  const [x, y, z] = distance(before, after) < near ? middle : middle.map((mm) => Math.round(mm) + 0)
  return [x, y, z]
}
