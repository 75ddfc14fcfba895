import type { SettingsWish } from '../../sheet/settings.ts'

const key = 'gapwright-paper'

/** What a shop has once for all its sheets, with what it can be. */
const kept: { readonly [K in 'paper' | 'projection' | 'separator' | 'decimal' | 'mark']: readonly SettingsWish[K][] } =
  {
    paper: ['A4', 'A3', 'Letter'],
    projection: ['first-angle', 'third-angle'],
    separator: [',', ';', '\t'],
    decimal: ['.', ','],
    mark: [false, true],
  }

/** What was chosen last of that; all else follows from the bay. */
export function rememberedWish(): SettingsWish {
  const before = rememberedText()
  const names = Object.keys(kept) as (keyof typeof kept)[]
  return Object.fromEntries(
    names.filter((name) => (kept[name] as unknown[]).includes(before[name])).map((name) => [name, before[name]]),
  )
}

function rememberedText(): Record<string, unknown> {
  try {
    const value: unknown = JSON.parse(localStorage.getItem(key) ?? '{}')
    return typeof value === 'object' && value !== null ? (value as Record<string, unknown>) : {}
  } catch {
    return {}
  }
}

export function rememberPaper({ paper, projection, separator, decimal, mark }: SettingsWish): void {
  try {
    localStorage.setItem(key, JSON.stringify({ paper, projection, separator, decimal, mark }))
  } catch {
    // A private window keeps nothing; the choice holds for as long as it is open.
  }
}
