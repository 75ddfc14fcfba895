import type { Candidate } from '../bay/schema.ts'
import { length, turnedBack, type Vec3 } from '../shape/vec.ts'
import type { SeatPath } from './answer.ts'
import { gripped } from './edited.ts'
import { posesOf } from './move.ts'

/** An edge of the core that a person would turn it about, or its middle: for each of the two axes across, −1, 0 or 1. */
export interface Grip {
  /** Where the axis along has 0: front −1, rear 1; left −1, right 1; bottom −1, top 1. */
  readonly side: Vec3
  /** The candidate's own frame, mm. */
  readonly at: Vec3
}

/**
 * The edges of a core that run along one of its axes, and its middle first.
 * @param axis 0 … 2
 */
export function gripsOf({ depth, width, height }: Candidate['core'], axis: number): Grip[] {
  const half = [depth / 2, width / 2, height / 2]
  const [one, other] = [0, 1, 2].filter((k) => k !== axis)
  const at = (a: number, b: number): Grip => {
    const side = [0, 1, 2].map((k) => (k === one ? a : k === other ? b : 0))
    return { side: vec(side), at: vec(side.map((s, k) => s * half[k] + 0)) }
  }
  return [at(0, 0), ...[1, -1].flatMap((b) => [1, -1].map((a) => at(a, b)))]
}

/** Two places across the axis are one within this, mm: pivots are told in rounded numbers. */
const same = 0.06

/** The one of some grips at which a point of the part lies, however far along the axis; null where it lies beside all. */
export const gripAt = (grips: readonly Grip[], axis: number, point: Vec3): Grip | null =>
  grips.find(({ at }) => at.every((x, k) => k === axis || Math.abs(x - point[k]) <= same)) ?? null

/** Cosine within which an axis is called one of the core's: 0.03°. */
const parallel = 1 - 1e-7

/**
 * For each move of a path the edge of the core that it turns about, or its middle.
 * @returns null for a move that does not turn, or turns about another line
 */
export function gripsOfPath(path: SeatPath, core: Candidate['core']): (Grip | null)[] {
  const poses = posesOf(path)
  return gripped(path).map(({ axis, angle, grip }, n) => {
    if (angle === 0) return null
    const own = turnedBack(poses[n].turn, axis)
    const k = own.findIndex((x) => Math.abs(x) >= parallel * length(axis))
    return k < 0 ? null : gripAt(gripsOf(core, k), k, grip)
  })
}

const vec = (v: readonly number[]): Vec3 => [v[0], v[1], v[2]]
