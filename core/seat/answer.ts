import type { Vec3 } from '../shape/vec.ts'

/**
 * One move of the part: its pivot (bay frame, at the move's beginning) goes straight by `shift` while the part turns about
 * `axis` through the pivot by `angle` degrees (right-hand), both at a constant rate.
 */
export interface Move {
  /** mm */
  readonly shift: Vec3
  readonly pivot: Vec3
  /** Unit; any where `angle` is 0. */
  readonly axis: Vec3
  readonly angle: number
}

/** Where a candidate stands, as the bay file says it: `at` mm, `turn` degrees about fixed X, then Y, then Z. */
export interface Standing {
  readonly at: Vec3
  readonly turn: Vec3
}

/** From where the part is clear of everything to its seat, in the order of offering up. */
export interface SeatPath {
  readonly start: Standing
  readonly moves: readonly Move[]
}

/** The least margin on a whole continuous motion, mm, certified: the true one lies between. */
export interface LeastOnTheWay {
  readonly atLeast: number
  readonly atMost: number
  /** Number of the move, from 0, and the share of it that is done there. */
  readonly move: number
  readonly share: number
  readonly part: string
  readonly keepOut: string
  /** Bay frame, with the part where it is at that moment. */
  readonly onPart: Vec3
  readonly onKeepOut: Vec3
}

export interface ProvedPath extends SeatPath {
  readonly least: LeastOnTheWay
}

/** How near a search came where it found no path: what would have to give, and by how much. */
export interface NearestMiss {
  /** The part would have to be smaller by this on each side, mm. */
  readonly by: number
  readonly part: string
  readonly keepOut: string
  readonly at: Vec3
  readonly path: SeatPath
}

export interface SeatAnswer {
  readonly candidate: string
  readonly answer: 'proved' | 'refuted' | 'none found' | 'closed' | 'cancelled'
  /** The path with the widest margin found; null where there is none. For a path of one's own: that path. */
  readonly path: (SeatPath & { readonly least: LeastOnTheWay | null }) | null
  /** Another path with fewer moves, where there is one. */
  readonly fewest: ProvedPath | null
  /** Why the answer is 'refuted' before any move: a pair that does not clear at the seat, mm. */
  readonly atSeat: { readonly part: string; readonly keepOut: string; readonly margin: number } | null
  readonly miss: NearestMiss | null
  /** Wanted on the way, mm, before each keep-out's own clearance caps it. */
  readonly need: number
  /** Keep-outs that come off and were left out. */
  readonly off: readonly string[]
  /** Keep-outs with `enabled: false`: nothing better than 'none found' can be said while there are any. */
  readonly leftOut: readonly string[]
  /** Parts that go in with the candidate, and those that are put on after. */
  readonly withPart: readonly string[]
  readonly after: readonly string[]
  /** Mounts and pipes that touch a keep-out at the seat are not held against it (pipes: not near their port) on the way. */
  readonly exempt: readonly { readonly part: string; readonly keepOut: string }[]
  /** Counted work: distance queries. */
  readonly queries: number
  readonly stopped: 'done' | 'time' | 'cancelled'
}
