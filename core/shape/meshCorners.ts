import type { Bounds } from './form.ts'
import { type MeshUnit, meshUnits } from './meshShape.ts'
import type { Vec3 } from './vec.ts'

/** The eight corners of a mesh's bounds, in its own frame, mm. @param bounds in the file's own numbers */
export function meshCorners({ min, max }: Bounds, unit: MeshUnit): Vec3[] {
  const mm = meshUnits[unit]
  const ends = [min, max]
  return ends.flatMap(([x]) => ends.flatMap(([, y]) => ends.map(([, , z]): Vec3 => [x * mm, y * mm, z * mm])))
}

/** Sizes of a mesh along its own axes, mm. @param bounds in the file's own numbers */
export const meshSize = ({ min, max }: Bounds, unit: MeshUnit): Vec3 => {
  const mm = meshUnits[unit]
  return [(max[0] - min[0]) * mm, (max[1] - min[1]) * mm, (max[2] - min[2]) * mm]
}
