import type { DrawnSolid, Surface } from '../../worker/protocol.ts'
import type { SolidObject } from './solidObject.ts'

/** What makes a drawing slow. */
export interface Weight {
  /** The solids that have a lighter surface, as text: a lighter drawing differs in them only. */
  readonly heavy: string
  /** Triangles of a full drawing, and of a lighter one. */
  readonly full: number
  readonly light: number
}

export function weightOf(solids: ReadonlyMap<string, SolidObject>): Weight {
  const seen = [...solids.values()].filter(({ isGone }) => !isGone)
  const count = (of: (solid: DrawnSolid) => Surface) =>
    seen.reduce((sum, { solid }) => sum + of(solid).triangles.length / 3, 0)
  return {
    heavy: [...solids]
      .flatMap(([key, { light, solid }]) => (light ? `${key} ${solid.surface.triangles.length}` : []))
      .join(),
    full: count(({ surface }) => surface),
    light: count(({ light, surface }) => light ?? surface),
  }
}
