import type { Meshes } from '../../core/bay/part.ts'
import type { Bay } from '../../core/bay/schema.ts'
import type { Outcome } from '../../core/fault.ts'
import type { Bounds } from '../../core/shape/form.ts'
import type { BendsAnswer } from '../../core/pipe/answer.ts'
import type { SeatAnswer } from '../../core/seat/answer.ts'
import type { MountsJudged } from '../../core/seat/mountsJudged.ts'
import type { SeatSubject } from '../../core/seat/subject.ts'
import type { Drawing as LineDrawing } from '../../core/sheet/drawing/drawing.ts'
import type { ViewName as SideName } from '../../core/sheet/drawing/view.ts'
import type { Ledger } from '../../core/verdict/answer.ts'
import type { MeshFile } from '../sheet/settings.ts'

/** What the window asks of the worker. Calls are answered in the order in which they come; all values are plain data. */
export interface Desk {
  /**
   * Reads a bay and every mesh that it names, and keeps the meshes for the calls that follow.
   * On faults the bay that was open before stays open.
   */
  open(text: string, name: string, bytesOf: BytesOf, told: Told): Promise<Outcome<Opened>>
  /** Solids to look at, of what changed since the last call; everything after `open`. */
  draw(ask: Ask): Promise<Drawing>
  /** The ledger of a candidate; 'superseded' when a newer ticket was given out meanwhile. */
  ledger(ask: Ask, told: Told): Promise<Answer>
  /** How the candidate's pipes are bent and joined; 'superseded' as the ledger is. */
  bends(ask: Ask): Promise<BendsReply>
  /** Whether the candidate's own way in holds, and whether its mounts go on; 'superseded' as the ledger is. */
  offered(ask: SeatAsk): Promise<SeatReply>
  /** One pipe of a candidate as a solid to look at, beside what `draw` hands out; null where it has none. */
  sketch(ask: Sketch): Promise<DrawnSolid | null>
  /** All parts of a candidate beside the one that is drawn; none where they cannot be made. */
  outlines(ask: Pick<Sketch, 'bay' | 'candidate'>): Promise<readonly DrawnSolid[]>
  /** Lines of a bay and candidate from one side, true to scale, seen and hidden. */
  lines(ask: LinesAsk): Promise<Outcome<LineDrawing>>
  /** Shared memory in which the window writes the newest ticket; without it nothing can be stopped half-way. */
  watch(newest: SharedArrayBuffer): Promise<void>
  /** The meshes of the bay that is open, copied on the way: a second worker searches with them. */
  openMeshes(): Promise<Meshes>
  /** The mesh files of the bay that is open as they were read, by the `file` that it names. */
  meshFiles(): Promise<ReadonlyMap<string, MeshFile>>
  /** Reads and checks a mesh file that is not one of the bay's yet, and has it ready for `keepMesh`; only the last one. */
  inspectMesh(name: string, bytes: Uint8Array): Promise<Outcome<MeshNote>>
  /** The mesh that was inspected last becomes one of the open bay's; null where there is none. */
  keepMesh(file: string): Promise<MeshNote | null>
}

/** `candidate` null: keep-outs alone. */
export interface LinesAsk {
  readonly bay: Bay
  readonly candidate: string | null
  readonly view: SideName
}

/** Fetches a file of the bay's folder. */
export type BytesOf = (file: string) => Promise<Outcome<Uint8Array>>

/** What a call that takes long says meanwhile. `share` from 0 to 1, where it is known. */
export type Told = (progress: Progress) => void
export interface Progress {
  readonly doing: 'reading' | 'mesh' | 'solids' | 'gaps'
  readonly what?: string
  readonly share?: number
}

export interface Opened {
  readonly bay: Bay
  /** By the `file` that the bay names. */
  readonly meshes: readonly (readonly [file: string, MeshNote])[]
}

