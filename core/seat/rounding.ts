import type { Vec3 } from '../shape/vec.ts'
import type { SeatSearch } from './search.ts'
import { withPush } from './shorten.ts'
import type { Step } from './steps.ts'
import { keeps, type Tuned } from './tune.ts'

const millimetres = [10, 5, 1, 0.5, 0.1, 0.01]
const degrees = [1, 0.5, 0.1, 0.01, 0.001]

/**
 * The same moves in numbers that a person can hold to: the roundest for each move with which the whole way is still proved to
 * keep nearly the margin it had. Rounding one move changes every later pose, so it is the whole way that is proved each time.
 * @param margin that has to stay, mm
 */
export function rounded(search: SeatSearch, { steps, margin: least }: Tuned, margin: number): readonly Step[] {
  const enough = Math.max(margin, least - Math.max(0.15, 0.1 * least))
  let now = steps
  for (let i = 0; i < steps.length - 1; i++) {
    for (const tried of rounder(now[i])) {
      if (isNothing(tried)) continue
      const made = withPush(search, [...now.slice(0, i), tried, ...now.slice(i + 1)])
      if (!keeps(search, made, enough)) continue
      now = made
      break
    }
  }
  return now
}

function* rounder(step: Step): Generator<Step> {
  const turns = step.angle === 0 ? [0] : degrees.map((unit) => nearest(step.angle, unit))
  const isShifted = step.shift.some((x) => x !== 0)
  const shifts = isShifted
    ? millimetres.map((unit) => step.shift.map((x) => nearest(x, unit)) as unknown as Vec3)
    : [step.shift]
  // First both as round as can be, then each less so: what hardly matters stays round.
  for (let sum = 0; sum < turns.length + shifts.length - 1; sum++)
    for (let i = 0; i <= sum; i++) {
      const [shift, angle] = [shifts[sum - i], turns[i]]
      if (shift && angle !== undefined) yield { ...step, shift, angle }
    }
}

const nearest = (x: number, unit: number): number => Number((Math.round(x / unit) * unit).toFixed(6)) + 0
const isNothing = ({ shift, angle }: Step): boolean => angle === 0 && shift.every((x) => x === 0)
