import type { PaperName } from '../context.ts'
import type { Sheet } from '../sheet.ts'

export type Orientation = Sheet['orientation']

/** Points of a PDF in a millimetre, exactly what makes 1 : 1 come true. */
export const pointsPerMm = 72 / 25.4

/** Portrait, mm. A4 and A3 by ISO 216; Letter is 8 1/2 by 11 inches (ASME Y14.1, from memory). */
const papers: Record<PaperName, { readonly width: number; readonly height: number }> = {
  A4: { width: 210, height: 297 },
  A3: { width: 297, height: 420 },
  Letter: { width: 215.9, height: 279.4 },
}

/** Left free on each side of every page, mm; head and foot stand in those above and below. Desk printers reach 5 mm. */
export const margins = { left: 10, top: 16, right: 10, bottom: 27 } as const

/** Of the page, mm. */
export function pageSize(paper: PaperName, orientation: Orientation): { width: number; height: number } {
  const { width, height } = papers[paper]
  return orientation === 'portrait' ? { width, height } : { width: height, height: width }
}

/** Room between the margins, head and foot of a page, mm. */
export const roomOf =
  (paper: PaperName) =>
  (orientation: Orientation): { width: number; height: number } => {
    const { width, height } = pageSize(paper, orientation)
    return { width: width - margins.left - margins.right, height: height - margins.top - margins.bottom }
  }
