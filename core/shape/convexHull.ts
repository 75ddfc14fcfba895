import { orient3d } from 'robust-predicates'

/**
 * Triangles of the convex hull of points, found with exact orientation tests: no tolerance decides what is outside.
 * (The general-purpose hull libraries at hand merge and drop points within a tolerance of their own and may throw
 * while merging; a keep-out must never lose a corner.)
 * @param points x, y, z after each other, no two equal; each coordinate 0 or between 1e-60 and 1e60 in size, so that
 *        no product underflows
 * @returns outward triangles (three point numbers each), or null where all points lie exactly in one plane.
 *          Coplanar triangles are left apart; points inside faces and edges may be corners of triangles.
 * Method: C. B. Barber, D. P. Dobkin, H. Huhdanpaa, The Quickhull Algorithm for Convex Hulls, ACM TOMS 22 (1996), from
 * memory; coplanar counts as not visible, so every horizon is a simple loop and no new triangle has zero area.
 */
export function convexHull(points: Float64Array): number[] | null {
  const first = firstSimplex(points)
  if (!first) return null
  const hull = new Hull(points)
  hull.start(first)
  let facet = hull.nextToDo()
  while (facet) {
    hull.addPoint(facet)
    facet = hull.nextToDo()
  }
  return hull.triangles()
}

interface Facet {
  readonly corners: readonly [number, number, number]
  /** Neighbour across the edge from corner k to corner k + 1. */
  readonly across: [Facet, Facet, Facet]
  /** Points strictly outside that no other facet has charge of, and the farthest of them. */
  readonly outside: number[]
  farthest: number
  reach: number
  alive: boolean
  seenFrom: number
}

/** Positive where point p lies strictly outside the plane of a, b, c (counter-clockwise seen from outside); exact sign. */
export function above(points: Float64Array, a: number, b: number, c: number, p: number): number {
  const [i, j, k, l] = [3 * a, 3 * b, 3 * c, 3 * p]
  // Library's sign: negative where a, b, c run counter-clockwise seen from p.
  return -orient3d(
    points[i],
    points[i + 1],
    points[i + 2],
    points[j],
    points[j + 1],
    points[j + 2],
    points[k],
    points[k + 1],
    points[k + 2],
    points[l],
    points[l + 1],
    points[l + 2],
  )
}

/** Four points that span a volume, large where possible; null where none do. */
function firstSimplex(points: Float64Array): [number, number, number, number] | null {
  const n = points.length / 3
  let a = 0
  for (let i = 1; i < n; i++) if (points[3 * i] < points[3 * a]) a = i
  const b = best(n, (i) => squareDistance(points, a, i))
  const c = best(n, (i) => lineArea(points, a, b, i))
  let d = best(n, (i) => Math.abs(above(points, a, b, c, i)))
  if (above(points, a, b, c, d) !== 0) return [a, b, c, d]
  // Rounding may have called nearly collinear points collinear: look through the pairs exactly before giving up.
  for (let i = 0; i < n; i++) {
    d = best(n, (j) => Math.abs(above(points, a, b, i, j)))
    if (above(points, a, b, i, d) !== 0) return [a, b, i, d]
  }
  return null
}

function best(n: number, measure: (i: number) => number): number {
  let [at, most] = [0, -1]
  for (let i = 0; i < n; i++) {
    const m = measure(i)
    if (m > most) [at, most] = [i, m]
  }
  return at
}

function squareDistance(points: Float64Array, a: number, b: number): number {
  let sum = 0
  for (let k = 0; k < 3; k++) sum += (points[3 * b + k] - points[3 * a + k]) ** 2
  return sum
}

function lineArea(points: Float64Array, a: number, b: number, c: number): number {
  const d = (i: number, k: number) => points[3 * i + k] - points[3 * a + k]
  let sum = 0
  for (let k = 0; k < 3; k++) {
    const l = (k + 1) % 3
    sum += (d(b, k) * d(c, l) - d(b, l) * d(c, k)) ** 2
  }
  return sum
}

