import type { Vec3 } from '../shape/vec.ts'
import type { PipeLoss } from './loss.ts'

/**
 * One row of a bend table: feed `length` mm of straight, turn the tube by `rotation` degrees about the feed direction
 * (right-hand rule positive, −180 … 180, 0 before the first bend), bend by `angle` degrees on `radius` mm.
 * The last row is the last straight only.
 */
export interface BendRow {
  readonly length: number
  readonly rotation?: number
  readonly angle?: number
  readonly radius?: number
}

/** A bent tube between welds or ends: what is cut, and how it is bent. */
export interface BentTube {
  readonly table: readonly BendRow[]
  /** Straights between tangent points, mm, one more than arcs. */
  readonly straights: readonly number[]
  /** Arc lengths on the centreline, mm. */
  readonly arcs: readonly number[]
  /** Σ straights + Σ arcs, mm. */
  readonly developed: number
  /** Developed length less what the tube grows in its bends, mm; the developed length where the bender names no elongation. */
  readonly cut: number
  /** Angle to set at the bender for each bend, spring-back added, degrees; null where none is known. */
  readonly setAngles: readonly number[] | null
}

export type PipeEndName = 'from' | 'to'

/** Why a pipe cannot be made or joined, or what is not known of it. `point` counts the ends too: 0 is the beginning. */
export interface PipeReason {
  /** Stable tag, kebab-case; worded in app/wording.ts. */
  readonly code: string
  readonly point?: number
  readonly end?: PipeEndName
  /** In a joint: which of its two tubes, the port's or the pipe's. */
  readonly on?: 'port' | 'pipe'
  /** Where in the bay, mm, for marking it in the drawing. */
  readonly at?: Vec3
  readonly expected?: string | number
  readonly got?: string | number
  /** Name of the stock, bender or clamp concerned. */
  readonly of?: string
}

/** How one end is joined, as figures. Lengths mm, angles degrees. */
export interface JointAnswer {
  readonly end: PipeEndName
  readonly port: string
  readonly kind: 'weld' | 'coupler' | 'none'
  readonly coupler?: string
  /** Open length between the two tubes, with the movement that may add to it or take from it. */
  readonly gap?: number
  readonly offset?: number
  readonly angle?: number
  readonly movement: number
  /** Depth to which the port and the pipe go in, and what is needed for bead, clamp and edges. */
  readonly insertion?: {
    readonly port: number
    readonly pipe: number
    readonly neededPort: number
    readonly neededPipe: number
  }
  readonly clamps: readonly {
    readonly on: 'port' | 'pipe'
    readonly clamp: string
    /** Diameter that it closes on. */
    readonly closesOn: number
    /** Rolls from which a tool reaches the screw with what comes off taken off, degrees; null where no tool is named. */
    readonly reach: readonly (readonly [from: number, to: number])[] | null
  }[]
}

export interface PipeBends {
  readonly id: string
  readonly name: string
  readonly outsideDiameter: number
  readonly wall: number
  readonly bendRadius: number
  /** Bend radius over outside diameter ("D of bend" of tube). */
  readonly dOfBend: number
  readonly material: string | null
  readonly bender: string | null
  readonly makeable: boolean
  /** Bent tubes from `from` to `to`; more than one where elbows are welded in between. Empty where corners cannot be rounded. */
  readonly tubes: readonly BentTube[]
  readonly elbows: readonly {
    readonly point: number
    readonly elbow: string
    readonly angle: number
    readonly cutDown: boolean
  }[]
  /** The whole run as one table, elbows among the rows. */
  readonly table: readonly BendRow[]
  /** Number of the point of each bend or elbow: points that turn nothing have no row. */
  readonly corners: readonly number[]
  readonly straights: readonly number[]
  readonly arcs: readonly number[]
  readonly developed: number
  /** Σ cut lengths of the tubes. */
  readonly cut: number
  readonly joints: readonly JointAnswer[]
  /** Why it cannot be made or joined: none where it can. */
  readonly reasons: readonly PipeReason[]
  /** What is not known, or only to be watched. */
  readonly notes: readonly PipeReason[]
  /** null where the bay names no flow or the pipe does not say which. */
  readonly loss: PipeLoss | null
}

export interface BendsAnswer {
  readonly candidate: string
  /** 'makeable' where every pipe that was asked for is routed, can be bent and joined. */
  readonly answer: 'makeable' | 'not makeable'
  readonly pipes: readonly PipeBends[]
  readonly unrouted: readonly string[]
  /** Of all pipes and the couplers between, as a band, Pa; null where a pipe's is not known. */
  readonly chainLoss: { readonly atLeast: number; readonly atMost: number } | null
}
