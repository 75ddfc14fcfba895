/** Paper to true size: 1 : 5 is {paper: 1, real: 5}. */
export interface Scale {
  readonly paper: number
  readonly real: number
}

/** Reductions that drawings are asked for in, 1 : this. */
export const reductions: readonly number[] = [1, 2, 5, 10, 20, 50, 100]

/** The scales of drawings, the largest first. Source: ISO 5455, from memory. */
export const standardScales: readonly Scale[] = [
  ...[50, 20, 10, 5, 2].map((paper) => ({ paper, real: 1 })),
  ...[...reductions, 200, 500, 1000].map((real) => ({ paper: 1, real })),
]

export const shareOf = ({ paper, real }: Scale): number => paper / real

export interface ChosenScale {
  readonly scale: Scale
  /** The one that was asked for, where it does not fit. */
  readonly instead?: Scale
}

/**
 * The scale that is asked for where it fits, else the next smaller standard one that does; the largest that fits where none
 * is asked for, but never an enlargement beyond 1 : 1.
 * @param asked 1 : this
 * @returns the smallest there is where none fits
 */
export function scaleFor(asked: number | null, fits: (scale: Scale) => boolean): ChosenScale {
  const wanted = asked === null ? { paper: 1, real: 1 } : { paper: 1, real: asked }
  if (asked !== null && fits(wanted)) return { scale: wanted }
  const smaller = standardScales.filter((scale) => shareOf(scale) <= shareOf(wanted))
  const scale = smaller.find(fits) ?? standardScales[standardScales.length - 1]
  return asked === null ? { scale } : { scale, instead: wanted }
}
