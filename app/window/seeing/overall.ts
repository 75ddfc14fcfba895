import { dot, type Vec3 } from '../../../core/shape/vec.ts'
import type { DrawnSolid } from '../../worker/protocol.ts'
import { axesOf, type Rig } from '../viewport/camera.ts'

/** mm along the picture's own axes, from the bay's origin. */
export interface Overall {
  readonly left: number
  readonly right: number
  readonly below: number
  readonly above: number
}

/** Core and tanks: what a maker would call the cooler's size. Stubs, pipes and mounts are not counted. */
const isBody = ({ key }: DrawnSolid): boolean => key === 'core' || key.startsWith('tank-')

/** How much room core and tanks take across a picture that looks along an axis; null where there are none. */
export function overallBox(parts: readonly DrawnSolid[], rig: Pick<Rig, 'azimuth' | 'elevation'>): Overall | null {
  const { right, up } = axesOf(rig)
  const body = parts.filter(isBody)
  if (body.length === 0) return null
  const ends = (axis: Vec3) => {
    const all = body.flatMap(({ bounds }) => extremes(bounds, axis))
    return [Math.min(...all), Math.max(...all)] as const
  }
  const [[left, most], [below, above]] = [ends(right), ends(up)]
  return { left, right: most, below, above }
}

/** Bounds stand square to the axes of the bay; so does the picture, and no corner is made up. */
function extremes({ min, max }: DrawnSolid['bounds'], axis: Vec3): readonly number[] {
  const corner = (pick: 1 | -1): Vec3 => [0, 1, 2].map((k) => (axis[k] * pick > 0 ? max[k] : min[k])) as unknown as Vec3
  return [dot(corner(-1), axis), dot(corner(1), axis)]
}
