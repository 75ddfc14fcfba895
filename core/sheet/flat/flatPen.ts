import type { Flat } from '../drawing/view.ts'
import type { Paper } from '../figure/figure.ts'
import type { FaceName } from './flatBodies.ts'

export interface FlatWords {
  /** At a bend line; degrees by which the sheet is turned there, away from who looks. */
  readonly fold: (degrees: number) => string
  readonly face: (face: FaceName) => string
  readonly port: (port: string, diameter: number) => string
}

/** Heights of capitals, mm. Source: ISO 3098, from memory. */
export const flatText = 2.5

/** How a flat pattern is drawn: where its points come to lie on paper, and its words. */
export interface Pen {
  readonly on: (p: Flat) => Paper
  readonly length: (mm: number) => string
  readonly real: number
  readonly words: FlatWords
}
