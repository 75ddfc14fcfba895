import type { Mat3, Vec3 } from '../../core/shape/vec.ts'

/** Seeded numbers for tests: the same seed gives the same run everywhere. */
export interface Random {
  /** In [from, to). */
  real(from: number, to: number): number
  /** Between two sizes, evenly in the exponent. */
  size(from: number, to: number): number
  /** 0 … below − 1. */
  int(below: number): number
  /** True with this chance. */
  chance(share: number): boolean
  pick<T>(list: readonly T[]): T
  /** Evenly over the sphere. */
  unit(): Vec3
  /** In a cube of this half size. */
  point(half: number): Vec3
  /** Evenly over all turns; never mirrors. */
  turn(): Mat3
}

/** Mulberry32, public domain, by T. Ettinger; from memory. */
export function seeded(seed: number): Random {
  let state = seed >>> 0
  const next = (): number => {
    state = (state + 0x6d2b79f5) >>> 0
    let t = state
    t = Math.imul(t ^ (t >>> 15), t | 1)
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61)
    return ((t ^ (t >>> 14)) >>> 0) / 2 ** 32
  }
  const real = (from: number, to: number) => from + (to - from) * next()
  const unit = (): Vec3 => {
    const z = real(-1, 1)
    const a = real(0, 2 * Math.PI)
    const r = Math.sqrt(1 - z * z)
    return [r * Math.cos(a), r * Math.sin(a), z]
  }
  return {
    real,
    size: (from, to) => Math.exp(real(Math.log(from), Math.log(to))),
    int: (below) => Math.floor(real(0, below)),
    chance: (share) => next() < share,
    pick: (list) => list[Math.floor(next() * list.length)],
    unit,
    point: (half) => [real(-half, half), real(-half, half), real(-half, half)],
    turn: () => turnFrom(next(), real(0, 2 * Math.PI), real(0, 2 * Math.PI)),
  }
}

/** K. Shoemake, Uniform random rotations (1992), from memory: a quaternion from three even numbers. */
function turnFrom(u: number, p: number, q: number): Mat3 {
  const x = Math.sqrt(1 - u) * Math.sin(p)
  const y = Math.sqrt(1 - u) * Math.cos(p)
  const z = Math.sqrt(u) * Math.sin(q)
  const w = Math.sqrt(u) * Math.cos(q)
  return [
    1 - 2 * (y * y + z * z),
    2 * (x * y - z * w),
    2 * (x * z + y * w),
    2 * (x * y + z * w),
    1 - 2 * (x * x + z * z),
    2 * (y * z - x * w),
    2 * (x * z - y * w),
    2 * (y * z + x * w),
    1 - 2 * (x * x + y * y),
  ]
}
