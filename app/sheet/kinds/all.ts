import type { SheetKind } from '../context.ts'
import type { SheetId } from '../sheet.ts'
import { coreAndTanksSheets } from './coreAndTanks.ts'
import { gapSheets } from './gaps.ts'
import { mockUpSheets } from './mockUp.ts'
import { offeringUpSheets } from './offeringUp.ts'
import { onTheCarSheets } from './onTheCar.ts'
import { overviewSheets } from './overview.ts'
import { pipeSheets } from './pipe.ts'

interface ListedKind {
  readonly id: SheetId
  readonly sheets: SheetKind
}

/** Every kind of sheet, in the order in which a set is read. A new one is a file and a line here. */
export const sheetKinds: readonly ListedKind[] = [
  { id: 'overview', sheets: overviewSheets },
  { id: 'core-and-tanks', sheets: coreAndTanksSheets },
  { id: 'pipe', sheets: pipeSheets },
  { id: 'gaps', sheets: gapSheets },
  { id: 'on-the-car', sheets: onTheCarSheets },
  { id: 'offering-up', sheets: offeringUpSheets },
  { id: 'mock-up', sheets: mockUpSheets },
]
