import type { SheetKind } from '../context.ts'
import type { SheetId } from '../sheet.ts'

interface ListedKind {
  readonly id: SheetId
  readonly sheets: SheetKind
}

/** Every kind of sheet, in the order in which a set is read. A new one is a file and a line here. */
export const sheetKinds: readonly ListedKind[] = []
