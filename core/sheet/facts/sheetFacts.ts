import type { Meshes } from '../../bay/part.ts'
import type { Bay, Candidate, Role } from '../../bay/schema.ts'
import type { Hold } from '../../largest/holds.ts'
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
  /** The way in: the one that was adopted, proved or refuted anew; else one that was found, or that none was. */
  readonly way: SeatAnswer
  /** What holds the core at its size and what a millimetre there would buy; null where it does not stand clear. */
  readonly holds: readonly Hold[] | null
  readonly parts: readonly PartFact[]
  readonly onCar: readonly CarCheck[]
  readonly datum: readonly DatumCheck[]
  /** Safety structures and lamps, each by name: they stay as they are. */
  readonly safety: readonly SafetyFact[]
}

/** A line of the parts list. */
export interface PartFact {
  readonly part: string
  readonly kind: 'core' | 'tank' | 'stub' | 'pipe' | 'coupler' | 'clamp' | 'mount' | 'fastener'
  readonly count: number
  /** Overall along the candidate's own X, Y, Z; null for what is not drawn. */
  readonly size: Vec3 | null
  /** As drawn, mm³. */
  readonly volume: number | null
  readonly material: string | null
  /** kg; null where material or wall is not known: never guessed. */
  readonly mass: { readonly atLeast: number; readonly atMost: number } | null
}

/** A gap that is worth measuring with the part in place. */
export interface CarCheck {
  readonly pair: LedgerPair
  /** Predicted gap, and what still agrees with it: outside of this the part, the bay or the measuring is wrong. */
  readonly predicted: number
  readonly low: number
  readonly high: number
  /** Less than this at the car, the instrument's own error counted, is short of what is required. */
  readonly least: number
  readonly gauge: 'feeler gauge' | 'gap gauge' | 'calliper' | 'tape'
  /** Where it is reached from. */
  readonly from: 'front' | 'left' | 'right' | 'below' | 'above' | 'rear'
}

/** A place of the car that is measured first, to see that the frame of the bay is that of the car. */
export interface DatumCheck {
  readonly of: string
  readonly name: string
  readonly axis: 'x' | 'y' | 'z'
  readonly predicted: number
  readonly uncertainty: number
}

export interface SafetyFact {
  readonly keepOut: string
  readonly name: string
  readonly role: Role
  /** Its tightest pair; null where the candidate has no part held against it. */
  readonly tightest: LedgerPair | null
}
