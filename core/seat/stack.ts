/** What a size or place may be off by, mm either way. */
export interface Contribution {
  /** What it belongs to. */
  readonly of: 'mount' | 'part' | 'fixing'
  /** Id of the mount or fixing, name of the part. */
  readonly name: string
  /** Half width of the limits; or the expanded uncertainty, k = 2. */
  readonly limit: number
  /** 'limits': anywhere between them, as manufacture leaves it; 'measured': an expanded uncertainty. */
  readonly spread: 'limits' | 'measured'
  /** Taken from defaults and not from the bay. */
  readonly assumed?: boolean
}

/** How contributions add up, mm. */
export interface Stack {
  /** All at their limits at once. */
  readonly worstCase: number
  /** Root of the sum of the squared limits: holds where they are independent and seldom at their limits. */
  readonly rootSumSquare: number
  /** Expanded uncertainty, k = 2: limits as rectangular, measured ones as they are. */
  readonly expanded: number
}

/**
 * Tolerances and uncertainties in one chain.
 * @returns zeros for no contributions
 * Source: worst case and root-sum-square of limits are common practice; standard uncertainty of a rectangular spread is its
 *   half width by √3, and u_c the root of the sum of squares: JCGM 100:2008, 4.3.7 and 5.1.2.
 */
export function stackOf(contributions: readonly Pick<Contribution, 'limit' | 'spread'>[]): Stack {
  const limits = contributions.map(({ limit }) => limit)
  const standard = contributions.map(({ limit, spread }) => (spread === 'limits' ? limit / Math.sqrt(3) : limit / 2))
  return {
    worstCase: limits.reduce((sum, limit) => sum + limit, 0),
    rootSumSquare: Math.hypot(...limits),
    expanded: 2 * Math.hypot(...standard),
  }
}

/** Which contribution to better first, and how far. */
export interface Improvement {
  readonly of: Contribution['of']
  readonly name: string
  readonly from: number
  /** With which the worst case just holds, the others as they are; 0 where even that is not enough. */
  readonly to: number
  readonly enough: boolean
}

/**
 * @param missing how much the worst case is short by, mm, above 0
 * @returns the largest contribution, the measured one of two alike; null where there is none
 */
export function improvementOf(contributions: readonly Contribution[], missing: number): Improvement | null {
  const ranked = [...contributions]
    .filter(({ limit }) => limit > 0)
    .sort((a, b) => b.limit - a.limit || Number(b.spread === 'measured') - Number(a.spread === 'measured'))
  const [largest] = ranked
  if (!largest) return null
  const { of, name, limit } = largest
  return { of, name, from: limit, to: Math.max(0, limit - missing), enough: missing <= limit }
}
