import type { PaceNow } from './protocol.ts'
import type { Weight } from './weight.ts'

/** Above this a full drawing is too slow to follow the hand, ms. */
const slow = 24
/** From so many triangles on, how long a full drawing takes is judged by a lighter one first. */
const huge = 400_000
/** A full drawing that would hold up the graphics for longer is never made, ms. */
const tooLong = 400

/** How long a full drawing takes with these heavy solids, ms. */
interface Cost {
  readonly heavy: string
  readonly cost: number
}
const unknown: Cost = { heavy: '', cost: 0 }

/** Judges by the time that drawings take when they are made from lighter copies. */
export class Pace {
  private readonly told: (pace: PaceNow) => void
  private now: PaceNow = { slow: false, lighter: false }
  private timed = unknown
  /** What a full drawing would take, by what a lighter one took. */
  private guess = unknown
  private warm = ''

  constructor(told: (pace: PaceNow) => void) {
    this.told = told
  }

  /** Even at rest the drawing is made from lighter copies. */
  get lighter(): boolean {
    return this.now.lighter
  }

  isLight(weight: Weight, moving: boolean): boolean {
    const { heavy } = weight
    return heavy !== '' && (this.isNever(weight) || (moving && (this.timed.heavy !== heavy || this.timed.cost > slow)))
  }

  /**
   * A drawing with this weight has just begun.
   * @param drawn asked for when the time is wanted: resolves when all of it is drawn
   * @param again asks for another drawing: this one was no measure
   */
  began(weight: Weight, moving: boolean, drawn: () => Promise<void>, again: () => void): void {
    const { heavy, full } = weight
    if (full <= huge) this.tell({ lighter: false })
    const begin = performance.now()
    const taken = async () => {
      await drawn()
      return performance.now() - begin
    }
    if (this.isNever(weight)) {
      if (this.guess.heavy !== heavy && !moving) void this.guessFrom(weight, taken, again)
      return
    }
    if (this.timed.heavy === heavy || moving) return
    this.timed = { heavy, cost: 0 }
    void taken().then((cost) => {
      this.timed = { heavy, cost }
      this.tell({ slow: cost > slow })
    })
  }

  private isNever({ heavy, full }: Weight): boolean {
    return full > huge && (this.guess.heavy !== heavy || this.guess.cost > tooLong)
  }

  /** The first drawing also makes shaders and hands over surfaces: only the one after it tells how quick the machine is. */
  private async guessFrom({ heavy, full, light }: Weight, taken: () => Promise<number>, again: () => void) {
    const isWarm = this.warm === heavy
    this.warm = heavy
    const cost = ((await taken()) * full) / Math.max(1, light)
    if (isWarm) {
      this.guess = { heavy, cost }
      this.tell({ lighter: cost > tooLong, slow: cost > slow })
    }
    if (!isWarm || cost <= tooLong) again()
  }

  private tell(pace: Partial<PaceNow>): void {
    const before = this.now
    this.now = { ...before, ...pace }
    if (this.now.slow !== before.slow || this.now.lighter !== before.lighter) this.told(this.now)
  }
}
