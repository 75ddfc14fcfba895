import type { Vec3 } from '../shape/vec.ts'
import type { View } from './view.ts'

/** Something of a keep-out that every core must stay clear of: a point, or a box along the view's axes. */
export interface Obstacle {
  readonly keepOut: number
  /** Bay frame, mm; of a box its middle. */
  readonly at: Vec3
  /** Half sizes of a box, along the axes of a view without range; zero for a point. */
  readonly half: Vec3
  /** Wanted distance, the part's tolerance not yet counted, mm. A ball in the keep-out counts its radius in. */
  readonly apart: number
}

/**
 * Where proof and answer meet, mm beyond what is asked: bounds are proved for cores that stay `proved` farther off, answers
 * stay `kept` farther off. All arithmetic error (about 1e-10 mm) lies between; 'required + error' is what is kept.
 */
export const guard = { bound: 5e-9, proved: 1e-8, kept: 3e-8 } as const

/**
 * A range of tilts may loosen what is asked to less than nothing: an obstacle may then lie so deep within a piece. All gaps
 * are counted from that depth, so that there is always some distance to be kept.
 */
export const depthAllowed = (apart: number): number => (apart < guard.proved ? guard.proved - apart : 0)

/** Numbers an obstacle in a view: low x y z, high x y z, motion x y z a radian of tilt, distance wanted. */
export const obstacleStride = 10

/** All that is known of the keep-outs so far. Grows; nothing is ever taken out. */
export class Obstacles {
  readonly list: Obstacle[] = []

  add(obstacle: Obstacle): number {
    return this.list.push(obstacle) - 1
  }
}

/** Obstacles as a view sees them, as numbers for the inner loops of a search. */
export class SeenObstacles {
  numbers = new Float64Array(64 * obstacleStride)
  count = 0
  private readonly view: View
  private readonly all: Obstacles
  private readonly extra: number

  /** @param extra kept beyond what is asked, mm */
  constructor(view: View, all: Obstacles, extra: number) {
    this.view = view
    this.all = all
    this.extra = extra
    this.update()
  }

  update(): void {
    const { list } = this.all
    while (this.numbers.length < list.length * obstacleStride) this.grow()
    for (; this.count < list.length; this.count++) this.write(list[this.count], this.count * obstacleStride)
  }

  private write({ at, half, apart }: Obstacle, o: number): void {
    const { numbers, view } = this
    const seen = view.seen(at)
    const motion = view.half > 0 ? view.motionOf(at) : [0, 0, 0]
    for (let k = 0; k < 3; k++) {
      numbers[o + k] = seen[k] - half[k]
      numbers[o + 3 + k] = seen[k] + half[k]
      numbers[o + 6 + k] = motion[k]
    }
    numbers[o + 9] = apart + this.extra - (view.half > 0 ? view.strayOf(at) : 0)
  }

  private grow(): void {
    const before = this.numbers
    this.numbers = new Float64Array(2 * before.length)
    this.numbers.set(before)
  }
}
