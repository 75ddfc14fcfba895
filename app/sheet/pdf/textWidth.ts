/** Advance widths of DejaVu Sans Condensed by classes of signs, in thousandths of the size; read off the face, upper ends. */
const classes: readonly (readonly [RegExp, number])[] = [
  [/[ijl.,:;|'!·]/, 304],
  [/[\s()[\]/fIJrt\-–°]/, 400],
  [/[MW—…%@⌀″]/, 900],
  [/[A-Zmw&+=<>≥≤±×−#~]/, 760],
]
const other = 575

/**
 * How wide a text comes out, pt; a little more than it takes, since it decides which columns can be narrow.
 * @param size pt
 */
export function textWidth(text: string, size: number, bold = false): number {
  let sum = 0
  for (const sign of text) sum += classes.find(([of]) => of.test(sign))?.[1] ?? other
  return (sum * size * (bold ? 1.12 : 1)) / 1000
}

/** As much of a text as a line of this width takes, with … where some was left off. */
export function cropped(text: string, width: number, size: number): string {
  if (textWidth(text, size) <= width) return text
  let short = [...text]
  while (short.length > 1 && textWidth(`${short.join('')}…`, size) > width) short = short.slice(0, -1)
  return `${short.join('').trimEnd()}…`
}
