import { expect, test } from 'vitest'
import { type Random, seeded } from '../../test/kit/random.ts'
import { toSegment, toTriangle } from '../../test/kit/tubes.ts'
import type { MeshForm } from '../shape/form.ts'
import { add, along, cross, distance, dot, identity, mix, scale, sub, unit, type Vec3 } from '../shape/vec.ts'
import { meshMesh } from './meshMesh.ts'

type Triangle = readonly [Vec3, Vec3, Vec3]

/** Every feature against every feature: corners over faces, edges across edges, edges through faces. */
function plain(s: Triangle, t: Triangle): number {
  let gap = Infinity
  for (const [p, q] of [
    [s, t],
    [t, s],
  ])
    for (let i = 0; i < 3; i++) {
      const [a, b] = [p[i], p[(i + 1) % 3]]
      gap = Math.min(gap, toTriangle(a, ...q))
      const n = cross(sub(q[1], q[0]), sub(q[2], q[0]))
      const [above, below] = [dot(n, sub(a, q[0])), dot(n, sub(b, q[0]))]
      if (above * below < 0) gap = Math.min(gap, toTriangle(mix(a, b, above / (above - below)), ...q))
      for (let j = 0; j < 3; j++) gap = Math.min(gap, ofEdges(a, b, q[j], q[(j + 1) % 3]))
    }
  return gap
}

function ofEdges(a: Vec3, b: Vec3, c: Vec3, d: Vec3): number {
  const gap = Math.min(toSegment(a, c, d), toSegment(b, c, d), toSegment(c, a, b), toSegment(d, a, b))
  const n = cross(sub(b, a), sub(d, c))
  const nn = dot(n, n)
  if (!(nn > 0)) return gap
  const r = sub(c, a)
  const s = dot(cross(r, sub(d, c)), n) / nn
  const t = dot(cross(r, sub(b, a)), n) / nn
  return s < 0 || s > 1 || t < 0 || t > 1 ? gap : Math.min(gap, distance(mix(a, b, s), mix(c, d, t)))
}

const any = (random: Random, size = 10): Triangle => [random.point(size), random.point(size), random.point(size)]
const moved = (t: Triangle, by: Vec3): Triangle => [add(t[0], by), add(t[1], by), add(t[2], by)]
/** In the plane of another, anywhere about it. */
const inPlaneOf = (t: Triangle, random: Random): Triangle => {
  const [u, v] = [sub(t[1], t[0]), sub(t[2], t[0])]
  const point = (): Vec3 => add(t[0], add(scale(u, random.real(-2, 2)), scale(v, random.real(-2, 2))))
  return [point(), point(), point()]
}
const sliver = (random: Random, width: number): Triangle => {
  const [a, b] = [random.point(10), random.point(10)]
  return [a, b, along(mix(a, b, random.real(0, 1)), random.unit(), width)]
}
/** With the coordinates of a mesh that lies far off, whatever frame it is asked in. */
const far = (s: Triangle, t: Triangle, random: Random): [Triangle, Triangle] => {
  const by = random.point(1e5)
  return [moved(s, by), moved(t, by)]
}

const families: Record<string, { make: (random: Random) => [Triangle, Triangle] }> = {
  any: { make: (random) => [any(random), moved(any(random), random.point(8))] },
  'coplanar in a tilted plane': {
    make: (random) => {
      const s = any(random)
      return [s, inPlaneOf(s, random)]
    },
  },
  'slivers 1e-5 wide': { make: (random) => [sliver(random, 1e-5), sliver(random, random.size(1e-5, 5))] },
  'parallel, the same moved off': {
    make: (random) => {
      const s = any(random)
      const n = unit(cross(sub(s[1], s[0]), sub(s[2], s[0])))
      return [s, moved(s, along(random.point(4), n, random.real(0, 3)))]
    },
  },
  'touching in a corner, an edge or a face': {
    make: (random) => {
      const s = any(random)
      const on = random.pick([s[0], mix(s[0], s[1], 0.3), mix(mix(s[0], s[1], 0.4), s[2], 0.5)])
      const n = unit(cross(sub(s[1], s[0]), sub(s[2], s[0])))
      return [s, [on, along(add(on, random.point(4)), n, 9), along(add(on, random.point(4)), n, 9)]]
    },
  },
  'coordinates near 1e5': {
    make: (random) => far(any(random), moved(any(random), random.point(8)), random),
  },
  'near-parallel edges, 1e-9 rad': {
    make: (random) => {
      const s = any(random)
      const by = random.point(6)
      return [
        s,
        [along(add(s[0], by), random.unit(), 1e-8), along(add(s[1], by), random.unit(), 1e-8), random.point(10)],
      ]
    },
  },
}

/** Equally near pairs are not followed below 1e-9 mm, and seen from either end that may count twice. */
const allowed = 3e-9

const shell = (t: Triangle): MeshForm => ({
  form: 'mesh',
  mesh: { positions: Float64Array.from(t.flat()), triangles: Uint32Array.of(0, 1, 2), closed: false },
  pose: { turn: identity, at: [0, 0, 0] },
})

test.each(Object.keys(families))('2,000 pairs of triangles, %s: none wrong', (family) => {
  const random = seeded(family.length)
  const { make } = families[family]
  let [wrong, wide] = [0, 0]
  for (let i = 0; i < 2000; i++) {
    const [s, t] = make(random)
    const answer = meshMesh(shell(s), shell(t), {})
    const gap = plain(s, t)
    const off = Math.abs(answer.atMost - gap)
    if (off > allowed || answer.atLeast > gap + allowed) wrong++
    if (answer.atMost - answer.atLeast > 1e-6) wide++
    const seen = distance(answer.onPart, answer.onKeepOut)
    if (Math.abs(seen - answer.atMost) > 1e-10) wrong++
    if (toTriangle(answer.onPart, ...s) > 1e-7 || toTriangle(answer.onKeepOut, ...t) > 1e-7) wrong++
  }
  expect([wrong, wide]).toEqual([0, 0])
})
