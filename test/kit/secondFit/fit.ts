import type { KeepOutSolid } from '../../../core/bay/part.ts'
import type { Bay, Candidate, Limits } from '../../../core/bay/schema.ts'
import { bad, type Fault, good, type Outcome } from '../../../core/fault.ts'
import { type Mat3, turned, turnMatrix, type Vec3 } from '../../../core/shape/vec.ts'
import { type Aim, leastSize, type Sizes, sizesOf } from './fitAim.ts'
import { FitEngine } from './fitEngine.ts'
import { type Axes, intoAxes } from './fitFrame.ts'
import type { Row } from './fitProgram.ts'
import type { FaceBox, Rule } from './fitRule.ts'

/** A box in the bay's axes, mm. */
export interface Region {
  readonly min: Vec3
  readonly max: Vec3
}

export interface FitQuestion {
  readonly bay: Bay
  readonly candidate: Candidate
  readonly keepOuts: readonly KeepOutSolid[]
  readonly aim: 'volume' | 'face'
  readonly limits: Limits
  /** The whole core has to lie in it. */
  readonly within?: Region
}

/** A question ready to be searched at one tilt, and with what slack it speaks for a range of tilts about that one. */
export interface FitProblem {
  readonly engine: FitEngine
  readonly aim: Aim
  readonly box: FaceBox
  /** Rows for the core at this very tilt. */
  readonly rowsHere: readonly Row[]
  /** The rule as every tilt of the range keeps it. */
  readonly loosened: (rule: Rule) => Rule
  /** How far half-space rows may be off over the range, mm. */
  readonly looser: number
}

const unlimited = 1e7
const names = ['depth', 'width', 'height'] as const

/**
 * What is wrong with a question before anything is searched, all at once: 'limits-contradict', 'unlimited-direction',
 * 'region-empty'.
 */
export function fitFaults({ candidate, limits, within }: FitQuestion): Fault[] {
  const item = candidate.id
  const sizes = names.flatMap((name, k): Fault[] => {
    const open = within ? within.max[k] - within.min[k] : unlimited
    const found = sizesOf(limits[name], Math.max(open, 1e-9))
    if (!found)
      return [
        {
          code: 'limits-contradict',
          item,
          field: `limits.${name}`,
          expected: 'a size that all of it allow',
          got: limits[name],
        },
      ]
    const expected = 'a greatest size, or a box that the core has to stay within'
    return found.most >= unlimited ? [{ code: 'unlimited-direction', item, field: `limits.${name}.max`, expected }] : []
  })
  const region = within ?? limits.centre
  if (!region) {
    const expected = "a region for the core's centre, or a box that the core has to stay within"
    return [...sizes, { code: 'unlimited-direction', item, field: 'limits.centre', expected }]
  }
  if (region.min.some((x, k) => x > region.max[k]))
    sizes.push({ code: 'region-empty', item, field: 'limits.centre', expected: 'min below max', got: region })
  return sizes
}

/**
 * @param tilt degrees about Y, `half` radians to either side of it: what is found is found at `tilt`, what is proved is
 * proved for all of the range (a point at a distance ρ from the axis moves by no more than 2ρ·sin(half/2))
 */
export function fitProblem(question: FitQuestion, tilt: number, half: number): Outcome<FitProblem> {
  const faults = fitFaults(question)
  if (faults.length > 0) return bad(...faults)
  const { bay, keepOuts, limits, within } = question
  const candidate: Candidate = {
    ...question.candidate,
    turn: [question.candidate.turn[0], tilt, question.candidate.turn[2]],
  }
  const region = (within ?? limits.centre) as Region
  const pivot: Vec3 = [0, 1, 2].map((k) => Math.round((region.min[k] + region.max[k]) / 2)) as unknown as Vec3
  const open = names.map((name, k) =>
    sizesOf(limits[name], within ? within.max[k] - within.min[k] : unlimited),
  ) as Sizes[]
  const sizes = withFeet(open, candidate)
  const engine = new FitEngine(bay, candidate, keepOuts, pivot)
  const box = faceBox(engine.axes, region, sizes)
  const swing = 2 * Math.sin(half / 2) * (1 + 1e-12)
  const reach = Math.hypot(...[0, 1, 2].map((k) => Math.max(Math.abs(box.low[k]), Math.abs(box.high[3 + k]))))
  const looser = half > 0 ? swing * (reach + tankReach(candidate)) : 0
  const aim: Aim = {
    weights: question.aim === 'volume' ? [1, 1, 1] : [0, 1, 1],
    sizes: [sizes[0], sizes[1], sizes[2]],
    rows: [...regionRows(engine.axes, limits, looser), ...withinRows(engine.axes, within, looser)],
  }
  const rowsHere = [...regionRows(engine.axes, limits, 0), ...withinRows(engine.axes, within, 0)]
  const first = turnMatrix([candidate.turn[0], 0, 0])
  const loosened = (rule: Rule): Rule => {
    if (half === 0) return rule
    let away = 0
    for (let i = 0; i < 8; i++) {
      const [x, , z] = turned(
        first,
        [0, 1, 2].map((k) => ((i >> k) & 1 ? rule.to[k] : rule.from[k])) as unknown as Vec3,
      )
      away = Math.max(away, Math.hypot(x, z))
    }
    return { ...rule, apart: rule.apart - swing * away }
  }
  return good({ engine, aim, box, rowsHere, loosened, looser })
}

