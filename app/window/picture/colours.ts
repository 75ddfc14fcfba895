import type { Verdict } from '../../../core/verdict/answer.ts'

/** A colour for each thing that is drawn. */
export interface Colours<Colour> {
  readonly paper: Colour
  readonly ink: Colour
  readonly keepOut: Colour
  readonly keepOutInk: Colour
  readonly part: Colour
  readonly partInk: Colour
  readonly verdict: Readonly<Record<Verdict, Colour>>
}

/** Colours as the style sheet writes them. */
export type Palette = Colours<string>
