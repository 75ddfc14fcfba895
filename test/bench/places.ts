import { identity, type Pose, turnMatrix } from '../../core/shape/vec.ts'
import { seeded } from '../kit/random.ts'

export const lifted = (z: number): Pose => ({ turn: identity, at: [0, 0, z] })

/**
 * Height at which a gap is as wanted, mm. The gap falls by no more than the solid does: lowering by what is to spare, again
 * and again, ends there from above.
 */
export function letDown(gapAt: (height: number) => number, wanted: number, from: number): number {
  let height = from
  for (let i = 0; i < 200; i++) {
    const spare = gapAt(height) - wanted
    height -= spare
    if (Math.abs(spare) < 1e-6) break
  }
  return height
}

/** First pose untouched, then small moves as in a drag: up to 1 mm and 0.1°. */
export function jitter(count: number, seed: number): Pose[] {
  const random = seeded(seed)
  return Array.from({ length: count }, (_, i): Pose => {
    if (i === 0) return lifted(0)
    return { turn: turnMatrix(random.point(0.1)), at: random.point(1) }
  })
}
