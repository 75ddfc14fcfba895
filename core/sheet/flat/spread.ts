import type { FigureItem, FigureLine, Paper, Stroke } from '../figure/figure.ts'
import type { Flat } from '../drawing/view.ts'

/** What is printed in true size and may be larger than any page, mm: x to the right, y down, from its upper left corner. */
export interface Spread {
  readonly width: number
  readonly height: number
  readonly lines: readonly SpreadLine[]
  /** Plain ink: arrow heads. */
  readonly marks: readonly (readonly Paper[])[]
  readonly texts: readonly SpreadText[]
  /** Convex regions that are named on every page where enough of them is to be seen. */
  readonly labels: readonly { readonly loop: readonly Paper[]; readonly lines: readonly string[] }[]
}

export interface SpreadLine {
  readonly stroke: Stroke
  readonly points: readonly Paper[]
  readonly closed?: boolean
  /** As of a figure's line; lost where only a part of it is shown. */
  readonly round?: FigureLine['round']
}

/** Stands about its middle. */
export interface SpreadText {
  readonly at: Paper
  readonly text: string
  /** Height of capitals, mm. */
  readonly size: number
  /** Degrees, counter-clockwise. */
  readonly turn: number
}

/** Height of capitals on patterns, mm. Source: ISO 3098, from memory. */
export const patternText = 3.5

/** Room that a text takes along its line at most, mm: letters of a condensed face are narrower than three quarters of its capitals' height. */
export const textLength = (text: string, size: number): number => 0.75 * size * text.length

/** Degrees at which letters along a line of this turn are not upside down. */
export function readable(degrees: number): number {
  const turn = ((degrees % 360) + 360) % 360
  return turn > 90.001 && turn <= 270.001 ? turn - 180 : turn > 270.001 ? turn - 360 : turn
}

/** Half the sides of the upright rectangle round a turned text. */
export function textHalves({ text, size, turn }: Pick<SpreadText, 'text' | 'size' | 'turn'>): Flat {
  const [s, c] = [Math.abs(Math.sin((turn * Math.PI) / 180)), Math.abs(Math.cos((turn * Math.PI) / 180))]
  const [long, high] = [textLength(text, size) / 2, size * 0.8]
  return [long * c + high * s, long * s + high * c]
}

/** As an item of a figure, its middle at `at`: the base line lies half a capital below it. */
export function textItem({ at, text, size, turn }: SpreadText, bold = false): FigureItem {
  const rad = (turn * Math.PI) / 180
  const drop = size / 2
  const base: Paper = [at[0] + drop * Math.sin(rad), at[1] + drop * Math.cos(rad)]
  return { kind: 'text', at: base, text, size, anchor: 'middle', turn, ...(bold && { bold }) }
}

/** Parts of a drawing in the plane, y up, put on paper: the upper left corner of all of them comes to `margin`, `margin`. */
export function onPaper(points: readonly Flat[], margin: number) {
  const xs = points.map(([x]) => x)
  const ys = points.map(([, y]) => y)
  const [left, top] = [Math.min(...xs) - margin, Math.max(...ys) + margin]
  return {
    width: Math.max(...xs) + margin - left,
    height: top - Math.min(...ys) + margin,
    place: ([x, y]: Flat): Paper => [x - left, top - y],
  }
}
