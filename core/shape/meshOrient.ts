import { pointBounds } from './bounds.ts'
import type { Bounds } from './form.ts'
import type { Vec3 } from './vec.ts'

/** Signed volume of each component, mm³, positive where its triangles face outward; sums are taken about its own first vertex. */
export function componentVolumes(
  positions: Float64Array,
  triangles: Uint32Array,
  componentOf: Int32Array,
  components: number,
): Float64Array {
  const volumes = new Float64Array(components)
  const origins = new Int32Array(components).fill(-1)
  for (let t = 0; t < componentOf.length; t++) {
    const part = componentOf[t]
    const [a, b, c] = [3 * triangles[3 * t], 3 * triangles[3 * t + 1], 3 * triangles[3 * t + 2]]
    if (origins[part] < 0) origins[part] = a
    const o = origins[part]
    const [ox, oy, oz] = [positions[o], positions[o + 1], positions[o + 2]]
    const [ax, ay, az] = [positions[a] - ox, positions[a + 1] - oy, positions[a + 2] - oz]
    const [bx, by, bz] = [positions[b] - ox, positions[b + 1] - oy, positions[b + 2] - oz]
    const [cx, cy, cz] = [positions[c] - ox, positions[c + 1] - oy, positions[c + 2] - oz]
    volumes[part] += ax * (by * cz - bz * cy) + ay * (bz * cx - bx * cz) + az * (bx * cy - by * cx)
  }
  return volumes.map((six) => six / 6)
}

/** Bounds compared and triangles evaluated to tell cavities from bodies turned inside out; beyond it, all are bodies. */
const mostWork = 20_000_000

/**
 * Which components of a closed mesh must be turned round so that it is solid inside.
 * A component facing inward stays as it is where it lies inside the others (a cavity) and is turned round elsewhere.
 * In doubt it is turned round: that fills a cavity, and a larger keep-out is the safe side.
 * @param volumes signed, of each component, see `componentVolumes`
 */
export function componentsToTurn(
  positions: Float64Array,
  triangles: Uint32Array,
  componentOf: Int32Array,
  volumes: Float64Array,
): Uint8Array {
  const turn = new Uint8Array(volumes.length)
  // A file written inside out altogether: then its cavities face outward, and all change places.
  const whole = volumes.reduce((sum, v) => sum + v, 0) < 0 ? -1 : 1
  if (whole < 0) turn.fill(1)
  if (volumes.every((v) => whole * v >= 0)) return turn

  const shells = shellsOf(positions, triangles, componentOf, volumes.length)
  // Largest first: what holds a component is larger than it, and is judged before it.
  const order = [...volumes.keys()].sort((a, b) => Math.abs(volumes[b]) - Math.abs(volumes[a]) || a - b)
  let work = 0
  order.forEach((part, place) => {
    if (whole * volumes[part] >= 0) return
    let winding = 0
    for (let i = 0; i < place && work <= mostWork; i++) {
      work++
      const shell = shells[order[i]]
      if (!contains(shell.bounds, shells[part].bounds)) continue
      work += shell.triangles.length
      const sense = turn[order[i]] ? -1 : 1
      winding += sense * windingNumber(positions, triangles, shell.triangles, shells[part].point)
    }
    const cavity = work <= mostWork && winding > 0.75
    if (!cavity) turn[part] ^= 1
  })
  return turn
}

interface Shell {
  readonly triangles: readonly number[]
  readonly bounds: Bounds
  readonly point: Vec3
}

function shellsOf(
  positions: Float64Array,
  triangles: Uint32Array,
  componentOf: Int32Array,
  components: number,
): Shell[] {
  const members: number[][] = Array.from({ length: components }, () => [])
  componentOf.forEach((part, t) => {
    members[part].push(t)
  })
  const corner = (i: number): Vec3 => [positions[3 * i], positions[3 * i + 1], positions[3 * i + 2]]
  return members.map((own) => {
    const points = new Float64Array(9 * own.length)
    own.forEach((t, n) => {
      for (let k = 0; k < 3; k++) points.set(corner(triangles[3 * t + k]), 9 * n + 3 * k)
    })
    return { triangles: own, bounds: pointBounds(points), point: corner(triangles[3 * own[0]]) }
  })
}

function contains(outer: Bounds, inner: Bounds): boolean {
  for (let k = 0; k < 3; k++) if (outer.min[k] > inner.min[k] || inner.max[k] > outer.max[k]) return false
  return true
}

/**
 * How often a closed surface goes round a point: the sum of the solid angles of its triangles over 4π.
 * Source: A. van Oosterom, J. Strackee, The Solid Angle of a Plane Triangle, IEEE Trans. Biomed. Eng. 30 (1983), from memory.
 */
function windingNumber(
  positions: Float64Array,
  triangles: Uint32Array,
  own: readonly number[],
  [px, py, pz]: Vec3,
): number {
  let sum = 0
  for (const t of own) {
    const [a, b, c] = [3 * triangles[3 * t], 3 * triangles[3 * t + 1], 3 * triangles[3 * t + 2]]
    const [ax, ay, az] = [positions[a] - px, positions[a + 1] - py, positions[a + 2] - pz]
    const [bx, by, bz] = [positions[b] - px, positions[b + 1] - py, positions[b + 2] - pz]
    const [cx, cy, cz] = [positions[c] - px, positions[c + 1] - py, positions[c + 2] - pz]
    const [la, lb, lc] = [Math.hypot(ax, ay, az), Math.hypot(bx, by, bz), Math.hypot(cx, cy, cz)]
    const volume = ax * (by * cz - bz * cy) + ay * (bz * cx - bx * cz) + az * (bx * cy - by * cx)
    const [ab, bc, ca] = [ax * bx + ay * by + az * bz, bx * cx + by * cy + bz * cz, cx * ax + cy * ay + cz * az]
    sum += 2 * Math.atan2(volume, la * lb * lc + ab * lc + bc * la + ca * lb)
  }
  return sum / (4 * Math.PI)
}
