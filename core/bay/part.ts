import type { Piece, Solid } from '../shape/form.ts'
import type { Mesh } from '../shape/mesh.ts'
import type { Pose } from '../shape/vec.ts'
import type { KeepOut } from './schema.ts'

/** One part of a candidate as a solid in the bay frame, mm. */
export interface Part {
  /** `core`, `tank-left`, `tank-right`, `stub-left-PORT`, `stub-right-PORT`, `pipe-ID`. */
  readonly name: string
  readonly kind: 'core' | 'tank' | 'stub' | 'pipe'
  readonly solid: Solid
  /** What manufacture may add to it, mm. */
  readonly tolerance: number
  /** Where the candidate stands; parts other than pipes move with it. */
  readonly pose: Pose
  readonly pipe?: PipePart
}

export interface PipePart {
  readonly id: string
  readonly outsideDiameter: number
  /** Required clearance to other parts, mm; `clearanceAssumed` where it is the default. */
  readonly clearance: number
  readonly clearanceAssumed: boolean
  /** From the end of the first stub (or the bay's port) to that of the second, corners rounded. */
  readonly centreline: readonly Piece[]
  /** What the pipe is joined to, and the rest of it that is held against that; keyed by part name or keep-out id. */
  readonly exemptions: ReadonlyMap<string, Exemption>
}

export interface Exemption {
  /** Length of centreline left out at each joined end, mm: two numbers where both ends are joined to the same thing. */
  readonly lengths: readonly number[]
  /** The pipe without its exempt ends; null where nothing is left. */
  readonly rest: Solid | null
}

export interface CandidateParts {
  readonly parts: readonly Part[]
  /** Ids of pipes without a path whose ends do not face each other in line. */
  readonly unrouted: readonly string[]
}

/** One keep-out as a solid in the bay frame; a mirrored keep-out gives two. */
export interface KeepOutSolid {
  /** The keep-out's id, with `-mirror` for its mirror image. */
  readonly id: string
  readonly mirrored: boolean
  /** As the bay has it. */
  readonly keepOut: KeepOut
  readonly solid: Solid
}

/** Meshes already read, by the `file` that the bay names. In the mesh's own numbers: the bay's `unit` is applied later. */
export type Meshes = ReadonlyMap<string, Mesh>
