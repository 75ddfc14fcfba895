import type { Outcome } from '../../core/fault.ts'

/**
 * Triangles exactly as a file gives them: in the file's own numbers, not merged, not checked for closure.
 * Coordinates are finite and indices in range; everything else is `checkMesh`'s business.
 */
export interface RawMesh {
  /** x, y, z after each other. */
  readonly positions: Float64Array
  /** Three vertex indices a triangle. */
  readonly triangles: Uint32Array
  /**
   * Faces of more than three corners that are not flat: which surface is meant between their corners is the
   * reader's choice (see polygon.ts), so people are told how many there were.
   */
  readonly bentFaces: number
}

/** What a file from a stranger may cost us. Every reader checks before it takes memory. */
export interface ReadLimits {
  /** Largest file, after inflation. */
  readonly bytes: number
  readonly triangles: number
}

/** Three vertices a triangle are the most that a mesh can use. */
export const mostVertices = (limits: ReadLimits): number => 3 * limits.triangles

/** 20 million triangles are a binary STL of 1 GB; positions then take 1.4 GB as doubles, about what a desktop can hold. */
export const defaultLimits: ReadLimits = { bytes: 2_000_000_000, triangles: 20_000_000 }

/** One file format. Bytes in, values out: no file system, no network, the same in Node and in a browser worker. */
export interface Importer {
  /** For people: 'STL', 'PLY' … */
  readonly name: string
  /** Lower case, without the dot. */
  readonly extensions: readonly string[]
  /** Whether the bytes are surely of this format; used to notice a file under a wrong name, never to guess. */
  readonly sniff: (bytes: Uint8Array) => boolean
  /** Never throws for bad bytes; faults carry no file name (the caller adds it). */
  readonly read: (bytes: Uint8Array, limits: ReadLimits) => Outcome<RawMesh>
}
