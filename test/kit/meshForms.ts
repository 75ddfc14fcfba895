import type { MeshForm } from '../../core/shape/form.ts'
import type { Mesh } from '../../core/shape/mesh.ts'
import {
  cross,
  dot,
  identity,
  length,
  type Pose,
  placed,
  placedBack,
  product,
  scale,
  type Vec3,
} from '../../core/shape/vec.ts'
import type { FormKit } from './everyPair.ts'
import type { Random } from './random.ts'
import { toTriangle } from './tubes.ts'

/** A closed, bumpy ball, star-shaped about the origin: rings of points at random distances; hollows as well as humps. */
function bumpyBall(random: Random, half: number, rings: number, round: number): Mesh {
  const points: Vec3[] = [
    [0, 0, half],
    [0, 0, -half],
  ]
  for (let ring = 1; ring < rings; ring++)
    for (let i = 0; i < round; i++) {
      const t = (Math.PI * ring) / rings
      const a = (2 * Math.PI * i) / round
      const r = half * random.real(0.6, 1)
      points.push([r * Math.sin(t) * Math.cos(a), r * Math.sin(t) * Math.sin(a), r * Math.cos(t)])
    }
  const at = (ring: number, i: number) => (ring === 0 ? 0 : ring === rings ? 1 : 2 + (ring - 1) * round + (i % round))
  const triangles: number[] = []
  for (let ring = 0; ring < rings; ring++)
    for (let i = 0; i < round; i++) {
      const [a, b, c, d] = [at(ring, i), at(ring + 1, i), at(ring + 1, i + 1), at(ring, i + 1)]
      if (ring < rings - 1) triangles.push(a, b, c)
      if (ring > 0) triangles.push(a, c, d)
    }
  return { positions: Float64Array.from(points.flat()), triangles: Uint32Array.from(triangles), closed: true }
}

/** An open, wavy sheet through the origin. */
function wavySheet(random: Random, half: number, count: number): Mesh {
  const points: Vec3[] = []
  for (let i = 0; i <= count; i++)
    for (let j = 0; j <= count; j++)
      points.push([half * ((2 * i) / count - 1), half * ((2 * j) / count - 1), half * random.real(-0.15, 0.15)])
  const triangles: number[] = []
  for (let i = 0; i < count; i++)
    for (let j = 0; j < count; j++) {
      const a = i * (count + 1) + j
      triangles.push(a, a + count + 1, a + count + 2, a, a + count + 2, a + 1)
    }
  return { positions: Float64Array.from(points.flat()), triangles: Uint32Array.from(triangles), closed: false }
}

const here: Pose = { turn: identity, at: [0, 0, 0] }
const moved = (form: MeshForm, pose: Pose): MeshForm => ({
  ...form,
  pose: { turn: product(pose.turn, form.pose.turn), at: placed(pose, form.pose.at) },
})
/** Scaled about the origin of the common frame. */
const scaled = (form: MeshForm, by: number): MeshForm => ({
  ...form,
  mesh: { ...form.mesh, positions: form.mesh.positions.map((x) => by * x) },
  pose: { ...form.pose, at: scale(form.pose.at, by) },
})

function corners(mesh: Mesh, t: number): [Vec3, Vec3, Vec3] {
  const point = (k: number): Vec3 => {
    const i = 3 * mesh.triangles[t + k]
    return [mesh.positions[i], mesh.positions[i + 1], mesh.positions[i + 2]]
  }
  return [point(0), point(1), point(2)]
}

/** Distance to the nearest triangle; within a closed mesh (by the solid angle it fills, a full one inside) 0. */
function outsideBy({ mesh, pose }: MeshForm, q: Vec3): number {
  const p = placedBack(pose, q)
  let least = Infinity
  let angle = 0
  for (let t = 0; t < mesh.triangles.length; t += 3) {
    const [a, b, c] = corners(mesh, t)
    least = Math.min(least, toTriangle(p, a, b, c))
    if (mesh.closed) angle += solidAngle([a, b, c].map((v): Vec3 => [v[0] - p[0], v[1] - p[1], v[2] - p[2]]))
  }
  return mesh.closed && Math.abs(angle) > 2 * Math.PI ? 0 : least
}

/** A. van Oosterom, J. Strackee, The solid angle of a plane triangle (1983); from memory. */
function solidAngle([a, b, c]: readonly Vec3[]): number {
  const [la, lb, lc] = [length(a), length(b), length(c)]
  const below = la * lb * lc + dot(a, b) * lc + dot(b, c) * la + dot(c, a) * lb
  return 2 * Math.atan2(dot(a, cross(b, c)), below)
}

export const closedMeshKit: FormKit<MeshForm> = {
  name: 'closed mesh',
  make: (random, half) => ({
    form: 'mesh',
    mesh: bumpyBall(random, half, 3 + random.int(5), 4 + random.int(8)),
    pose: here,
  }),
  placed: moved,
  scaled,
  // Star-shaped about its own origin: larger about it holds it, and its farthest point moves by no more than asked.
  grown(form, by) {
    const p = form.mesh.positions
    let reach = 0
    for (let i = 0; i < p.length; i += 3) reach = Math.max(reach, Math.hypot(p[i], p[i + 1], p[i + 2]))
    return { ...form, mesh: { ...form.mesh, positions: p.map((x) => x * (1 + by / reach)) } }
  },
  outsideBy,
}

export const openMeshKit: FormKit<MeshForm> = {
  name: 'open mesh',
  make: (random, half) => ({ form: 'mesh', mesh: wavySheet(random, half, 3 + random.int(6)), pose: here }),
  placed: moved,
  scaled,
  outsideBy,
}
