/**
 * A convex quadratic program: least ½ xᵀH x + gᵀx with A x ≥ b. Row after row in flat arrays; H symmetric, positive
 * semidefinite, and with the rows together such that the least is reached.
 */
export interface QuadraticProgram {
  readonly unknowns: number
  readonly rows: number
  readonly H: Float64Array
  readonly g: Float64Array
  readonly A: Float64Array
  readonly b: Float64Array
}

export interface QuadraticAnswer {
  readonly x: Float64Array
  /** Multipliers of the rows, not negative. */
  readonly multipliers: Float64Array
  /** Whether rows and slope are met to the accuracy below; else the best that was reached. */
  readonly converged: boolean
}

/** Mostly done after 8 to 15. */
const mostRounds = 60
/** Of rows (in their own unit), of the slope as a share of the largest multiplier, of the mean of slack times multiplier. */
const accuracy = { rows: 1e-8, slope: 3e-6, gap: 1e-9 }
/** Below this there is nothing left but rounding. */
const leastGap = 1e-14
/** Share of the way to the nearest bound that a step may go. */
const ofTheWay = 0.995

/**
 * Primal–dual interior point method with a predictor and a corrector step; repeated and dependent rows do it no harm.
 * @param start where to begin, any point; nought where left out
 * @returns x within about 1e-5 of its size of the solution where `converged`, for numbers of size 1 to 1e4
 * Source: S. Mehrotra, On the implementation of a primal-dual interior point method (1992), for quadratic programs as in
 * J. Nocedal, S. Wright, Numerical Optimization, section 16.6; both from memory.
 */
export function solveQuadratic(program: QuadraticProgram, start?: Float64Array): QuadraticAnswer {
  return new InteriorPoint(program, start).solve()
}

class InteriorPoint {
  private readonly program: QuadraticProgram
  private readonly x: Float64Array
  /** A x − b, kept above 0. */
  private readonly slack: Float64Array
  private readonly multipliers: Float64Array
  private readonly slope: Float64Array
  private readonly missing: Float64Array
  private readonly wanted: Float64Array
  private readonly dx: Float64Array
  private readonly dSlack: Float64Array
  private readonly dMultipliers: Float64Array
  private readonly factor: Float64Array

  constructor(program: QuadraticProgram, start?: Float64Array) {
    const { unknowns: n, rows: m } = program
    this.program = program
    this.x = start ? start.slice(0, n) : new Float64Array(n)
    this.slack = new Float64Array(m)
    this.multipliers = new Float64Array(m).fill(1)
    this.slope = new Float64Array(n)
    this.missing = new Float64Array(m)
    this.wanted = new Float64Array(m)
    this.dx = new Float64Array(n)
    this.dSlack = new Float64Array(m)
    this.dMultipliers = new Float64Array(m)
    this.factor = new Float64Array(n * n)
    for (let i = 0; i < m; i++) this.slack[i] = Math.max(this.row(i, this.x) - program.b[i], 1)
  }

  solve(): QuadraticAnswer {
    const { slack, multipliers, x } = this
    const { rows: m } = this.program
    let converged = false
    for (let round = 0; round < mostRounds; round++) {
      const gap = this.residuals()
      converged = this.isMet(gap)
      if (converged || !(gap < Infinity) || (m > 0 && gap < leastGap)) break
      this.factorise()
      // Straight for the solution first: how far that goes says how much the way has to keep to the middle.
      for (let i = 0; i < m; i++) this.wanted[i] = -slack[i] * multipliers[i]
      this.step()
      const share = Math.min(1, this.reach())
      let ahead = 0
      for (let i = 0; i < m; i++)
        ahead += (slack[i] + share * this.dSlack[i]) * (multipliers[i] + share * this.dMultipliers[i])
      const centring = gap > 0 && m > 0 ? (ahead / m / gap) ** 3 : 0
      for (let i = 0; i < m; i++) this.wanted[i] += centring * gap - this.dSlack[i] * this.dMultipliers[i]
      this.step()
      const along = Math.min(1, ofTheWay * this.reach())
      for (let k = 0; k < x.length; k++) x[k] += along * this.dx[k]
      for (let i = 0; i < m; i++) {
        slack[i] += along * this.dSlack[i]
        multipliers[i] += along * this.dMultipliers[i]
      }
    }
    return { x, multipliers, converged }
  }

