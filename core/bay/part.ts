import type { Piece, Solid } from '../shape/form.ts'
import type { Mesh } from '../shape/mesh.ts'
import type { Pose } from '../shape/vec.ts'
import type { KeepOut } from './schema.ts'

/** One part of a candidate as a solid in the bay frame, mm. */
export interface Part {
  /**
   * `core`, `tank-left`, `tank-right`, `stub-left-PORT`, `stub-right-PORT`, `pipe-ID`, `coupler-ID-from`,
   * `coupler-ID-to`, `clamp-ID-from-port`, `clamp-ID-from-pipe`, `clamp-ID-to-port`, `clamp-ID-to-pipe`; ID is the pipe's. `mount-ID`: ID is the mount's.
   */
  readonly name: string
  readonly kind: 'core' | 'tank' | 'stub' | 'mount' | 'pipe' | 'coupler' | 'clamp'
  readonly solid: Solid
  /** What manufacture, misfit and movement may add to it, mm. */
  readonly tolerance: number
  /** Where the candidate stands; parts without `run` move with it, those with one where it is `carried`. */
  readonly pose: Pose
  /** Of pipes only: the same object as `run`. */
  readonly pipe?: PipePart
  /** Of pipes, couplers and clamps: what the pipe asks of other parts. */
  readonly run?: RunPart
  /** Of mounts. */
  readonly mount?: MountPart
}

/** A bracket or pin on core or tank; it is welded to the body and not held against that. */
export interface MountPart {
  readonly id: string
  /** Name of the part it sits on. */
  readonly on: string
  /** Whether it goes in with the part. */
  readonly fitting: 'with-part' | 'after'
  /** Keep-outs that its fixings are part of: it is not held against them at all. */
  readonly exemptions: ReadonlyMap<string, Exemption>
}

/** What a part is joined to, and the rest of it that is held against that; keyed by part name or keep-out id. */
export const exemptionsOf = ({ run, mount }: Part): ReadonlyMap<string, Exemption> =>
  run?.exemptions ?? mount?.exemptions ?? new Map()

/** What belongs to a run from port to port: a pipe, a coupler or a clamp. */
export interface RunPart {
  /** Of the pipe. */
  readonly id: string
  /** Required clearance to other parts, mm; `clearanceAssumed` where it is the default. */
  readonly clearance: number
  readonly clearanceAssumed: boolean
  /** The share of the part's tolerance that is movement of the pipe's ports, mm. */
  readonly movement: number
  /** It moves with the candidate: a coupler or clamp on a tank's stub. */
  readonly carried: boolean
  /** What it is joined to, and the rest of it that is held against that; keyed by part name or keep-out id. */
  readonly exemptions: ReadonlyMap<string, Exemption>
}

/** Whether a part of this name belongs to a run: it does not simply move along when the candidate does. */
export const isOfRun = (partName: string): boolean => /^(pipe|coupler|clamp)-/.test(partName)

export interface PipePart extends RunPart {
  readonly outsideDiameter: number
  /** Of the pipe's tube, from one coupler (stub end, port) to the other, corners rounded. */
  readonly centreline: readonly Piece[]
}

export interface Exemption {
  /** Length left out at each joined end, mm: two numbers where both ends are joined to the same thing, none where the two are fixed to each other or one is left out whole. */
  readonly lengths: readonly number[]
  /** The part without its exempt ends; null where nothing is left. */
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
