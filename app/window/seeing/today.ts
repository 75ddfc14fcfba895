/** Today as a drawing is dated: 2026-11-26. */
export const today = (): string => new Date().toLocaleDateString('sv-SE')
