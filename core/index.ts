/**
 * The few calls that everyone uses:
 * bay text → `readBay` → bay → `ledger` → `checkAnswer`; and lengths as people write and read them.
 */

export type { Meshes } from './bay/part.ts'
export { checkBay, readBay } from './bay/read.ts'
export type { Bay, Candidate, KeepOut } from './bay/schema.ts'
export { writeBay } from './bay/write.ts'
export { clearance } from './clearance/clearance.ts'
export type { Fault, Outcome } from './fault.ts'
export { readAngle } from './units/angle.ts'
export { readLength } from './units/length.ts'
export { formatGap, formatLength, formatUncertainty } from './units/lengthText.ts'
export type { Ledger, LedgerPair, Verdict } from './verdict/answer.ts'
export { checkAnswer } from './verdict/checkAnswer.ts'
export { ledger } from './verdict/ledger.ts'
export { LedgerMemory } from './verdict/memory.ts'
