/** Advance widths of DejaVu Sans Condensed in thousandths of its size, read off the face and rounded up to steps of 25. */
const widths: ReadonlyMap<string, number> = new Map(
  (
    [
      ["'ijlIJ", 275],
      [' ,.·-/:;\\f|', 325],
      ['″!()[]rt²³', 375],
      ['"*_`°–', 450],
      ['sz?c', 500],
      ['FLkPTYvxy⌀', 550],
      ['$0123456789ESabdeghnopqu{}K', 600],
      ['ABRVXZC', 650],
      ['NUDGH', 700],
      ['&OQw', 750],
      ['#+<=>^~±×−≤≥M', 800],
      ['%½@Wm…', 900],
    ] as const
  ).flatMap(([signs, width]) => [...signs].map((sign) => [sign, width] as const)),
)
/** Of signs that are not in the table: as wide as any. */
const widest = 1000
/** The face's bold letters are wider by no more than this. */
const boldly = 1.2
/** Height of its capitals in thousandths. */
const capitals = 729

/**
 * How wide a text comes out at most, mm.
 * @param size height of capitals, mm
 */
export function textWidth(text: string, size: number, bold = false): number {
  let sum = 0
  for (const sign of text) sum += widths.get(sign) ?? widest
  return (sum * size * (bold ? boldly : 1)) / capitals
}
