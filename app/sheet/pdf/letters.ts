import { textWidth } from '../../../core/sheet/figure/textWidth.ts'

/** Height of the face's capitals, of its size. */
const capitals = 0.729

/**
 * How wide a text comes out at most: it decides which columns can be narrow.
 * @param size of the letters; the width is in the same unit
 */
export const lettersWidth = (text: string, size: number, bold = false): number => textWidth(text, size * capitals, bold)

/** As much of a text as a line of this width takes, with … where some was left off. */
export function cropped(text: string, width: number, size: number, bold = false): string {
  if (lettersWidth(text, size, bold) <= width) return text
  let short = [...text]
  while (short.length > 1 && lettersWidth(`${short.join('')}…`, size, bold) > width) short = short.slice(0, -1)
  return `${short.join('').trimEnd()}…`
}
