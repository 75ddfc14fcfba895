import type { ArcPiece, Bounds, Cylinder, Form, MeshForm, Piece, RoundForm } from './form.ts'
import type { Mesh } from './mesh.ts'
import { type Pose, sub, unit, type Vec3 } from './vec.ts'

/**
 * Outer bounds of a form, mm, bay frame: exact for arcs and discs but for rounding, which always goes outward.
 * A half-space is unbounded, but for the one side where its normal lies on an axis.
 */
export function boundsOf(form: Form): Bounds {
  switch (form.form) {
    case 'convex':
      return form.body.kind === 'polytope' ? pointBounds(form.body.vertices) : cylinderBounds(form.body)
    case 'round':
      return roundBounds(form)
    case 'halfSpace':
      return halfSpaceBounds(form.point, form.normal)
    case 'mesh':
      return meshBounds(form)
  }
}

/** Nothing: the neutral element of `unionBounds`. */
export const noBounds: Bounds = { min: [Infinity, Infinity, Infinity], max: [-Infinity, -Infinity, -Infinity] }

export function unionBounds(all: readonly Bounds[]): Bounds {
  const min = [Infinity, Infinity, Infinity]
  const max = [-Infinity, -Infinity, -Infinity]
  for (const one of all)
    for (let k = 0; k < 3; k++) {
      min[k] = Math.min(min[k], one.min[k])
      max[k] = Math.max(max[k], one.max[k])
    }
  return { min: [min[0], min[1], min[2]], max: [max[0], max[1], max[2]] }
}

/**
 * Bounds of all that is bounded, for a view: solids with an infinite side are left out. A metre about the origin where
 * nothing is left.
 */
export function viewBounds(all: readonly Bounds[]): Bounds {
  const bounded = all.filter(({ min, max }) => [...min, ...max].every(Number.isFinite))
  return bounded.length > 0 ? unionBounds(bounded) : { min: [-500, -500, -500], max: [500, 500, 500] }
}

/** Bounds grown by a margin on every side, mm. */
export const grownBounds = ({ min, max }: Bounds, by: number): Bounds => ({
  min: each((k) => min[k] - by),
  max: each((k) => max[k] + by),
})

/** Bounds of points, x, y, z after each other: exact. */
export function pointBounds(points: Float64Array): Bounds {
  const [low, high] = [
    [Infinity, Infinity, Infinity],
    [-Infinity, -Infinity, -Infinity],
  ]
  for (let i = 0; i < points.length; i += 3)
    for (let k = 0; k < 3; k++) {
      const x = points[i + k]
      if (x < low[k]) low[k] = x
      if (x > high[k]) high[k] = x
    }
  return { min: low as unknown as Vec3, max: high as unknown as Vec3 }
}

const each = (f: (k: number) => number): Vec3 => [f(0), f(1), f(2)]

/** Outward by `ulps` units in the last place of the size of the numbers that went into the bounds. */
function outward(bounds: Bounds, size: number, ulps: number): Bounds {
  return grownBounds(bounds, ulps * Number.EPSILON * size)
}

/** How far a disc reaches along each axis: radius · √(1 − t²), with 1 − t² taken as a cross product to lose no digits. */
const discReach = (direction: Vec3, radius: number): Vec3 =>
  each((k) => radius * Math.hypot(direction[(k + 1) % 3], direction[(k + 2) % 3]))

function discBounds(centre: Vec3, direction: Vec3, radius: number): Bounds {
  const reach = discReach(direction, radius)
  return { min: each((k) => centre[k] - reach[k]), max: each((k) => centre[k] + reach[k]) }
}

function sizeOf(...vectors: Vec3[]): number {
  let size = 0
  for (const v of vectors) size = Math.max(size, Math.abs(v[0]), Math.abs(v[1]), Math.abs(v[2]))
  return size
}

function cylinderBounds({ from, to, radius }: Cylinder): Bounds {
  const direction = unit(sub(to, from))
  const both = unionBounds([discBounds(from, direction, radius), discBounds(to, direction, radius)])
  return outward(both, sizeOf(from, to) + radius, 8)
}

function roundBounds({ centreline, radius }: RoundForm): Bounds {
  return unionBounds(centreline.map((piece) => pieceBounds(piece, radius)))
}

/** Outer bounds of the discs of a radius along one piece of a centreline (radius 0: of the piece itself), mm. */
export function pieceBounds(piece: Piece, radius: number): Bounds {
  if (piece.kind === 'straight') return cylinderBounds({ kind: 'cylinder', from: piece.from, to: piece.to, radius })
  return arcBounds(piece, radius)
}

