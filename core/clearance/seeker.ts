import type { Cylinder, MeshForm, Polytope } from '../shape/form.ts'
import { add, placed, placedBack, sub, turned, type Vec3 } from '../shape/vec.ts'
import type { MeshTree } from './meshTree.ts'
import type { Seeker } from './meshSearch.ts'
import { emptySet, setDisc, setOf } from './support.ts'

/** From the common frame into a tree's and back; the pose may mirror, distances stay. */
export const intoTree = (form: MeshForm, tree: MeshTree, point: Vec3): Vec3 => sub(placedBack(form.pose, point), tree.centre)
export const outOfTree = (form: MeshForm, tree: MeshTree, point: Vec3): Vec3 => placed(form.pose, add(point, tree.centre))
export const turnedOutOfTree = (form: MeshForm, direction: Vec3): Vec3 => turned(form.pose.turn, direction)

/** A convex body, given in the common frame, as a seeker in the frame of the mesh's tree. */
export function seekerOf(body: Polytope | Cylinder, form: MeshForm, tree: MeshTree): Seeker {
  const moved = bodyInTree(body, form, tree)
  const set = setOf(moved)
  return { set, planes: moved.kind === 'polytope' ? moved.planes : endPlanes(moved), box: boxOf(moved) }
}

export function bodyInTree(body: Polytope | Cylinder, form: MeshForm, tree: MeshTree): Polytope | Cylinder {
  if (body.kind === 'cylinder') {
    return { ...body, from: intoTree(form, tree, body.from), to: intoTree(form, tree, body.to) }
  }
  const vertices = new Float64Array(body.vertices.length)
  const [m0, m1, m2, m3, m4, m5, m6, m7, m8] = form.pose.turn
  const [px, py, pz] = form.pose.at
  const [cx, cy, cz] = tree.centre
  // As `intoTree`, without a new array a vertex: this runs for every part in every frame of a drag.
  for (let i = 0; i < vertices.length; i += 3) {
    const x = body.vertices[i] - px
    const y = body.vertices[i + 1] - py
    const z = body.vertices[i + 2] - pz
    vertices[i] = m0 * x + m3 * y + m6 * z - cx
    vertices[i + 1] = m1 * x + m4 * y + m7 * z - cy
    vertices[i + 2] = m2 * x + m5 * y + m8 * z - cz
  }
  return { ...body, vertices, planes: turnedPlanes(body.planes, vertices, form) }
}

/** Planes turned along; each offset is measured again on the vertices, so that none sticks out by a rounding. */
function turnedPlanes(planes: Float64Array, vertices: Float64Array, form: MeshForm): Float64Array {
  const out = new Float64Array(planes.length)
  const m = form.pose.turn
  for (let i = 0; i < planes.length; i += 4) {
    const nx = m[0] * planes[i] + m[3] * planes[i + 1] + m[6] * planes[i + 2]
    const ny = m[1] * planes[i] + m[4] * planes[i + 1] + m[7] * planes[i + 2]
    const nz = m[2] * planes[i] + m[5] * planes[i + 1] + m[8] * planes[i + 2]
    let offset = -Infinity
    for (let v = 0; v < vertices.length; v += 3) {
      const d = nx * vertices[v] + ny * vertices[v + 1] + nz * vertices[v + 2]
      if (d > offset) offset = d
    }
    out[i] = nx
    out[i + 1] = ny
    out[i + 2] = nz
    out[i + 3] = offset
  }
  return out
}

function endPlanes({ from, to }: Cylinder): Float64Array {
  const d = sub(to, from)
  const l = Math.hypot(d[0], d[1], d[2])
  const n: Vec3 = [d[0] / l, d[1] / l, d[2] / l]
  const offset = (p: Vec3) => n[0] * p[0] + n[1] * p[1] + n[2] * p[2]
  return new Float64Array([n[0], n[1], n[2], offset(to), -n[0], -n[1], -n[2], -offset(from)])
}

function boxOf(body: Polytope | Cylinder): Float64Array {
  const box = new Float64Array([Infinity, Infinity, Infinity, -Infinity, -Infinity, -Infinity])
  const hold = (k: number, x: number) => {
    if (x < box[k]) box[k] = x
    if (x > box[3 + k]) box[3 + k] = x
  }
  if (body.kind === 'polytope') {
    for (let i = 0; i < body.vertices.length; i++) hold(i % 3, body.vertices[i])
    return box
  }
  const d = sub(body.to, body.from)
  const squared = d[0] * d[0] + d[1] * d[1] + d[2] * d[2]
  for (let k = 0; k < 3; k++) {
    // Half the extent of a disc along an axis: its radius times the sine of the angle between the two.
    const half = body.radius * Math.sqrt(Math.max(0, 1 - (d[k] * d[k]) / squared)) * (1 + 1e-15)
    for (const end of [body.from, body.to]) {
      hold(k, end[k] - half)
      hold(k, end[k] + half)
    }
  }
  return box
}

/** A single point as a seeker, tree frame. */
export function pointSeeker(point: Vec3): Seeker {
  const set = setDisc(emptySet(), point[0], point[1], point[2], 0, 0, 1, 0)
  return { set, planes: new Float64Array(0), box: new Float64Array([...point, ...point]) }
}
