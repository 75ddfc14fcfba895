import type { DrawnThing } from '../../core/sheet/drawing/drawing.ts'
import type { Projection } from '../../core/sheet/figure/arrange.ts'
import type { SheetFacts } from '../../core/sheet/facts/sheetFacts.ts'
import type { PeopleUnits } from '../../core/units/lengthText.ts'
import type { Sheet } from './sheet.ts'

export type PaperName = 'A4' | 'A3' | 'Letter'
export type { Projection }

/** What a kind of sheet is made from. */
export interface SheetContext {
  readonly facts: SheetFacts
  /** What is drawn, parts and keep-outs. */
  readonly things: readonly DrawnThing[]
  readonly units: PeopleUnits
  readonly paper: PaperName
  readonly projection: Projection
  /** 1 : this, where it fits; null takes the largest standard scale that fits. */
  readonly scale: number | null
  /** Room between the margins, head and foot of a page, mm. */
  readonly room: (orientation: Sheet['orientation']) => { readonly width: number; readonly height: number }
}

/** A kind of sheet: one file in kinds/, one line in kinds/all.ts. None where the candidate has nothing to say there. */
export type SheetKind = (context: SheetContext) => readonly Sheet[]
