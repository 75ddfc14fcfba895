import type { Mesh } from './mesh.ts'
import type { Pose, Vec3 } from './vec.ts'

/**
 * The four forms that solids are made of. Clearance meets forms, never shape names:
 * box, hull, end tank, sweep piece → polytope; cylinder, straight stub → cylinder (both `convex`);
 * tube, pipe → `round`; half-space; mesh. All coordinates mm, in the bay frame.
 */
export type Form = ConvexForm | RoundForm | HalfSpaceForm | MeshForm
export type FormName = Form['form']

export interface ConvexForm {
  readonly form: 'convex'
  readonly body: Polytope | Cylinder
}

/** Convex hull of its vertices. Faces are planar, outward, counter-clockwise loops of vertex indices. */
export interface Polytope {
  readonly kind: 'polytope'
  /** x, y, z after each other. */
  readonly vertices: Float64Array
  readonly faces: readonly (readonly number[])[]
  /** One plane a face: nx, ny, nz, offset, with n·x ≤ offset inside and |n| = 1. */
  readonly planes: Float64Array
}

/** Right circular cylinder with flat ends; `from` ≠ `to`, radius > 0. */
export interface Cylinder {
  readonly kind: 'cylinder'
  readonly from: Vec3
  readonly to: Vec3
  readonly radius: number
}

/**
 * Round sweep with flat ends: the union of the discs of `radius` square to a tangent-continuous centreline.
 * Every arc's radius is at least `radius`, so the discs of one arc never cross.
 */
export interface RoundForm {
  readonly form: 'round'
  readonly centreline: readonly Piece[]
  readonly radius: number
}
export type Piece = StraightPiece | ArcPiece
export interface StraightPiece {
  readonly kind: 'straight'
  readonly from: Vec3
  readonly to: Vec3
}
/** Point at angle a (0 … angle, radians, ≤ π): centre + radius·(cos a·x + sin a·y); x, y orthonormal; tangent at a = −sin a·x + cos a·y. */
export interface ArcPiece {
  readonly kind: 'arc'
  readonly centre: Vec3
  readonly x: Vec3
  readonly y: Vec3
  readonly radius: number
  readonly angle: number
}

/** Solid side is the one that the unit normal points away from: n·x ≤ n·point. */
export interface HalfSpaceForm {
  readonly form: 'halfSpace'
  readonly point: Vec3
  readonly normal: Vec3
}

/** A mesh in its own frame (mm) and where it stands in the bay; `pose.turn` may mirror. Closed: solid; open: shell. */
export interface MeshForm {
  readonly form: 'mesh'
  readonly mesh: Mesh
  readonly pose: Pose
}

/** Axis-aligned bounds in mm; a half-space has infinite sides. */
export interface Bounds {
  readonly min: Vec3
  readonly max: Vec3
}

/** One solid of the bay: the union of its forms. `open` where a form is an open mesh: a surface without an inside. */
export interface Solid {
  readonly forms: readonly Form[]
  readonly bounds: Bounds
  readonly open: boolean
}
