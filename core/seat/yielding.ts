import { add, cross, dot, placed, scale, sub, type Pose, type Vec3 } from '../shape/vec.ts'
import { type Step, turnStep } from './steps.ts'

/** Where a turning part is stopped. */
export interface Stopper {
  /** Unit, from the keep-out to the part, bay frame. */
  readonly away: Vec3
  /** On the part, bay frame, mm. */
  readonly on: Vec3
}

/** Backs off by this share more than it must, so that the next stretch is not stopped at once. */
const more = 0.02
const rounds = 40

/**
 * A turn that gives way: while it turns it shifts just so much that no point where it was stopped goes nearer to what
 * stopped it. Least shift for which that holds at the beginning of the turn.
 * @param square number of the axis that shifts must stay square to, where they must
 * @returns null where no shift is enough (the stoppers hold it from all sides)
 * Source: alternating projections on half-spaces, from memory.
 */
export function yieldingTurn(
  pose: Pose,
  { axis, pivot, angle }: Step,
  stoppers: readonly Stopper[],
  square?: number,
): Step | null {
  const middle = placed(pose, pivot)
  const rate = scale(axis, (angle * Math.PI) / 180)
  const rows = stoppers.map(({ away, on }) => {
    const n = away.map((x, k) => (k === square ? 0 : x)) as unknown as Vec3
    const speed = dot(cross(rate, sub(on, middle)), away)
    return { n, wanted: more * Math.abs(speed) - speed + 1e-3, size: dot(n, n) }
  })
  let shift: Vec3 = [0, 0, 0]
  const held = rows.map(() => 0)
  for (let round = 0; round < rounds; round++)
    for (const [i, { n, wanted, size }] of rows.entries()) {
      if (!(size > 1e-6)) return null
      const step = Math.max(-held[i], (wanted - dot(n, shift)) / size)
      held[i] += step
      shift = add(shift, scale(n, step))
    }
  const isEnough = rows.every(({ n, wanted }) => dot(n, shift) >= wanted - 1e-3 * Math.abs(wanted) - 1e-2)
  return isEnough ? { ...turnStep(axis, pivot, angle), shift } : null
}
