import type { SheetsWish } from '../state/sheets.ts'

const key = 'gapwright-paper'

/** What a shop has once for all its sheets; the first of each at the start. */
const kept: { readonly [K in 'paper' | 'projection' | 'separator']: readonly SheetsWish[K][] } = {
  paper: ['A4', 'A3', 'Letter'],
  projection: ['first-angle', 'third-angle'],
  separator: [',', ';', '\t'],
}

/** Paper, projection and separator as they were chosen last; all else anew. Where nothing can be remembered, A4. */
export function rememberedWish(): SheetsWish {
  const before = rememberedText()
  const of = <T>(choices: readonly T[], value: unknown): T => choices.find((choice) => choice === value) ?? choices[0]
  return {
    paper: of(kept.paper, before.paper),
    projection: of(kept.projection, before.projection),
    separator: of(kept.separator, before.separator),
    units: null,
    scale: null,
    revision: 'A',
    date: null,
    sheets: null,
  }
}

function rememberedText(): Partial<Record<keyof typeof kept, unknown>> {
  try {
    const value: unknown = JSON.parse(localStorage.getItem(key) ?? '{}')
    return typeof value === 'object' && value !== null ? value : {}
  } catch {
    return {}
  }
}

export function rememberPaper({ paper, projection, separator }: SheetsWish): void {
  try {
    localStorage.setItem(key, JSON.stringify({ paper, projection, separator }))
  } catch {
    // A private window keeps nothing; the choice holds for as long as it is open.
  }
}
