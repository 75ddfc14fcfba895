import type { Aim } from './fitAim.ts'
import { dimension, type Faces } from './fitFrame.ts'
import { type ProgramAnswer, type Row, solveProgram } from './fitProgram.ts'
import type { FaceBox } from './fitRule.ts'

/** Logarithms this near to their tangents are near enough. */
const fine = 1e-7

/**
 * The linear program behind a node: the sum of the dimensions' logarithms, each under its tangents so far, over the six
 * faces and three logarithms.
 */
export class LogProgram {
  private readonly tangents: Row[] = []
  private readonly aim: Aim
  private readonly low: Float64Array
  private readonly high: Float64Array
  private readonly costs = new Float64Array(9)
  private answer: Float64Array = new Float64Array(9)

  constructor(aim: Aim, { low, high }: FaceBox, sizes: readonly (readonly [number, number])[]) {
    this.aim = aim
    this.low = Float64Array.of(...low, ...sizes.map(([least]) => Math.log(least)))
    this.high = Float64Array.of(...high, ...sizes.map(([, most]) => Math.log(most)))
    sizes.forEach(([least, most], k) => {
      const weight = aim.weights[k]
      // A dimension without weight is still made large: stock and rows like room.
      this.costs[6 + k] = weight > 0 ? weight : 1e-6
      this.touch(k, most)
      this.touch(k, Math.sqrt(least * most))
    })
  }

  /** @returns faces and the multipliers of the given rows alone */
  solve(rows: readonly Row[]): ProgramAnswer {
    const all = [...rows.map(wide), ...this.tangents]
    const { x, weights, infeasible } = solveProgram(this.costs, all, this.low, this.high)
    this.answer = x
    return { x: x.slice(0, 6), weights: weights.slice(0, rows.length), infeasible }
  }

  /** Adds tangents where the logarithms of the last answer stand above the true ones; tells whether any did. */
  touchAt(faces: Faces): boolean {
    let loose = false
    for (let k = 0; k < 3; k++) {
      const size = Math.max(dimension(faces, k), 1e-6)
      if (this.aim.weights[k] === 0 || this.answer[6 + k] - Math.log(size) < fine) continue
      this.touch(k, size)
      loose = true
    }
    return loose
  }

  /** t ≤ log s + (size − s) / s */
  private touch(k: number, s: number): void {
    const a = new Float64Array(9)
    a[k] = -1 / s
    a[3 + k] = 1 / s
    a[6 + k] = -1
    this.tangents.push({ a, b: 1 - Math.log(s) })
  }
}

function wide({ a, b }: Row): Row {
  const out = new Float64Array(9)
  out.set(a)
  return { a: out, b }
}
