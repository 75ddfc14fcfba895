import type { Meshes } from '../../bay/part.ts'
import type { Bay, Candidate, Role } from '../../bay/schema.ts'
import type { Fault } from '../../fault.ts'
import type { LargestAnswer, NothingFits } from '../../largest/largest.ts'
import type { BendsAnswer } from '../../pipe/answer.ts'
import type { SeatAnswer } from '../../seat/answer.ts'
import type { MountsJudged } from '../../seat/mountsJudged.ts'
import type { Vec3 } from '../../shape/vec.ts'
import type { Ledger, LedgerPair } from '../../verdict/answer.ts'

/** All that the sheets of one candidate say, computed once; every sheet, file and preview is made from this. mm, degrees, kg. */
export interface SheetFacts {
  readonly bay: Bay
  readonly candidate: Candidate
  readonly meshes: Meshes
  readonly ledger: Ledger
  readonly bends: BendsAnswer
  readonly mounts: MountsJudged
  readonly way: WayFact
  readonly largest: LargestFact
  readonly parts: readonly PartFact[]
  /** In the order in which they are reached: from the front, left, right, below, above, rear; what no gauge reaches last. */
  readonly onCar: readonly CarCheck[]
  readonly datum: readonly DatumCheck[]
  /** Safety structures and lamps, each by name, mirror images too: they stay as they are. */
  readonly safety: readonly SafetyFact[]
}

/** The way in: the one that was adopted, proved or refuted anew; else what a search of counted work says. */
export interface WayFact {
  /** The candidate's own `offering` was judged, and not searched for another. */
  readonly own: boolean
  /** null where the question cannot be put: nothing stays, or the own moves do not end at the seat; see `faults`. */
  readonly answer: SeatAnswer | null
  readonly faults: readonly Fault[]
}

/** The largest core within the candidate's limits, what holds it, and what a millimetre at each would buy. */
export interface LargestFact {
  /** null where the question cannot be put; see `faults`. */
  readonly answer: LargestAnswer | NothingFits | null
  readonly faults: readonly Fault[]
  /** Of the candidate's own core, mm³; to be held beside `answer.value`. */
  readonly now: number
}

/** A range of a mass (kg) or density (kg/m³) that holds the true one as far as the handbook does. */
export interface Range {
  readonly atLeast: number
  readonly atMost: number
}

/** A line of the parts list. */
export interface PartFact {
  /**
   * Name of the part in the ledger (`core`, `tank-left`, `pipe-ID` …); id of the stock coupler, clamp or elbow where several
   * are counted; `bolt-6` and `nut-8` of fasteners, by their diameter.
   */
  readonly part: string
  readonly kind: 'core' | 'tank' | 'stub' | 'pipe' | 'elbow' | 'coupler' | 'clamp' | 'mount' | 'bolt' | 'nut'
  /** What the bay calls it; null where it has no name there. */
  readonly name: string | null
  readonly count: number
  /** Of one, overall along the candidate's own X, Y, Z; null for what is counted and not drawn once. */
  readonly size: Vec3 | null
  /** Of one as drawn, outside, mm³; null for what is not one body. */
  readonly volume: number | null
  /** Of one, what there is of the material itself, mm³; null where the bay gives no wall. */
  readonly metal: number | null
  /** As the bay writes it. */
  readonly material: string | null
  readonly density: (Range & { readonly source: string }) | null
  /** Of one, kg; null where material or wall is not known: never guessed. */
  readonly mass: Range | null
  /** Of bolts and nuts, mm. */
  readonly diameter: number | null
}

export type Gauge = 'feeler gauge' | 'gap gauge' | 'calliper' | 'tape' | 'clay'
export type Reached = 'front' | 'left' | 'right' | 'below' | 'above' | 'rear'

/** A gap that is worth measuring with the part in place. */
export interface CarCheck {
  readonly pair: LedgerPair
  /** Predicted gap, and what still agrees with it: outside of this the part, the bay or the measuring is wrong. */
  readonly predicted: number
  readonly low: number
  readonly high: number
  /** Less than this at the car does not prove what is required: the gauge's own error, and movement of ports, counted. */
  readonly least: number
  readonly gauge: Gauge
  /** Largest error of the gauge, mm. */
  readonly gaugeError: number
  /** Where it is reached from; null where no free way was found: then it is pressed in clay or putty. */
  readonly from: Reached | null
  /** How far in from there, mm. */
  readonly reach: number | null
  /** The keep-out comes off, so that it is checked when it is back on; or it moves, and is moved through by hand. */
  readonly with: 'refitted' | 'moved' | null
}

/** A place of the car that is measured first, to see that the frame of the bay is that of the car. */
export interface DatumCheck {
  readonly of: 'keep-out' | 'fixing' | 'port'
  /** Keep-out (with `-mirror` for an image), fixing or port. */
  readonly id: string
  readonly name: string
  readonly axis: 'x' | 'y' | 'z'
  /** From the origin of the bay along that axis. */
  readonly predicted: number
  /** Expanded, k = 2, as the bay gives it. */
  readonly uncertainty: number
  /** The bay does not give it: the default is used. */
  readonly assumed: boolean
  readonly low: number
  readonly high: number
  /** Largest error of the tape over that length, mm. */
  readonly gaugeError: number
}

export interface SafetyFact {
  readonly keepOut: string
  readonly name: string
  readonly role: Role
  /** Switched off for a look: not held against anything. */
  readonly leftOut: boolean
  /** Its tightest pair; null where the candidate has no part held against it. */
  readonly tightest: LedgerPair | null
}
