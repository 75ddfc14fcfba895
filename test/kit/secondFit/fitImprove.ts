import { type Aim, leastSize, sizeBelow, valueAt } from './fitAim.ts'
import type { FitEngine } from './fitEngine.ts'
import { dimension, type Faces } from './fitFrame.ts'
import { type Row, solveProgram } from './fitProgram.ts'
import { type FaceBox, kept, type Rule, tangentRow } from './fitRule.ts'

const rounds = 24

/**
 * From any faces to a core that keeps every rule there is, as large as the way there allows; null where the way ends.
 *
 * The distance of a point to a following box is convex, so a core that keeps the tangent at the present faces keeps the rule
 * itself: a linear program over tangents gives a core that keeps all known rules at once, the engine then tells new ones.
 * Source: sequential linear programming on the safe side of convex functions: common practice, no source.
 */
export function improve(
  engine: FitEngine,
  aim: Aim,
  rows: readonly Row[],
  rules: readonly Rule[],
  from: Faces,
  eased: { keepOut: string; by: number } | undefined,
  learn: (rules: readonly Rule[]) => void,
  above: number,
  within: FaceBox,
): Faces | null {
  let x = from
  let clear: Faces | null = null
  for (let round = 0; round < rounds; round++) {
    const next = stepDown(aim, rows, rules, x, within)
    if (!next || valueAt(aim, next) <= above * (1 + 1e-9)) return clear
    // Half of what rules are kept by: the program's own rounding lies in the other half.
    const broken = engine.broken(next, kept / 2, eased)
    if (broken.length > 0) {
      learn(broken)
      // Rules are made anew at the point where they were broken, from the last faces that kept all: nothing is lost.
      x = clear ?? next
      if (clear) x = blend(clear, next)
      continue
    }
    const gain = clear ? valueAt(aim, next) / valueAt(aim, clear) - 1 : 1
    clear = next
    x = next
    if (gain < 1e-5) return clear
  }
  return clear
}

/** Faces halfway back to a core that keeps everything: tangents there know both. */
const blend = (whole: Faces, broken: Faces): Faces => whole.map((v, j) => v + 0.5 * (broken[j] - v))

/** Where the sizes that can be had do not go in, the next smaller ones, one dimension after the other. */
function stepDown(aim: Aim, rows: readonly Row[], rules: readonly Rule[], x: Faces, within: FaceBox): Faces | null {
  const sizes = aim.sizes.map((s, k) => (s.list ? (sizeBelow(s, dimension(x, k) + 1e-6) ?? s.list[0]) : undefined))
  const listed = [0, 1, 2].filter((k) => sizes[k] !== undefined)
  for (let tries = 0; ; tries++) {
    const found = step(aim, rows, rules, x, sizes, within)
    if (found || listed.length === 0 || tries === 6) return found
    const k = listed[tries % listed.length]
    sizes[k] = sizeBelow(aim.sizes[k], (sizes[k] as number) - 1e-6) ?? sizes[k]
  }
}

function step(
  aim: Aim,
  rows: readonly Row[],
  rules: readonly Rule[],
  x: Faces,
  sizes: readonly (number | undefined)[],
  within: FaceBox,
): Faces | null {
  const c = new Float64Array(6)
  aim.weights.forEach((w, k) => {
    const s = (w > 0 ? w : 1e-6) / Math.max(1, dimension(x, k))
    c[k] = -s
    c[3 + k] = s
  })
  const limits: Row[] = aim.sizes.flatMap((s, k) => {
    const up = new Float64Array(6)
    up[3 + k] = 1
    up[k] = -1
    const fixed = sizes[k]
    return [
      { a: up, b: fixed ?? s.least },
      { a: up.map((v) => -v), b: -(fixed ?? s.most) },
    ]
  })
  const cost = (way: { axis: number }, missing: number) => missing / Math.max(1, dimension(x, way.axis))
  const tangents = rules.map((rule) => tangentRow(rule, x, cost))
  const { x: found, infeasible } = solveProgram(c, [...rows, ...limits, ...tangents], within.low, within.high)
  if (infeasible) return null
  // What is listed is met to the last digit: the lower face stays, the upper one follows.
  sizes.forEach((size, k) => {
    if (size !== undefined) found[3 + k] = found[k] + size
  })
  return [0, 1, 2].every((k) => dimension(found, k) > leastSize / 2) ? found : null
}
