import type { Role } from '../../bay/schema.ts'
import type { Scale } from './scales.ts'

/** A place on paper, mm: x to the right, y down, from the figure's upper left corner. */
export type Paper = readonly [x: number, y: number]

/**
 * Kinds of line by ISO 128-2 (from memory): `outline` 01.2 continuous wide, seen edges; `thin` 01.1 continuous narrow,
 * dimension and hatching lines; `hidden` 02.1 dashed narrow; `centre` 04.1 long-dashed dotted narrow; `neighbour` 05.1
 * long-dashed double-dotted narrow, what lies beside, comes off or moves; `fold` bend lines of a flat pattern; `cut` where
 * a flat pattern is cut; `hatch` narrower than all, of hatching.
 */
export type Stroke = 'outline' | 'thin' | 'hidden' | 'centre' | 'neighbour' | 'fold' | 'cut' | 'hatch'

export interface FigureLine {
  readonly kind: 'line'
  readonly stroke: Stroke
  readonly points: readonly Paper[]
  readonly closed?: boolean
  /** Of what it is part: a candidate's part or a keep-out; a layer of its own in files. */
  readonly name?: string
  /** The circle (`share` 1) or ellipse that a closed line's points lie on: `major` from its centre, half its longer axis. */
  readonly round?: { readonly centre: Paper; readonly major: Paper; readonly share: number }
}

export interface FigureArea {
  readonly kind: 'area'
  /** Filled by the non-zero rule. */
  readonly loops: readonly (readonly Paper[])[]
  /** Hatch by role, the part's own tint, or plain ink (arrow heads, scale bars). */
  readonly fill: Role | 'part' | 'ink' | 'paper'
  readonly name?: string
}

export interface FigureText {
  readonly kind: 'text'
  readonly at: Paper
  readonly text: string
  /** Height of capitals, mm (ISO 3098: 1.8, 2.5, 3.5, 5). */
  readonly size: number
  /** Which point of the text's base line lies at `at`. */
  readonly anchor: 'start' | 'middle' | 'end'
  /** Degrees, counter-clockwise. */
  readonly turn?: number
  readonly bold?: boolean
}

/** A dimension by ISO 129-1, ready placed. */
export interface FigureDimension {
  readonly kind: 'dimension'
  /** What it measures, for programs: `core width`, `gap core beam`. */
  readonly of: string
  /** The true value; what the file says of the model, whatever the text is rounded to. */
  readonly value: number
  readonly quantity: 'mm' | 'degrees'
  /** The two points that are measured. */
  readonly from: Paper
  readonly to: Paper
  /** Ends of the dimension line, with the arrows; extension lines run from `from` and `to` to it. */
  readonly line: readonly [Paper, Paper]
  readonly text: string
  /** Middle of the text's base line. */
  readonly textAt: Paper
  readonly textSize: number
  /** Degrees, counter-clockwise. */
  readonly turn: number
  /** From the dimension line to a text that stands away from it. */
  readonly leader?: readonly Paper[]
}

export type FigureItem = FigureLine | FigureArea | FigureText | FigureDimension

/** A drawing on paper, as data; drawn in this order. What is measured on it stands true to `scale`. */
export interface Figure {
  readonly id: string
  /** mm of paper */
  readonly width: number
  readonly height: number
  /** Paper to true size, 1 : 5 is {paper: 1, real: 5}; null for a picture that is not to be measured. */
  readonly scale: Scale | null
  /** The scale that was asked for, where it does not fit the paper and the next standard one was taken instead. */
  readonly scaleInstead?: Scale
  readonly items: readonly FigureItem[]
}
