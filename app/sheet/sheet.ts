import type { Figure } from '../../core/sheet/figure/figure.ts'

/** What a cell holds beside its text; lengths mm, angles degrees, masses kg, pressures Pa, volumes mm³. */
export type Quantity = 'length' | 'angle' | 'mass' | 'pressure' | 'volume' | 'count' | 'text'

export interface Column {
  /** Of the CSV's head, kebab-case. */
  readonly id: string
  /** As printed, unit included where the column has one. */
  readonly head: string
  readonly quantity: Quantity
  readonly align?: 'left' | 'right'
  /** Share of the free width, default 1; 0 takes what the text needs. */
  readonly wide?: number
}

export interface Cell {
  /** As printed, rounded to the safe side. */
  readonly text: string
  /** Unrounded; left out where the text is all there is. Null prints as a dash and is empty in the CSV. */
  readonly value?: number | null
  /** Of a verdict: gets its mark and pattern beside the word. */
  readonly verdict?: 'clears' | 'unproved' | 'short' | 'fouls'
}

export interface Table {
  /** Of the file: TABLE-ID.csv. */
  readonly id: string
  readonly columns: readonly Column[]
  readonly rows: readonly (readonly Cell[])[]
  /** Height of a row at least, mm: room to write in. */
  readonly rowHeight?: number
}

export type Block =
  | { readonly kind: 'heading'; readonly text: string; readonly level: 1 | 2 }
  | { readonly kind: 'text'; readonly text: string; readonly tone?: 'plain' | 'caution' | 'small' | 'strong' }
  | { readonly kind: 'list'; readonly items: readonly string[]; readonly numbered?: boolean }
  /** Names and what they are, in two columns. */
  | { readonly kind: 'facts'; readonly rows: readonly (readonly [name: string, what: string])[] }
  | { readonly kind: 'table'; readonly table: Table }
  | { readonly kind: 'figure'; readonly figure: Figure; readonly caption?: string }
  /** Small pictures beside each other. */
  | {
      readonly kind: 'figures'
      readonly across: number
      readonly items: readonly { readonly figure: Figure; readonly caption: string }[]
    }
  /** A page of its own: the figure fills the room that `SheetContext.room` gives, at its true scale. */
  | {
      readonly kind: 'page'
      readonly figure: Figure
      readonly title: string
      readonly orientation: 'portrait' | 'landscape'
    }
  /** Lines to write name, date and signature on. */
  | { readonly kind: 'sign'; readonly lines: readonly string[] }
  | { readonly kind: 'break' }

/** All kinds of sheet, in the order in which a set is read. */
export const sheetIds = ['overview', 'core-and-tanks', 'pipe', 'gaps', 'on-the-car', 'offering-up', 'mock-up'] as const
export type SheetId = (typeof sheetIds)[number]

/** One sheet of the set: what it says, in order, before it is laid out on paper. */
export interface Sheet {
  readonly id: SheetId
  /** Tells sheets of one kind apart: the pipe's id. */
  readonly of?: string
  readonly title: string
  readonly orientation: 'portrait' | 'landscape'
  readonly blocks: readonly Block[]
  /** Flat outlines and templates that also go out as DXF, at 1 : 1 in mm, y up. */
  readonly flats?: readonly Figure[]
}