const tankReach = ({ tanks }: Candidate): number =>
  Math.max(
    0,
    ...[tanks?.left, tanks?.right].map((tank) =>
      tank ? tank.length + Math.abs(tank.front) + Math.abs(tank.rear) + Math.abs(tank.below) + Math.abs(tank.above) : 0,
    ),
  )

/** A tank's foot is the core's face grown by its overhangs, which may be negative: it has to keep a size of its own. */
function withFeet(sizes: readonly Sizes[], { tanks }: Candidate): Sizes[] {
  const feet = [tanks?.left, tanks?.right].flatMap((tank) => (tank ? [tank] : []))
  const least = [0, 1, 2].map((k) =>
    Math.max(0, ...feet.map((t) => leastSize - (k === 0 ? t.front + t.rear : k === 2 ? t.below + t.above : leastSize))),
  )
  return sizes.map((s, k) => ({ ...s, least: Math.min(s.most, Math.max(s.least, least[k])) }))
}

/** Faces that any core of the region may have: its middle in the region, its halves to either side. */
function faceBox(axes: Axes, region: Region, sizes: readonly Sizes[]): FaceBox {
  const low = new Float64Array(6)
  const high = new Float64Array(6)
  const corners = [0, 1, 2, 3, 4, 5, 6, 7].map((i) =>
    intoAxes(axes, [0, 1, 2].map((k) => ((i >> k) & 1 ? region.max[k] : region.min[k])) as unknown as Vec3),
  )
  for (let k = 0; k < 3; k++) {
    const least = Math.min(...corners.map((c) => c[k])) - 1e-6
    const most = Math.max(...corners.map((c) => c[k])) + 1e-6
    low[k] = least - sizes[k].most / 2
    high[k] = most
    low[3 + k] = least
    high[3 + k] = most + sizes[k].most / 2
  }
  return { low, high }
}

/** The middle in its region, and on the car's middle where asked. */
function regionRows(axes: Axes, { centre, symmetric }: Limits, looser: number): Row[] {
  const rows: Row[] = []
  const middle = (k: number): Float64Array => {
    const a = new Float64Array(6)
    for (let j = 0; j < 3; j++) a[j] = a[3 + j] = axes.turn[3 * k + j] / 2
    return a
  }
  const between = (k: number, least: number, most: number): void => {
    const a = middle(k)
    rows.push(
      { a, b: least - axes.pivot[k] - looser - 1e-9 },
      { a: a.map((v) => -v), b: axes.pivot[k] - most - looser - 1e-9 },
    )
  }
  if (centre) for (let k = 0; k < 3; k++) between(k, centre.min[k], centre.max[k])
  if (symmetric) between(1, 0, 0)
  return rows
}

/** All corners of the core within a box. */
function withinRows({ turn, pivot }: { turn: Mat3; pivot: Vec3 }, within: Region | undefined, looser: number): Row[] {
  if (!within) return []
  return [0, 1, 2].flatMap((k) => {
    const lowest = new Float64Array(6)
    const highest = new Float64Array(6)
    for (let j = 0; j < 3; j++) {
      const r = turn[3 * k + j]
      lowest[r > 0 ? j : 3 + j] = r
      highest[r > 0 ? 3 + j : j] = -r
    }
    return [
      { a: lowest, b: within.min[k] - pivot[k] - looser - 1e-9 },
      { a: highest, b: pivot[k] - within.max[k] - looser - 1e-9 },
    ]
  })
}
