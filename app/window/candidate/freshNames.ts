/** An id that is not taken: the base itself, else with a number behind it. */
export const freshId = (taken: readonly string[], base: string): string =>
  firstFree(taken, (n) => (n === 1 ? base : `${base}-${n}`))

/** An id from what people call something: small letters, digits and hyphens; the base where nothing of that is left. */
export function idFrom(name: string, taken: readonly string[], base: string): string {
  const plain = name
    .normalize('NFD')
    .replace(/\p{M}/gu, '')
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-')
    .replace(/^-+|-+$/g, '')
    .slice(0, 60)
  return freshId(taken, plain === '' ? base : plain)
}

/** A name that is not taken; `nth` is asked with 1, 2, 3 … */
export const freshName = (taken: readonly string[], nth: (n: number) => string): string => firstFree(taken, nth)

/** Ends after one more than there are names taken, since `nth` gives another one each time. */
function firstFree(taken: readonly string[], nth: (n: number) => string): string {
  for (let n = 1; n <= taken.length; n++) if (!taken.includes(nth(n))) return nth(n)
  return nth(taken.length + 1)
}