/**
 * With A the reach of the arc's plane along an axis and b the angle from the arc's highest point, a disc reaches
 * R·A·cos b + r·√(1 − A² sin² b). Its slope has the sign of −sin b as long as R ≥ r: the greatest value lies at b = 0
 * or at an end of the arc, the least of the lower side at b = 180° or at an end.
 */
function arcBounds(arc: ArcPiece, radius: number): Bounds {
  const ends = [0, arc.angle].map((a) => {
    const [c, s] = [Math.cos(a), Math.sin(a)]
    const centre = each((k) => arc.centre[k] + arc.radius * (c * arc.x[k] + s * arc.y[k]))
    return discBounds(centre, unit(each((k) => c * arc.y[k] - s * arc.x[k])), radius)
  })
  const { min, max } = unionBounds(ends)
  const rise = (k: number) => arc.radius * Math.hypot(arc.x[k], arc.y[k]) + radius
  const top = (k: number) => arcHolds(arc, Math.atan2(arc.y[k], arc.x[k]))
  const foot = (k: number) => arcHolds(arc, Math.atan2(-arc.y[k], -arc.x[k]))
  const exact: Bounds = {
    min: each((k) => (foot(k) ? Math.min(min[k], arc.centre[k] - rise(k)) : min[k])),
    max: each((k) => (top(k) ? Math.max(max[k], arc.centre[k] + rise(k)) : max[k])),
  }
  return outward(exact, sizeOf(arc.centre) + arc.radius + radius, 16)
}

/** Whether an angle (radians, any turn) lies on the arc. A billionth too many at its ends costs 1e-18 of the radius. */
function arcHolds(arc: ArcPiece, angle: number): boolean {
  const slack = 1e-9
  const turns = angle - 2 * Math.PI * Math.floor((angle + slack) / (2 * Math.PI))
  return turns <= arc.angle + slack
}

function halfSpaceBounds(point: Vec3, normal: Vec3): Bounds {
  const alone = (k: number) => normal[(k + 1) % 3] === 0 && normal[(k + 2) % 3] === 0
  return {
    min: each((k) => (alone(k) && normal[k] < 0 ? point[k] : -Infinity)),
    max: each((k) => (alone(k) && normal[k] > 0 ? point[k] : Infinity)),
  }
}

const ownBounds = new WeakMap<Mesh, Bounds>()
const placedBounds = new WeakMap<Mesh, Map<string, Bounds>>()
/** Poses remembered for each mesh: its own places in the bay and mirrored ones, not every place it was dragged through. */
const mostPoses = 8

/** Bounds of a mesh in its own frame; worked out once for each mesh. */
export function ownMeshBounds(mesh: Mesh): Bounds {
  const own = ownBounds.get(mesh) ?? pointBounds(mesh.positions)
  ownBounds.set(mesh, own)
  return own
}

/** Exact over the placed vertices, not over the corners of a box. */
function meshBounds({ mesh, pose }: MeshForm): Bounds {
  const byPose = placedBounds.get(mesh) ?? new Map<string, Bounds>()
  placedBounds.set(mesh, byPose)
  const key = [...pose.turn, ...pose.at].join()
  const bounds = byPose.get(key) ?? placedPointBounds(mesh.positions, pose, ownMeshBounds(mesh))
  if (byPose.size >= mostPoses) byPose.clear()
  byPose.set(key, bounds)
  return bounds
}

function placedPointBounds(positions: Float64Array, { turn, at }: Pose, own: Bounds): Bounds {
  const [low, high] = [
    [Infinity, Infinity, Infinity],
    [-Infinity, -Infinity, -Infinity],
  ]
  for (let k = 0; k < 3; k++) {
    const [a, b, c, d] = [turn[3 * k], turn[3 * k + 1], turn[3 * k + 2], at[k]]
    let [least, most] = [Infinity, -Infinity]
    for (let i = 0; i < positions.length; i += 3) {
      const x = a * positions[i] + b * positions[i + 1] + c * positions[i + 2] + d
      if (x < least) least = x
      if (x > most) most = x
    }
    low[k] = least
    high[k] = most
  }
  const placed = { min: low as unknown as Vec3, max: high as unknown as Vec3 }
  return outward(placed, 2 * sizeOf(own.min, own.max) + sizeOf(at), 4)
}
