import type { Theme } from './windowState.ts'

const key = 'gapwright-theme'

/** Light paper unless the user chose the dark one before. Where nothing can be remembered, light. */
export function firstTheme(): Theme {
  try {
    return localStorage.getItem(key) === 'dark' ? 'dark' : 'light'
  } catch {
    return 'light'
  }
}

export function rememberTheme(theme: Theme): void {
  try {
    localStorage.setItem(key, theme)
  } catch {
    // A private window keeps nothing; the choice holds for as long as it is open.
  }
}
