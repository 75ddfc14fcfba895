import type { Candidate } from '../bay/schema.ts'
import { type Sizes, sizesOf } from '../largest/sizes.ts'
import type { Vec3 } from '../shape/vec.ts'

const names = ['depth', 'width', 'height'] as const
const grain = 1e-6

/** Sizes that a candidate's limits allow; null where they contradict each other. */
export function sizesAllowed({ limits }: Candidate): readonly Sizes[] | null {
  const made = names.map((name) => sizesOf(name, limits, `limits.${name}`))
  return made.every((each) => each.ok) ? made.flatMap((each) => (each.ok ? [each.value] : [])) : null
}

/** Whether a candidate as it stands is one that its own limits allow. */
export function isAllowed(candidate: Candidate): boolean {
  const { core, at, turn, limits = {} } = candidate
  const sizes = sizesAllowed(candidate)
  const { centre, symmetric, tilt } = limits
  const within = (x: number, low: number, high: number) => x >= low - grain && x <= high + grain
  return (
    (sizes?.every((size, k) => Math.abs(size.down(core[names[k]] + grain) - core[names[k]]) <= 2 * grain) ?? false) &&
    (!centre || at.every((x, k) => within(x, centre.min[k], centre.max[k]))) &&
    (!symmetric || Math.abs(at[1]) <= grain) &&
    (!tilt || within(turn[1], tilt.min, tilt.max))
  )
}

/** Of the way from one core to another this share; each size no more than that and as it can be had. */
export function sizeBetween(small: Candidate, large: Candidate, share: number): Candidate {
  const mix = (a: number, b: number) => a + share * (b - a)
  const sizes = sizesAllowed(small)
  const size = names.map((name, k) => {
    const down = sizes?.[k].down(mix(small.core[name], large.core[name])) ?? 0
    return down > 0 ? down : small.core[name]
  })
  const at = [0, 1, 2].map((k) => mix(small.at[k], large.at[k])) as unknown as Vec3
  return {
    ...small,
    at: [at[0], at[1], at[2]],
    core: { ...small.core, depth: size[0], width: size[1], height: size[2] },
  }
}
