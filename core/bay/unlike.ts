/**
 * An id made of a name, as the bay file wants ids: lower-case letters, digits and hyphens.
 * @param taken ids that it must not be
 * @returns `washer-bottle`, or `washer-bottle-2` where that is taken
 */
export function idOf(name: string, taken: readonly string[]): string {
  const plain = name
    .normalize('NFKD')
    .toLowerCase()
    .replace(/\p{M}/gu, '')
    .replace(/ß/g, 'ss')
    .replace(/[^a-z0-9]+/g, '-')
    .replace(/^-+|-+$/g, '')
    .slice(0, 60)
  const base = plain.replace(/-+$/, '') || 'item'
  return firstFree(taken, (n) => (n === 1 ? base : `${base}-${n}`))
}

/** `Box`, or `Box 2` where that is taken. */
export const nameLike = (name: string, taken: readonly string[]): string =>
  firstFree(taken, (n) => (n === 1 ? name : `${name} ${n}`))

function firstFree(taken: readonly string[], nth: (n: number) => string): string {
  const known = new Set(taken)
  for (let n = 1; ; n++) if (!known.has(nth(n))) return nth(n)
}