class Hull {
  private readonly points: Float64Array
  private readonly facets: Facet[] = []
  private toDo: Facet[] = []

  constructor(points: Float64Array) {
    this.points = points
  }

  start([a, b, c, d]: [number, number, number, number]): void {
    const [p, q] = above(this.points, a, b, c, d) > 0 ? [c, b] : [b, c]
    const base = this.facet(a, p, q)
    const sides = [this.facet(p, a, d), this.facet(q, p, d), this.facet(a, q, d)]
    for (let k = 0; k < 3; k++) {
      base.across[k] = sides[k]
      sides[k].across[0] = base
      // Side k runs from corner k + 1 to corner k, then to d.
      sides[k].across[1] = sides[(k + 2) % 3]
      sides[k].across[2] = sides[(k + 1) % 3]
    }
    const all = [base, ...sides]
    for (let i = 0; 3 * i < this.points.length; i++) if (i !== a && i !== b && i !== c && i !== d) this.giveTo(all, i)
    this.queue(all)
  }

  nextToDo(): Facet | undefined {
    while (this.toDo.length > 0) {
      const facet = this.toDo[this.toDo.length - 1]
      if (facet.alive && facet.outside.length > 0) return facet
      this.toDo.pop()
    }
    return undefined
  }

  /** Adds the farthest outside point of a facet: what it sees goes, a fan to the horizon comes. */
  addPoint(from: Facet): void {
    const p = from.farthest
    const seen = this.visible(from, p)
    const fan = this.fan(seen, p)
    for (const facet of seen) for (const i of facet.outside) if (i !== p) this.giveTo(fan, i)
    this.queue(fan)
  }

  triangles(): number[] {
    return this.facets.filter((f) => f.alive).flatMap((f) => f.corners)
  }

  private facet(a: number, b: number, c: number): Facet {
    const made = {
      corners: [a, b, c],
      outside: [],
      farthest: -1,
      reach: 0,
      alive: true,
      seenFrom: -1,
    } as unknown as Facet
    ;(made as { across: Facet['across'] }).across = [made, made, made]
    this.facets.push(made)
    return made
  }

  private visible(from: Facet, p: number): Facet[] {
    from.seenFrom = p
    const seen = [from]
    for (let i = 0; i < seen.length; i++) {
      seen[i].alive = false
      for (const next of seen[i].across) {
        if (next.seenFrom === p || above(this.points, ...next.corners, p) <= 0) continue
        next.seenFrom = p
        seen.push(next)
      }
    }
    return seen
  }

  private fan(seen: readonly Facet[], p: number): Facet[] {
    const fan: Facet[] = []
    const byStart = new Map<number, Facet>()
    for (const facet of seen)
      for (let k = 0; k < 3; k++) {
        const beyond = facet.across[k]
        if (beyond.seenFrom === p) continue
        const [a, b] = [facet.corners[k], facet.corners[(k + 1) % 3]]
        const made = this.facet(a, b, p)
        made.across[0] = beyond
        beyond.across[beyond.corners.indexOf(b)] = made
        byStart.set(a, made)
        fan.push(made)
      }
    for (const made of fan) {
      const next = byStart.get(made.corners[1])
      if (!next) throw new Error(`horizon is not a loop: ${JSON.stringify([...this.points])}`)
      made.across[1] = next
      next.across[2] = made
    }
    return fan
  }

  private giveTo(facets: readonly Facet[], i: number): void {
    for (const facet of facets) {
      const reach = above(this.points, ...facet.corners, i)
      if (reach <= 0) continue
      facet.outside.push(i)
      if (reach > facet.reach) [facet.farthest, facet.reach] = [i, reach]
      return
    }
  }

  private queue(facets: readonly Facet[]): void {
    for (const facet of facets) if (facet.outside.length > 0) this.toDo.push(facet)
  }
}
