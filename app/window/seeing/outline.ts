import { dot, type Vec3 } from '../../../core/shape/vec.ts'
import type { Surface } from '../../worker/protocol.ts'

/** A place on a drawing, mm: to the right, and up. */
export type Place = readonly [x: number, y: number]

/** Corners nearer than this are one, mm: surfaces name each of them once for every face. */
const weld = 1e-3

/**
 * The outlines of a surface on a drawing: closed rings round what it covers, from the edges at which it turns away from
 * the eye. Filled by the non-zero rule they cover just what the solid covers.
 * @param surface its coordinates are taken as they are @param right @param up unit vectors of the drawing
 */
export function outlineOf({ positions, triangles }: Surface, right: Vec3, up: Vec3): Place[][] {
  const { places, numbers } = welded(positions, right, up)
  const edges = new Map<number, number>()
  const count = places.length
  for (let i = 0; i < triangles.length; i += 3) {
    const [a, b, c] = [numbers[triangles[i]], numbers[triangles[i + 1]], numbers[triangles[i + 2]]]
    if (areaOf(places[a], places[b], places[c]) <= 0) continue
    for (const [from, to] of [
      [a, b],
      [b, c],
      [c, a],
    ])
      if (!taken(edges, to * count + from)) edges.set(from * count + to, (edges.get(from * count + to) ?? 0) + 1)
  }
  return ringsOf(edges, count).map((ring) => ring.map((number) => places[number].slice(0, 2) as unknown as Place))
}

/** Takes one away, if there is one. */
function taken(edges: Map<number, number>, key: number): boolean {
  const there = edges.get(key)
  if (there === undefined) return false
  if (there === 1) edges.delete(key)
  else edges.set(key, there - 1)
  return true
}

/** Corners as they lie on the drawing; those that differ in depth only are different ones. */
function welded(positions: Float32Array, right: Vec3, up: Vec3) {
  const known = new Map<string, number>()
  const places: Place[] = []
  const numbers = new Uint32Array(positions.length / 3)
  for (let v = 0; v < numbers.length; v++) {
    const at: Vec3 = [positions[3 * v], positions[3 * v + 1], positions[3 * v + 2]]
    const key = at.map((x) => Math.round(x / weld)).join()
    const number = known.get(key) ?? places.length
    if (number === places.length) {
      known.set(key, number)
      places.push([dot(at, right), dot(at, up)])
    }
    numbers[v] = number
  }
  return { places, numbers }
}

/** Twice the area, with its sense: more than 0 where a triangle faces the eye. */
const areaOf = ([ax, ay]: Place, [bx, by]: Place, [cx, cy]: Place): number =>
  (bx - ax) * (cy - ay) - (by - ay) * (cx - ax)

/** At every corner as many edges come in as go out, so that each walk comes back to where it began. */
function ringsOf(edges: ReadonlyMap<number, number>, count: number): number[][] {
  const onward = new Map<number, number[]>()
  for (const [key, times] of edges)
    for (let i = 0; i < times; i++) {
      const from = Math.floor(key / count)
      const list = onward.get(from)
      if (list) list.push(key % count)
      else onward.set(from, [key % count])
    }
  const rings: number[][] = []
  for (const start of onward.keys())
    for (let next = onward.get(start)?.pop(); next !== undefined; next = onward.get(start)?.pop()) {
      const ring = [start]
      for (let at: number | undefined = next; at !== undefined && at !== start; at = onward.get(at)?.pop())
        ring.push(at)
      rings.push(ring)
    }
  return rings
}
