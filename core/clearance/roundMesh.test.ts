import { describe, expect, it } from 'vitest'
import { anyPolytope, boxBody } from '../../test/kit/bodies.ts'
import { seeded } from '../../test/kit/random.ts'
import { type Corners, placedMesh, soup, soups } from '../../test/kit/triangleSoups.ts'
import { tessellated } from '../../test/kit/tubePaths.ts'
import { anyTube, movedTube, outsideTube, rod, scaledTube, TubeLayer } from '../../test/kit/tubes.ts'
import type { MeshForm, Polytope, RoundForm } from '../shape/form.ts'
import type { Mesh } from '../shape/mesh.ts'
import { along, distance, identity, mirrorY, type Pose, placed, product, scale, type Vec3 } from '../shape/vec.ts'
import type { ClearanceOptions } from './answer.ts'
import { convexRound } from './convexRound.ts'
import { roundMesh } from './roundMesh.ts'
import { roundRound } from './roundRound.ts'

const gap = (tube: RoundForm, form: MeshForm, options: ClearanceOptions = {}) => roundMesh(tube, form, options)
const shifted = (tube: RoundForm, at: Vec3) => movedTube(tube, { turn: identity, at })

function meshOf(body: Polytope): Mesh {
  const triangles = body.faces.flatMap((f) => f.slice(2).flatMap((_, k) => [f[0], f[k + 1], f[k + 2]]))
  return { positions: body.vertices, triangles: Uint32Array.from(triangles), closed: true }
}

describe('a bent tube and a closed mesh', () => {
  it('the same as the convex solid it encloses: 2000 pairs, seed 84', { timeout: 60_000 }, () => {
    const random = seeded(84)
    let meet = 0
    for (let i = 0; i < 2000; i++) {
      const body = anyPolytope(random, 25)
      const tube = random.chance(0.2) ? scaledTube(anyTube(random, 25), 0.1) : anyTube(random, 25)
      const mesh = gap(tube, placedMesh(meshOf(body)), { depth: false })
      const solid = convexRound({ form: 'convex', body }, tube, { depth: false })
      expect(Math.abs(mesh.atMost - solid.atMost)).toBeLessThan(1e-7)
      if (solid.atMost > 1e-9) expect(mesh.overlap).toBeUndefined()
      if (mesh.overlap) meet++
    }
    expect(meet).toBeGreaterThan(600)
    expect(meet).toBeLessThan(1400)
  })

  it('inside a closed mesh is contact, inside an open one is not', () => {
    const mesh = meshOf(boxBody(100, 100, 100))
    const tube = new TubeLayer([-40, 0, 0], [1, 0, 0], [0, 1, 0]).straight(30).bend(30, 1.5).straight(10).tube(10)
    const closed = gap(tube, placedMesh(mesh))
    expect(closed.atMost).toBe(0)
    expect(closed.overlap?.depthAtLeast).toBeGreaterThan(60)
    const open = gap(tube, placedMesh({ ...mesh, closed: false }))
    expect(open.overlap).toBeUndefined()
    expect(open.atMost).toBeGreaterThan(20)
    expect(gap(tube, placedMesh(mesh), { upTo: 5 }).overlap).toBeDefined()
  })

  it('in a cavity it is not inside', () => {
    const outer = boxBody(100, 100, 100)
    const inner = boxBody(60, 60, 60)
    const a = meshOf(outer)
    const b = meshOf(inner)
    const mesh: Mesh = {
      positions: Float64Array.from([...a.positions, ...b.positions]),
      // The cavity's surface faces into it.
      triangles: Uint32Array.from([...a.triangles, ...Array.from(b.triangles, (v) => v + 8).reverse()]),
      closed: true,
    }
    const got = gap(rod([-20, 0, 0], [20, 0, 0], 10), placedMesh(mesh))
    expect(got.overlap).toBeUndefined()
    expect(got.atMost).toBeCloseTo(40, 9)
    expect(gap(rod([75, 0, 0], [85, 0, 0], 5), placedMesh(mesh)).overlap).toBeDefined()
  })

  it('a mesh wholly inside the tube is contact', () => {
    const got = gap(rod([-200, 0, 0], [200, 0, 0], 30), placedMesh(meshOf(boxBody(5, 5, 5))))
    expect(got.atMost).toBe(0)
    expect(got.overlap?.depthAtLeast).toBeGreaterThan(30)
  })

  it('the flat end before a finely divided wall: no half-ball, and not slow', () => {
    const triangles: Corners[] = []
    for (let i = -20; i < 20; i++)
      for (let j = -20; j < 20; j++) {
        const at = (a: number, b: number): Vec3 => [2 * (i + a), 2 * (j + b), 0]
        triangles.push([at(0, 0), at(1, 0), at(1, 1)], [at(0, 0), at(1, 1), at(0, 1)])
      }
    const got = gap(rod([0, 0, 5], [0, 0, 200], 30), placedMesh(soup(triangles)))
    expect(got.atMost).toBeCloseTo(5, 9)
    expect(got.atLeast).toBeGreaterThan(5 - 1e-8)
  })

  it('moved, turned and mirrored together: the same gap, 200 pairs, seed 85', () => {
    const random = seeded(85)
    for (let i = 0; i < 200; i++) {
      const tube = anyTube(random, 25)
      const mesh = soup(soups.any(random))
      const turn = random.turn()
      const pose: Pose = { turn: random.chance(0.5) ? product(turn, mirrorY) : turn, at: random.point(300) }
      const here = gap(tube, placedMesh(mesh), { depth: false })
      const there = gap(movedTube(tube, pose), placedMesh(mesh, pose), { depth: false })
      expect(Math.abs(here.atMost - there.atMost)).toBeLessThan(1e-7)
      expect(outsideTube(movedTube(tube, pose), there.onPart, 8)).toBeLessThan(1e-6)
    }
  })
})

