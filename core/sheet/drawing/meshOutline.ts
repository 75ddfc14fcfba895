import type { MeshSight } from './meshSight.ts'
import { type Loops, unionOf } from './region.ts'
import type { Flat } from './view.ts'

/** An edge of a mesh's rim: its two corners, in the way that has the mesh at its left. */
export type RimEdge = readonly [from: number, to: number]

/**
 * The rim of what is seen of a mesh: edges that only one of the triangles beside them, all turned counter-clockwise in the
 * picture, leaves over.
 *
 * Triangles that all run counter-clockwise wind once around each point that they cover, for each of them. Along an edge
 * between two of them that lie side by side the two runs cancel; what is left over, at folds and at open edges, winds around
 * each point just as often. So the region where these few edges wind at all is the union of all triangles, exactly.
 * @param onlyFacing of a closed mesh the triangles that turn to the eye are enough
 */
export function rimOf({ triangles, facing }: MeshSight, onlyFacing: boolean): RimEdge[] {
  const left = new Map<number, number>()
  const key = (a: number, b: number) => a * 2 ** 26 + b
  for (let t = 0; t < facing.length; t++) {
    if (onlyFacing && facing[t] === 0) continue
    for (let k = 0; k < 3; k++) {
      const [a, b] = [triangles[3 * t + k], triangles[3 * t + ((k + 1) % 3)]]
      const back = left.get(key(b, a)) ?? 0
      if (back > 1) left.set(key(b, a), back - 1)
      else if (back === 1) left.delete(key(b, a))
      else left.set(key(a, b), (left.get(key(a, b)) ?? 0) + 1)
    }
  }
  return [...left].flatMap(([edge, times]) => {
    const pair: RimEdge = [Math.floor(edge / 2 ** 26), edge % 2 ** 26]
    return Array.from({ length: times }, () => pair)
  })
}

/** As many edges come to each corner as leave it, so they can be walked as loops. */
export function loopsOf(rim: readonly RimEdge[]): number[][] {
  const leaving = new Map<number, number[]>()
  for (const [from, to] of rim) {
    const list = leaving.get(from)
    if (list) list.push(to)
    else leaving.set(from, [to])
  }
  const loops: number[][] = []
  for (const [start, exits] of leaving)
    while (exits.length > 0) {
      const loop = [start]
      let at = exits.pop() as number
      while (at !== start) {
        loop.push(at)
        at = leaving.get(at)?.pop() as number
      }
      loops.push(loop)
    }
  return loops
}

/** The region of the picture that a mesh covers. Error: 10⁻⁵ mm, by which places are rounded. */
export function meshOutline(sight: MeshSight, rim: readonly RimEdge[]): Loops {
  const at = (i: number): Flat => [sight.corners[3 * i], sight.corners[3 * i + 1]]
  return unionOf(
    loopsOf(rim).map((loop) => loop.map(at)),
    'wound',
  )
}
