export interface Eigen {
  readonly value: number
  /** Unit length; its sign is of no meaning. */
  readonly vector: readonly number[]
}

/** Sweeps that are far more than any small matrix needs: convergence is quadratic. */
const mostSweeps = 60

/**
 * Eigenvalues and eigenvectors of a small symmetric matrix, the largest value first.
 * @param matrix rows; only finite numbers
 * Error: a few units in the last place of the largest value; vectors of equal values are any that are square to each other.
 * Source: the cyclic method of C. G. J. Jacobi (1846) with the stable rotation of H. Rutishauser (1966); from memory.
 */
export function symmetricEigen(matrix: readonly (readonly number[])[]): Eigen[] {
  const n = matrix.length
  const a = matrix.map((row) => [...row])
  const vectors = a.map((_, i) => a.map((__, j) => (i === j ? 1 : 0)))
  for (let sweep = 0; sweep < mostSweeps && !isDiagonal(a); sweep++)
    for (let p = 0; p < n; p++) for (let q = p + 1; q < n; q++) rotate(a, vectors, p, q)
  return a
    .map((row, k) => ({ value: row[k], vector: vectors.map((line) => line[k]) }))
    .sort((one, other) => other.value - one.value)
}

function isDiagonal(a: readonly (readonly number[])[]): boolean {
  const largest = Math.max(...a.flat().map(Math.abs))
  return a.every((row, i) => row.every((x, j) => i === j || Math.abs(x) <= 1e-18 * largest))
}

/** Makes the element p, q zero. */
function rotate(a: number[][], vectors: number[][], p: number, q: number): void {
  if (a[p][q] === 0) return
  const half = (a[q][q] - a[p][p]) / (2 * a[p][q])
  const t = Math.sign(half || 1) / (Math.abs(half) + Math.hypot(half, 1))
  const c = 1 / Math.hypot(t, 1)
  const s = t * c
  for (const row of a) turnPair(row, p, q, c, s)
  for (let k = 0; k < a.length; k++) {
    const [x, y] = [a[p][k], a[q][k]]
    a[p][k] = c * x - s * y
    a[q][k] = s * x + c * y
  }
  for (const row of vectors) turnPair(row, p, q, c, s)
}

function turnPair(row: number[], p: number, q: number, c: number, s: number): void {
  const [x, y] = [row[p], row[q]]
  row[p] = c * x - s * y
  row[q] = s * x + c * y
}