describe('a bent tube and a tessellated one', () => {
  it('the exact gap is approached from above within the facets’ rise: 40 pairs, seed 86', { timeout: 60_000 }, () => {
    const random = seeded(86)
    let tried = 0
    for (let i = 0; i < 40; i++) {
      const a = anyTube(random, 20)
      const b = shifted(anyTube(random, 20), scale(random.unit(), 60))
      const exact = roundRound(a, b, { depth: false })
      if (exact.overlap) continue
      tried++
      for (const sides of [16, 64]) {
        const ring = Math.PI / 45
        const got = gap(a, placedMesh(tessellated(b, sides, ring, 10)), { depth: false })
        // Inscribed polygon: r(1 − cos(π/n)); inscribed rings: outermost bend radius times 1 − cos of half a ring's angle.
        const outermost = Math.max(0, ...b.centreline.map((p) => (p.kind === 'arc' ? p.radius + b.radius : 0)))
        const rise = b.radius * (1 - Math.cos(Math.PI / sides)) + outermost * (1 - Math.cos(ring / 2))
        expect(got.atMost).toBeGreaterThan(exact.atLeast - 1e-7)
        expect(got.atMost - exact.atMost).toBeLessThan(rise + 1e-7)
      }
    }
    expect(tried).toBeGreaterThan(20)
  })
})

describe('depth of overlap of a tube and a mesh', () => {
  it('moved by less than depthAtLeast they still meet: 200 pairs, 4 ways each, seed 87', { timeout: 60_000 }, () => {
    const random = seeded(87)
    let deep = 0
    for (let i = 0; i < 200; i++) {
      const tube = anyTube(random, 25)
      const form = random.chance(0.5)
        ? placedMesh(meshOf(anyPolytope(random, 25)))
        : placedMesh(soup(soups.any(random)))
      const { overlap } = gap(tube, form)
      if (!overlap) continue
      if (overlap.depthAtLeast > 1) deep++
      for (let k = 0; k < 4; k++) {
        const by = scale(random.unit(), overlap.depthAtLeast * random.real(0.9, 0.999999))
        expect(gap(shifted(tube, by), form, { depth: false }).overlap).toBeDefined()
      }
    }
    expect(deep).toBeGreaterThan(50)
  })

  it('an open shell through the axis: the radius', () => {
    const shell = soup([
      [
        [0, -300, -300],
        [0, 300, -300],
        [0, 0, 300],
      ],
    ])
    expect(gap(rod([-100, 0, 0], [100, 0, 0], 15), placedMesh(shell)).overlap?.depthAtLeast).toBeCloseTo(15, 6)
  })
})

describe('warm start and early end', () => {
  it('near only speeds up; upTo never changes an answer below it: 300 pairs, seed 88', () => {
    const random = seeded(88)
    let early = 0
    for (let i = 0; i < 300; i++) {
      const tube = anyTube(random, 25)
      const form = placedMesh(soup(soups.small(random)), { turn: random.turn(), at: random.point(20) })
      const full = gap(tube, form, { depth: false })
      const near = { onPart: random.point(50), onKeepOut: along(full.onKeepOut, random.unit(), random.real(0, 5)) }
      expect(Math.abs(gap(tube, form, { depth: false, near }).atMost - full.atMost)).toBeLessThan(1e-7)
      const upTo = random.real(0, 40)
      const got = gap(tube, form, { depth: false, upTo, near: random.chance(0.5) ? near : undefined })
      expect(got.atLeast).toBeLessThanOrEqual(full.atMost)
      expect(got.atMost).toBeGreaterThanOrEqual(full.atLeast)
      if (full.atMost < upTo) expect(Math.abs(got.atMost - full.atMost)).toBeLessThan(1e-6)
      if (got.stopped === 'upTo') {
        early++
        expect(got.atLeast).toBeGreaterThanOrEqual(upTo)
      }
    }
    expect(early).toBeGreaterThan(30)
  })

  it('witnesses come back in the common frame', () => {
    const pose: Pose = { turn: mirrorY, at: [10, 20, 30] }
    const mesh = soup([
      [
        [0, 0, 0],
        [10, 0, 0],
        [0, 10, 0],
      ],
    ])
    const got = gap(rod([12, 18, 60], [12, 18, 100], 5), placedMesh(mesh, pose))
    expect(got.atMost).toBeCloseTo(30, 9)
    expect(distance(got.onKeepOut, [got.onPart[0], got.onPart[1], 30])).toBeLessThan(1e-9)
    expect(placed(pose, [0, 0, 0])[2]).toBe(30)
  })
})