/** What the window tells of a mesh. */
export interface MeshNote {
  readonly format: string
  readonly triangles: number
  readonly closed: boolean
  readonly openEdges: number
  readonly components: number
  /** Triangles without area, left out. */
  readonly dropped: number
  readonly turnedBack: number
  /** In the file's own numbers. */
  readonly bounds: Bounds
}

export interface Ask {
  readonly bay: Bay
  readonly candidate: string | undefined
  /** Counts up with every edit; the newest wins. */
  readonly ticket: number
}

export type Answer =
  | { readonly kind: 'superseded' }
  | { readonly kind: 'answered'; readonly ledger: Outcome<Ledger>; readonly milliseconds: number }

export type BendsReply =
  | { readonly kind: 'superseded' }
  | { readonly kind: 'answered'; readonly bends: Outcome<BendsAnswer>; readonly milliseconds: number }

export interface SeatAsk extends Ask {
  /** Wanted on the way, mm. */
  readonly need: number
}

/** What goes in with the candidate, and past what: names of parts, ids of keep-outs. */
export interface SeatSetting extends Pick<SeatSubject, 'withPart' | 'after' | 'off' | 'leftOut' | 'exempt'> {
  readonly stays: readonly string[]
}

/** What is judged of a seat; null for what the candidate does not have. */
export interface SeatJudged {
  readonly setting: Outcome<SeatSetting>
  readonly way: Outcome<SeatAnswer> | null
  readonly mounts: Outcome<MountsJudged> | null
}

export type SeatReply =
  | { readonly kind: 'superseded' }
  | { readonly kind: 'answered'; readonly judged: SeatJudged; readonly milliseconds: number }

/** A pipe as a bay has it that nobody has chosen yet: a route to look at. */
export interface Sketch {
  readonly bay: Bay
  readonly candidate: string
  readonly pipe: string
}

export interface Drawing {
  /** All coordinates of `solids` are relative to this point of the bay, mm: single precision stays fine far from 0. */
  readonly origin: readonly [number, number, number]
  /** Bounds of all that is bounded, bay frame, mm; null where nothing is. */
  readonly bounds: Bounds | null
  /** Keys of everything that is there now, in the order of the bay: keep-out ids, then part names. */
  readonly keepOuts: readonly string[]
  readonly parts: readonly string[]
  /** Those that are new or changed since the last drawing. */
  readonly solids: readonly DrawnSolid[]
  /** What could not be made into a solid; its former solid stays as it was. */
  readonly faults: Outcome<null>
}

export interface DrawnSolid {
  /** Keep-out id (a mirror image has its own) or part name; the two cannot be mixed up by `side`. */
  readonly key: string
  readonly side: 'keepOut' | 'part'
  readonly surface: Surface
  /** Fewer triangles, where the surface has very many: for small drawings and while the view turns. */
  readonly light: Surface | null
  /** Line segments along true edges, six numbers each. */
  readonly edges: Float32Array
  /** What the solid is the union of, where a shader can test a point against each; empty for meshes and many planes. */
  readonly pieces: readonly SimplePiece[]
  /** It comes from a mesh, as covers and scans do. */
  readonly mesh: boolean
  /** The surface encloses its inside: not a patch of a plane and not a shell. */
  readonly closed: boolean
  /** mm, bay frame; sides may be infinite. */
  readonly bounds: Bounds
}

export interface Surface {
  readonly positions: Float32Array
  readonly normals: Float32Array
  readonly triangles: Uint32Array
}

/**
 * A convex or round piece that a shader can test a point against; coordinates relative to the drawing's origin, mm.
 * planes: nx, ny, nz, offset each, inside where n·x ≤ offset. straight: from, unit direction, length, radius.
 * arc: centre, x, y, radius of the arc, angle (radians), radius of the tube.
 */
export interface SimplePiece {
  readonly kind: 'planes' | 'straight' | 'arc'
  readonly numbers: Float32Array
}

/** More planes than this are not tested in the shader. */
export const mostPlanes = 64
