import { orient2d } from 'robust-predicates'
import { bad, type Fault, good, type Outcome } from '../fault.ts'
import { resolved } from './polytope.ts'

/** Corner of a sweep's section: u across, v along `up`, mm. */
export type SectionPoint = readonly [number, number]

/** A checked section: its corners counter-clockwise, and convex pieces of it as loops of corner numbers. */
export interface Section {
  readonly corners: readonly SectionPoint[]
  readonly pieces: readonly (readonly number[])[]
}

/** Positive where a, b, c turn left; exact sign. The library's own sign is the other way round. */
const left = (a: SectionPoint, b: SectionPoint, c: SectionPoint): number =>
  -orient2d(a[0], a[1], b[0], b[1], c[0], c[1])

/**
 * Checks a section and cuts it into convex pieces that share whole edges.
 * @param given polygon, either direction, mm; corners on a straight run are dropped
 * @returns faults 'repeated-point' (two corners at one place), 'zero-area', 'self-crossing' (edges meet or touch), with
 *          the corner numbers as typed. All tests are exact.
 */
export function readSection(given: readonly SectionPoint[], field: string): Outcome<Section> {
  const points = given.map(([u, v]): SectionPoint => [resolved(u), resolved(v)])
  const repeated = repeatedPoint(points)
  if (repeated)
    return bad({
      code: 'repeated-point',
      field: `${field}[${repeated[1]}]`,
      expected: 'corners at different places',
      got: repeated,
    })
  if (points.every((p) => left(points[0], points[1], p) === 0))
    return bad({ code: 'zero-area', field, expected: 'corners that do not lie on one line' })
  const crossing = selfCrossing(points, field)
  if (crossing) return bad(crossing)

  const corners = counterClockwise(points).filter(
    (p, i, all) => left(all.at(i - 1) as SectionPoint, p, all[(i + 1) % all.length]) !== 0,
  )
  return good({ corners, pieces: convexPieces(corners) })
}

function repeatedPoint(points: readonly SectionPoint[]): [number, number] | null {
  const first = new Map<string, number>()
  for (const [i, p] of points.entries()) {
    const key = p.join()
    const before = first.get(key)
    if (before !== undefined) return [before, i]
    first.set(key, i)
  }
  return null
}

/** First pair of edges that meet where they should not, as a fault; edges are numbered by their first corner. */
function selfCrossing(points: readonly SectionPoint[], field: string): Fault | null {
  const n = points.length
  for (let i = 0; i < n; i++)
    for (let j = i + 1; j < n; j++) {
      const [a, b, c, d] = [points[i], points[(i + 1) % n], points[j], points[(j + 1) % n]]
      const meet = j === i + 1 ? foldsBack(a, b, d) : i === 0 && j === n - 1 ? foldsBack(c, a, b) : touches(a, b, c, d)
      if (!meet) continue
      const edges = [i, j].map((k) => [k, (k + 1) % n])
      return { code: 'self-crossing', field, expected: 'edges that do not cross or touch', got: { edges } }
    }
  return null
}

/** Whether the edge b → c runs back over the edge a → b. */
const foldsBack = (a: SectionPoint, b: SectionPoint, c: SectionPoint): boolean =>
  left(a, b, c) === 0 && (between(a, c, b) || between(c, a, b))

/** For p on the line of a and b: whether it lies on the segment. */
const between = (p: SectionPoint, a: SectionPoint, b: SectionPoint): boolean =>
  Math.min(a[0], b[0]) <= p[0] &&
  p[0] <= Math.max(a[0], b[0]) &&
  Math.min(a[1], b[1]) <= p[1] &&
  p[1] <= Math.max(a[1], b[1])

/** Whether the closed segments ab and cd have a point in common. */
function touches(a: SectionPoint, b: SectionPoint, c: SectionPoint, d: SectionPoint): boolean {
  const [abc, abd, cda, cdb] = [left(a, b, c), left(a, b, d), left(c, d, a), left(c, d, b)].map(Math.sign)
  if (abc * abd < 0 && cda * cdb < 0) return true
  return (
    (abc === 0 && between(c, a, b)) ||
    (abd === 0 && between(d, a, b)) ||
    (cda === 0 && between(a, c, d)) ||
    (cdb === 0 && between(b, c, d))
  )
}

/** The lowest of the leftmost corners turns left in a counter-clockwise polygon: exact, unlike a sum of areas. */
function counterClockwise(points: readonly SectionPoint[]): SectionPoint[] {
  const n = points.length
  let at = 0
  for (let i = 1; i < n; i++)
    if (points[i][0] < points[at][0] || (points[i][0] === points[at][0] && points[i][1] < points[at][1])) at = i
  return left(points[(at + n - 1) % n], points[at], points[(at + 1) % n]) > 0 ? [...points] : [...points].reverse()
}

/** Ear clipping, then dropping every cut that both its ends can spare (Hertel and Mehlhorn): at most 4 × the fewest. */
function convexPieces(corners: readonly SectionPoint[]): number[][] {
  const pieces = triangulate(corners)
  // A cut that cannot go now can never go later: joining only widens the angles at its ends. So one pass is enough.
  for (let i = 0; i < pieces.length; i++)
    for (let j = i + 1; j < pieces.length; j++) {
      const loop = joinedLoop(pieces[i], pieces[j])
      if (!loop || !isConvex(loop.map((k) => corners[k]))) continue
      pieces[i] = loop
      pieces.splice(j, 1)
      j = i
    }
  return pieces
}

const isConvex = (loop: readonly SectionPoint[]): boolean =>
  loop.every((p, i) => left(loop.at(i - 1) as SectionPoint, p, loop[(i + 1) % loop.length]) > 0)

/** Two loops with a common edge as one loop, or null. */
function joinedLoop(a: readonly number[], b: readonly number[]): number[] | null {
  for (let i = 0; i < a.length; i++) {
    const j = b.indexOf(a[(i + 1) % a.length])
    if (j < 0 || b[(j + 1) % b.length] !== a[i]) continue
    const restOf = (loop: readonly number[], from: number) => loop.map((_, k) => loop[(from + k) % loop.length])
    return [...restOf(a, i + 1), ...restOf(b, j + 2).slice(0, b.length - 2)]
  }
  return null
}

/**
 * Triangles of a simple polygon without corners on straight runs. An ear is a left turn whose closed triangle holds no
 * other corner; with exact tests one is always left (two-ears theorem), also when clipping has made straight runs.
 */
function triangulate(corners: readonly SectionPoint[]): number[][] {
  const ring = corners.map((_, i) => i)
  const triangles: number[][] = []
  while (ring.length > 3) {
    const ear = ring.findIndex((_, i) => isEar(corners, ring, i))
    if (ear < 0) throw new Error(`no ear in a simple polygon: ${JSON.stringify(corners)}`)
    triangles.push([ring.at(ear - 1) as number, ring[ear], ring[(ear + 1) % ring.length]])
    ring.splice(ear, 1)
  }
  return [...triangles, ring]
}

function isEar(corners: readonly SectionPoint[], ring: readonly number[], i: number): boolean {
  const ear = [ring.at(i - 1) as number, ring[i], ring[(i + 1) % ring.length]]
  const [a, b, c] = ear.map((k) => corners[k])
  if (left(a, b, c) <= 0) return false
  return ring.every((k) => {
    const p = corners[k]
    return ear.includes(k) || left(a, b, p) < 0 || left(b, c, p) < 0 || left(c, a, p) < 0
  })
}