  private isMet(gap: number): boolean {
    const slope = accuracy.slope * (1 + largest(this.multipliers))
    return gap < accuracy.gap && largest(this.missing) < accuracy.rows && largest(this.slope) < slope
  }

  private row(i: number, x: Float64Array): number {
    const { A, unknowns: n } = this.program
    let sum = 0
    for (let k = 0; k < n; k++) sum += A[i * n + k] * x[k]
    return sum
  }

  /** Writes what is missing to the rows and to a level slope; returns the mean of slack times multiplier. */
  private residuals(): number {
    const { unknowns: n, rows: m, H, g, A, b } = this.program
    const { x, slope, missing, slack, multipliers } = this
    for (let k = 0; k < n; k++) {
      let sum = g[k]
      for (let j = 0; j < n; j++) sum += H[k * n + j] * x[j]
      slope[k] = sum
    }
    let gap = 0
    for (let i = 0; i < m; i++) {
      for (let k = 0; k < n; k++) slope[k] -= A[i * n + k] * multipliers[i]
      missing[i] = this.row(i, x) - b[i] - slack[i]
      gap += slack[i] * multipliers[i]
    }
    return m > 0 ? gap / m : 0
  }

  /** Cholesky factor of H + Aᵀ (multipliers / slack) A. */
  private factorise(): void {
    const { unknowns: n, rows: m, H, A } = this.program
    const { factor, slack, multipliers } = this
    factor.set(H.subarray(0, n * n))
    for (let i = 0; i < m; i++) {
      const weight = multipliers[i] / slack[i]
      for (let k = 0; k < n; k++) {
        const w = A[i * n + k] * weight
        if (w !== 0) for (let j = 0; j <= k; j++) factor[k * n + j] += w * A[i * n + j]
      }
    }
    for (let k = 0; k < n; k++) {
      // A little more on the diagonal where the program leaves a direction open.
      const least = 1e-15 * (1 + factor[k * n + k])
      for (let j = 0; j <= k; j++) {
        let sum = factor[k * n + j]
        for (let q = 0; q < j; q++) sum -= factor[k * n + q] * factor[j * n + q]
        factor[k * n + j] = j < k ? sum / factor[j * n + j] : Math.sqrt(Math.max(sum, least))
      }
    }
  }

  private step(): void {
    const { unknowns: n, rows: m, A } = this.program
    const { factor, dx, slope, missing, slack, multipliers, wanted, dSlack, dMultipliers } = this
    for (let k = 0; k < n; k++) dx[k] = -slope[k]
    for (let i = 0; i < m; i++) {
      const pull = (wanted[i] - multipliers[i] * missing[i]) / slack[i]
      for (let k = 0; k < n; k++) dx[k] += A[i * n + k] * pull
    }
    for (let k = 0; k < n; k++) {
      for (let q = 0; q < k; q++) dx[k] -= factor[k * n + q] * dx[q]
      dx[k] /= factor[k * n + k]
    }
    for (let k = n - 1; k >= 0; k--) {
      for (let q = k + 1; q < n; q++) dx[k] -= factor[q * n + k] * dx[q]
      dx[k] /= factor[k * n + k]
    }
    for (let i = 0; i < m; i++) {
      dSlack[i] = missing[i] + this.row(i, dx)
      dMultipliers[i] = (wanted[i] - multipliers[i] * dSlack[i]) / slack[i]
    }
  }

  /** Share of the step at which the first slack or multiplier comes to nothing. */
  private reach(): number {
    const { slack, multipliers, dSlack, dMultipliers } = this
    let share = Infinity
    for (let i = 0; i < slack.length; i++) {
      if (dSlack[i] < 0) share = Math.min(share, -slack[i] / dSlack[i])
      if (dMultipliers[i] < 0) share = Math.min(share, -multipliers[i] / dMultipliers[i])
    }
    return share
  }
}

function largest(numbers: Float64Array): number {
  let most = 0
  for (const x of numbers) most = Math.max(most, Math.abs(x))
  return most
}
