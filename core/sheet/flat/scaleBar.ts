import type { FigureItem, Paper } from '../figure/figure.ts'

/** Length of the bar by which a full-size print is checked, mm. */
export const barLength = 100
/** Height that bar, ticks and words take, mm. */
export const barHeight = 9

/**
 * A bar of exactly 100 mm with a mark every 10, to lay a rule on: a print that was fitted to the page is found out.
 * @param at its left end, lower rim
 * @param words beside it, such as what to do when it is not 100 mm
 */
export function scaleBar([x, y]: Paper, words: readonly string[]): FigureItem[] {
  const name = 'scale-check'
  const tick = (k: number): FigureItem => ({
    kind: 'line',
    stroke: 'thin',
    name,
    points: [
      [x + 10 * k, y],
      [x + 10 * k, y - (k % 5 === 0 ? 5 : 3)],
    ],
  })
  return [
    {
      kind: 'line',
      stroke: 'outline',
      name,
      points: [
        [x, y],
        [x + barLength, y],
      ],
    },
    ...Array.from({ length: barLength / 10 + 1 }, (_, k) => tick(k)),
    ...words.map(
      (text, k): FigureItem => ({
        kind: 'text',
        at: [x + barLength + 4, y - 1 - 4 * (words.length - 1 - k)],
        text,
        size: k === 0 ? 2.5 : 1.8,
        anchor: 'start',
      }),
    ),
  ]
}
