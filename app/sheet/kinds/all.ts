import type { SheetKind } from '../context.ts'
import type { SheetId } from '../sheet.ts'
import { coreAndTanksSheets } from './coreAndTanks.ts'
import { gapSheets } from './gaps.ts'
import { mockUpSheets } from './mockUp.ts'
import { offeringUpSheets } from './offeringUp.ts'
import { onTheCarSheets } from './onTheCar.ts'
import { overviewSheets } from './overview.ts'
import { pipeSheets } from './pipe.ts'

/** Every kind of sheet. A new one is a file, a line here, and its id in `sheetIds`, which says where in a set it stands. */
export const sheetKinds: Readonly<Record<SheetId, SheetKind>> = {
  overview: overviewSheets,
  'core-and-tanks': coreAndTanksSheets,
  pipe: pipeSheets,
  gaps: gapSheets,
  'on-the-car': onTheCarSheets,
  'offering-up': offeringUpSheets,
  'mock-up': mockUpSheets,
}
