import type { Vec3 } from '../shape/vec.ts'
import type { Role } from '../bay/schema.ts'

export type Verdict = 'clears' | 'unproved' | 'short' | 'fouls'

/** One row of the gap ledger: a part against a keep-out, or against another part. Lengths mm, points bay frame. */
export interface LedgerPair {
  readonly part: string
  /** Keep-out id, or the other part's name where `between` is 'parts'. */
  readonly keepOut: string
  readonly role: Role | 'part'
  readonly between?: 'parts'
  /** Shortest distance (upper bound of it); 0 where they meet. */
  readonly gap: number
  /** The true distance is no less than gap − error. */
  readonly error: number
  /** What manufacture may add, and how far joints may be off and ports move. */
  readonly tolerance: number
  /** Share of the tolerance that is movement of ports with the engine; left out where nothing moves. */
  readonly movement?: number
  readonly uncertainty: number
  readonly required: number
  /** gap − error − tolerance − uncertainty − required */
  readonly margin: number
  readonly verdict: Verdict
  readonly onPart: Vec3
  readonly onKeepOut: Vec3
  readonly overlap?: { readonly depth: number; readonly kind: 'exact' | 'atLeast'; readonly direction?: Vec3 }
  /** Values taken from defaults and not from the bay. */
  readonly assumed?: readonly ('clearance' | 'uncertainty')[]
  /** The keep-out is an open shell: a surface without an inside. */
  readonly open?: boolean
}

export interface Ledger {
  readonly candidate: string
  /** The worst of all pairs, capped at 'unproved' where something is left out or not routed. */
  readonly verdict: Verdict
  /** Smallest margin first. */
  readonly pairs: readonly LedgerPair[]
  /** Keep-outs with `enabled: false`. */
  readonly leftOut: readonly string[]
  /** Pipes without a path. */
  readonly unrouted: readonly string[]
  /** `whole`: not held against it at all, and `length` is 0. */
  readonly exempt: readonly {
    readonly part: string
    readonly from: string
    readonly length: number
    readonly whole?: true
  }[]
}
