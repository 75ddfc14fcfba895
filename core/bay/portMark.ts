import { add, along, scale, squareTo, unit, type Vec3 } from '../shape/vec.ts'
import type { Port } from './schema.ts'

/** Corners of a port's ring: enough that it looks round. */
const corners = 24
/** How far the arrow reaches, in outside diameters. */
const reach = 1.5

/** A port as lines to draw: the ring of its tube, and an arrow the way a pipe leaves it; bay frame, mm. */
export function portMark({ at, direction, outsideDiameter }: Pick<Port, 'at' | 'direction' | 'outsideDiameter'>): {
  readonly ring: readonly Vec3[]
  readonly arrow: readonly [Vec3, Vec3]
} {
  const way = unit(unit(direction))
  const [u, v] = squareTo(way)
  const ring = Array.from({ length: corners }, (_, i) => {
    const angle = (2 * Math.PI * i) / corners
    const off = add(scale(u, Math.cos(angle)), scale(v, Math.sin(angle)))
    return along(at, off, outsideDiameter / 2)
  })
  return { ring, arrow: [at, along(at, way, reach * outsideDiameter)] }
}
