import type { Share } from './convexSight.ts'

/** Shares of a line as few that do not meet, in order. Shares nearer to each other than `within` become one. */
export function joinedShares(shares: readonly Share[], within = 1e-9): Share[] {
  const ordered = [...shares].sort((a, b) => a[0] - b[0])
  const joined: [number, number][] = []
  for (const [from, to] of ordered) {
    const last = joined.at(-1)
    if (last && from <= last[1] + within) last[1] = Math.max(last[1], to)
    else joined.push([from, to])
  }
  return joined
}

/** What is left of a share without some others, which are joined and in order. */
export function withoutShares([from, to]: Share, others: readonly Share[], least = 1e-9): Share[] {
  const left: Share[] = []
  let at = from
  for (const [start, end] of others) {
    if (start - at > least) left.push([at, Math.min(start, to)])
    at = Math.max(at, end)
    if (at >= to) break
  }
  if (to - at > least) left.push([at, to])
  return left.filter(([a, b]) => b - a > least)
}
