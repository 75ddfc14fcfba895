import type { Figure, FigureItem } from '../figure/figure.ts'
import { patternText, type Spread, textItem } from './spread.ts'

/** A spread whole, at full size whatever that is: for files that have no pages. */
export function spreadFigure(id: string, { width, height, lines, marks, texts, labels }: Spread): Figure {
  const items: FigureItem[] = [
    ...lines.map((line): FigureItem => ({ kind: 'line', ...line })),
    ...marks.map((loop): FigureItem => ({ kind: 'area', fill: 'ink', loops: [loop] })),
    ...texts.map((text) => textItem(text)),
    ...labels.flatMap(({ loop, lines: named }) =>
      named.map((text, k) => {
        const [x, y] = [0, 1].map((axis) => loop.reduce((sum, point) => sum + point[axis], 0) / loop.length)
        const at = [x, y + (k - (named.length - 1) / 2) * patternText * 1.7] as const
        return textItem({ at, text, size: patternText, turn: 0 })
      }),
    ),
  ]
  return { id, width, height, scale: { paper: 1, real: 1 }, items }
}
