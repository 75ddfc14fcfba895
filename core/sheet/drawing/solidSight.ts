import { bodyEdges } from '../../shape/displayPolytope.ts'
import type { Form, HalfSpaceForm, MeshForm, Polytope, Solid } from '../../shape/form.ts'
import { vertexAt } from '../../shape/polytope.ts'
import type { Vec3 } from '../../shape/vec.ts'
import { type SightBlock, sightBlock } from './convexSight.ts'
import { meshOutline, rimOf, type RimEdge } from './meshOutline.ts'
import { type MeshSight, meshSight } from './meshSight.ts'
import { convexOutline, type Loops, unionOf } from './region.ts'
import { roundSight } from './roundSight.ts'
import { type Flat, type Frame, frameOf, joinedFrame, emptyFrame, type Seen, seen, type AnyView } from './view.ts'

/** A solid as a picture shows it: what of it may hide, its lines, and the region that it covers. */
export interface SolidSight {
  readonly blocks: readonly SightBlock[]
  readonly meshes: readonly MeshSight[]
  /** Edges, rims and contours: points joined by straight lines. */
  readonly lines: readonly (readonly Seen[])[]
  /** What it covers; a half-space covers nothing. */
  readonly outline: Loops
  readonly grounds: readonly HalfSpaceForm[]
  readonly frame: Frame
}

/** How far chords of round things may lie off them in a drawing, mm. */
export const defaultSag = 0.02

export function solidSight({ forms }: Solid, view: AnyView, sag = defaultSag): SolidSight {
  const bodies = forms.flatMap((form): Polytope[] =>
    form.form === 'convex' && form.body.kind === 'polytope' ? [form.body] : [],
  )
  const rounds = forms.flatMap((form) => roundOf(form, view, sag))
  const meshes = forms.flatMap((form) => (form.form === 'mesh' ? [meshSeen(form, view)] : []))
  const grounds = forms.filter((form): form is HalfSpaceForm => form.form === 'halfSpace')
  const regions: Loops = [
    ...bodies.map((body) => convexOutline(cornersOf(body, view))),
    ...rounds.flatMap(({ blocks }) => blocks.map(({ outline }) => outline)),
    ...meshes.flatMap(({ outline }) => outline),
  ]
  const blocks = [...bodies.map((body) => sightBlock(body, view)), ...rounds.flatMap((round) => round.blocks)]
  const sights = meshes.map(({ sight }) => sight)
  return {
    blocks,
    meshes: sights,
    lines: [
      ...linesOf(bodyEdges(bodies), view),
      ...rounds.flatMap(({ lines }) => lines),
      ...meshes.flatMap(({ lines }) => lines),
    ],
    outline: regions.length > 1 ? unionOf(regions, 'wound') : regions,
    grounds,
    frame: [...blocks, ...sights].reduce((all, { frame }) => joinedFrame(all, frame), emptyFrame),
  }
}

const cornersOf = (body: Polytope, view: AnyView): Flat[] =>
  Array.from({ length: body.vertices.length / 3 }, (_, i) => {
    const [u, v] = seen(view, vertexAt(body, i))
    return [u, v]
  })

function linesOf(edges: readonly number[], view: AnyView): Seen[][] {
  const at = (i: number): Vec3 => [edges[i], edges[i + 1], edges[i + 2]]
  return Array.from({ length: edges.length / 6 }, (_, k) => [seen(view, at(6 * k)), seen(view, at(6 * k + 3))])
}

function roundOf(form: Form, view: AnyView, sag: number) {
  if (form.form === 'round') return [roundSight(form.centreline, form.radius, view, sag)]
  if (form.form !== 'convex' || form.body.kind !== 'cylinder') return []
  const { from, to, radius } = form.body
  return [roundSight([{ kind: 'straight', from, to }], radius, view, sag)]
}

function meshSeen(form: MeshForm, view: AnyView) {
  const sight = meshSight(form, view)
  const rim = rimOf(sight, form.mesh.closed)
  const outline = meshOutline(sight, rim)
  return { sight, outline, lines: outline.map((loop) => withDepth(loop, rim, sight)) }
}

/**
 * A mesh's outline with how near its points are: each lies on an edge of the rim, or on the place where two of them cross, of
 * which the nearer counts.
 */
function withDepth(loop: readonly Flat[], rim: readonly RimEdge[], { corners }: MeshSight): Seen[] {
  const near = rimFinder(rim, corners)
  const points = loop.map(([u, v]): Seen => [u, v, near(u, v)])
  return points.length > 0 ? [...points, points[0]] : []
}

/** Places are rounded by this in an outline, and a little more, mm. */
const rounded = 1e-4

/** Finds how near the rim is at a point of it; the rim's edges lie in cells of a grid by the places they pass. */
function rimFinder(rim: readonly RimEdge[], corners: Float64Array): (u: number, v: number) => number {
  const { min, max } = frameOf(rim.flat().map((i) => [corners[3 * i], corners[3 * i + 1]]))
  const cell = Math.max((max[0] - min[0] + (max[1] - min[1])) / Math.max(8, Math.sqrt(rim.length) * 2), 1e-3)
  const cells = new Map<string, RimEdge[]>()
  const key = (u: number, v: number) => `${Math.floor((u - min[0]) / cell)} ${Math.floor((v - min[1]) / cell)}`
  for (const edge of rim) {
    const [a, b] = edge.map((i) => [corners[3 * i], corners[3 * i + 1]])
    for (let u = Math.min(a[0], b[0]) - rounded; ; u += cell) {
      for (let v = Math.min(a[1], b[1]) - rounded; ; v += cell) {
        const list = cells.get(key(u, v))
        if (list) list.push(edge)
        else cells.set(key(u, v), [edge])
        if (v > Math.max(a[1], b[1]) + rounded) break
      }
      if (u > Math.max(a[0], b[0]) + rounded) break
    }
  }
  return (u, v) => {
    const depths = (cells.get(key(u, v)) ?? []).flatMap(([a, b]) => depthOn(corners, a, b, u, v) ?? [])
    return depths.length > 0 ? Math.max(...depths) : Infinity
  }
}

/** How near the edge is at the point; null where the point does not lie on it. */
function depthOn(corners: Float64Array, a: number, b: number, u: number, v: number): number | null {
  const [au, av, aw] = [corners[3 * a], corners[3 * a + 1], corners[3 * a + 2]]
  const [du, dv, dw] = [corners[3 * b] - au, corners[3 * b + 1] - av, corners[3 * b + 2] - aw]
  const long = du * du + dv * dv
  const share = long === 0 ? 0 : Math.min(1, Math.max(0, ((u - au) * du + (v - av) * dv) / long))
  const off = Math.hypot(u - au - share * du, v - av - share * dv)
  return off <= rounded ? aw + share * dw : null
}
