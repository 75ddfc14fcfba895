import type { RoundForm } from '../../core/shape/form.ts'
import { identity, scale } from '../../core/shape/vec.ts'
import type { FormKit } from './everyPair.ts'
import { anyTube, discAt, movedTube, outsideTube, scaledTube } from './tubes.ts'

/** Tubes of zero to four bends. */
export const roundKit: FormKit<RoundForm> = {
  name: 'round',
  make(random, half) {
    const tube = anyTube(random, 0.7 * half)
    // Laid through the origin, so that pairs meet often enough.
    const { centre } = discAt(tube, random.int(tube.centreline.length), 0.5)
    return movedTube(tube, { turn: identity, at: scale(centre, -1) })
  },
  placed: movedTube,
  scaled: scaledTube,
  grown(form, by) {
    // No thicker than the sharpest bend allows: then it grows by less, which the rule holds for too.
    const most = Math.min(...form.centreline.map((piece) => (piece.kind === 'arc' ? piece.radius : Infinity)))
    return { ...form, radius: Math.min(form.radius + by, most) }
  },
  outsideBy: (form, point) => outsideTube(form, point, 60),
}
