export type ToleranceClass = 'f' | 'm' | 'c' | 'v'

/** Up to which size, mm, each column of the table reaches; the first begins at 0.5. */
const upTo = [3, 6, 30, 120, 400, 1000, 2000, 4000] as const

/** ± mm. Source: ISO 2768-1, table 1, for sizes without a tolerance of their own. */
const linear: Readonly<Record<ToleranceClass, readonly (number | null)[]>> = {
  f: [0.05, 0.05, 0.1, 0.15, 0.2, 0.3, 0.5, null],
  m: [0.1, 0.1, 0.2, 0.3, 0.5, 0.8, 1.2, 2],
  c: [0.2, 0.3, 0.5, 0.8, 1.2, 2, 3, 4],
  v: [null, 0.5, 1, 1.5, 2.5, 4, 6, 8],
}

/** ± mm that a length may be off where its drawing says no more; null where the table has none, as for sizes below 0.5 mm. */
export function generalTolerance(mm: number, of: ToleranceClass): number | null {
  const column = mm < 0.5 ? -1 : upTo.findIndex((end) => mm <= end)
  return column < 0 ? null : linear[of][column]
}
