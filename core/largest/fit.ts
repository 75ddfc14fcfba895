import { keepOutSolids } from '../bay/keepOuts.ts'
import type { Meshes } from '../bay/part.ts'
import type { Bay, Candidate, Limits } from '../bay/schema.ts'
import { bad, type Fault, good, type Outcome } from '../fault.ts'
import { type Aim, sizesOf, valueAt } from './fitAim.ts'
import { FitEngine } from './fitEngine.ts'
import { candidateAt, dimension, type Faces, facesOf } from './fitFrame.ts'
import type { Row } from './fitProgram.ts'
import type { FaceBox } from './fitRule.ts'
import { type FitOptions, type FitResult, FitSearch } from './fitSearch.ts'

/** A box in the candidate's axes that the core has to stay in, mm. */
export interface WithinBox {
  readonly min: readonly [number, number, number]
  readonly max: readonly [number, number, number]
}

/** A question ready to be searched, upright or at one tilt. */
export interface FitProblem {
  readonly engine: FitEngine
  readonly aim: Aim
  readonly box: FaceBox
}

/**
 * Sets up the search for the largest core of a candidate.
 * Faults, all at once: 'limits-contradict', 'unlimited-direction', 'zero-length-tank', those of solids.
 */
export function fitProblem(
  bay: Bay,
  candidate: Candidate,
  meshes: Meshes,
  aimFor: 'volume' | 'face',
  withinBox?: WithinBox,
  limits: Limits = candidate.limits ?? {},
): Outcome<FitProblem> {
  const keepOuts = keepOutSolids(bay, meshes)
  if (!keepOuts.ok) return keepOuts
  const faults: Fault[] = []
  const span = withinBox ? [0, 1, 2].map((k) => withinBox.max[k] - withinBox.min[k]) : undefined
  const names = ['depth', 'width', 'height'] as const
  const sizes = names.map((name, k) => {
    const open = span?.[k] ?? (limits[name]?.stock || undefined ? 1e7 : Number.NaN)
    const found = sizesOf(limits[name], Number.isNaN(open) ? 1e7 : open)
    if (!found)
      faults.push({
        code: 'limits-contradict',
        item: candidate.id,
        field: `limits.${name}`,
        expected: 'a size between min and max',
        got: limits[name],
      })
    else if (found.most >= 1e7)
      faults.push({
        code: 'unlimited-direction',
        item: candidate.id,
        field: `limits.${name}.max`,
        expected: 'a greatest size, or a box to stay within',
        got: 'none',
      })
    return found
  })
  if (!withinBox && !limits.centre)
    faults.push({
      code: 'unlimited-direction',
      item: candidate.id,
      field: 'limits.centre',
      expected: "a region for the core's centre, or a box to stay within",
      got: 'none',
    })
  if (faults.length > 0) return bad(...faults)
  const engine = new FitEngine(bay, candidate, keepOuts.value)
  const [a, b, c] = sizes as NonNullable<(typeof sizes)[number]>[]
  const aim: Aim = {
    weights: aimFor === 'volume' ? [1, 1, 1] : [0, 1, 1],
    sizes: [a, b, c],
    rows: rowsOf(candidate, limits),
  }
  return good({ engine, aim, box: faceBox(candidate, limits, aim, withinBox) })
}

/** Region of the centre and symmetry as rows; the region is given in the bay's axes, so it is one only for an unturned candidate. */
function rowsOf({ turn }: Candidate, { centre, symmetric }: Limits): Row[] {
  const rows: Row[] = []
  const between = (k: number, least: number, most: number): void => {
    const half = new Float64Array(6)
    half[k] = 0.5
    half[3 + k] = 0.5
    rows.push({ a: half, b: least - 1e-9 }, { a: half.map((v) => -v), b: -most - 1e-9 })
  }
  if (centre && turn.every((t) => t === 0)) for (let k = 0; k < 3; k++) between(k, centre.min[k], centre.max[k])
  if (symmetric) between(1, 0, 0)
  return rows
}

function faceBox({ turn }: Candidate, { centre }: Limits, { sizes }: Aim, withinBox?: WithinBox): FaceBox {
  const low = new Float64Array(6).fill(-1e5)
  const high = new Float64Array(6).fill(1e5)
  for (let k = 0; k < 3; k++) {
    if (withinBox) {
      low[k] = low[3 + k] = withinBox.min[k]
      high[k] = high[3 + k] = withinBox.max[k]
    }
    if (centre && turn.every((t) => t === 0)) {
      const half = sizes[k].most / 2
      low[k] = Math.max(low[k], centre.min[k] - half)
      high[3 + k] = Math.min(high[3 + k], centre.max[k] + half)
      high[k] = Math.min(high[k], centre.max[k])
      low[3 + k] = Math.max(low[3 + k], centre.min[k])
    }
  }
  return { low, high }
}

export const searchFit = ({ engine, aim, box }: FitProblem, options: FitOptions): FitResult =>
  new FitSearch(engine, aim, box, options).run()

export { candidateAt, dimension, type Faces, facesOf, valueAt }
