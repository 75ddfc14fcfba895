import { askedBy } from '../bay/defaults.ts'
import type { KeepOutSolid } from '../bay/part.ts'
import { mountRests } from '../bay/mountParts.ts'
import type { Bay, Candidate } from '../bay/schema.ts'
import { bad, type Fault, good, type Outcome } from '../fault.ts'
import { type CoreQuestion, viewOf, wallsIn } from './coreProblem.ts'
import { beyond, extentOf } from './extent.ts'
import { leastLength, type Sizes, sizesOf } from './sizes.ts'
import type { TiltRange } from './tilts.ts'
import type { Region } from './wallsOf.ts'

const names = ['depth', 'width', 'height'] as const

/**
 * The question as the search takes it.
 * @param fixings of the bay: mounts are not held against what they are fixed to
 * @returns faults, all at once and before anything is searched: 'limits-contradict', 'region-empty', 'tank-length',
 * 'unlimited-direction' with the limit that is missing
 */
export function coreQuestion(
  candidate: Candidate,
  keepOuts: readonly KeepOutSolid[],
  aim: 'volume' | 'face',
  range: TiltRange,
  within: Region | undefined,
  fixings: Bay['fixings'],
): Outcome<CoreQuestion> {
  const { id, limits } = candidate
  const made = names.map((name) => sizesOf(name, limits, `limits.${name}`))
  const faults: Fault[] = made.flatMap((outcome) => (outcome.ok ? [] : outcome.faults.map((f) => ({ ...f, item: id }))))
  for (const [field, region] of [
    ['limits.centre', limits?.centre],
    ['withinBox', within],
  ] as const)
    if (region?.min.some((x, k) => !(x <= region.max[k])))
      faults.push({ code: 'region-empty', item: id, field, expected: 'min no more than max', got: region })
  if (limits?.symmetric && (candidate.turn[0] !== 0 || candidate.turn[2] !== 0))
    faults.push({
      code: 'limits-contradict',
      item: id,
      field: 'turn',
      expected: 'no turn about X and Z, since the core is to be symmetric',
      got: candidate.turn,
    })
  faults.push(...tankFaults(candidate))
  if (faults.length > 0) return bad(...faults)
  const sizes = made.map((outcome, k) => withFeet((outcome as { value: Sizes }).value, k, candidate))
  const question: CoreQuestion = {
    candidate: { ...candidate, pipes: [] },
    asked: keepOuts.map((keepOut) => {
      const { required, uncertainty } = askedBy(keepOut.keepOut)
      const fixed = (candidate.mounts ?? []).filter((mount) => mountRests({ fixings }, mount).includes(keepOut.id))
      return { keepOut, apart: required + uncertainty, except: fixed.map((mount) => `mount-${mount.id}`) }
    }),
    shares: aim === 'volume' ? [1, 1, 1] : [0, 1, 1],
    sizes: [sizes[0], sizes[1], sizes[2]],
    ...(within && { within }),
  }
  const open = unlimited(question, range)
  return open.length > 0 ? bad(...open) : good(question)
}

/** A tank needs a length; its foot is the core's face grown by its overhangs, which are met by the least sizes. */
function tankFaults({ id, tanks }: Candidate): Fault[] {
  return (['left', 'right'] as const).flatMap((which) => {
    const tank = tanks?.[which]
    if (!tank || tank.length >= 1e-6) return []
    return [
      { code: 'tank-length', item: id, field: `tanks.${which}.length`, expected: 'a length above 0', got: tank.length },
    ]
  })
}

/** Overhangs may be negative: the core must be large enough for the feet to have a size of their own. */
function withFeet(size: Sizes, k: number, { tanks }: Candidate): Sizes {
  if (k === 1) return size
  const overhangs = [tanks?.left, tanks?.right].map((tank) => {
    if (!tank) return 0
    const [across, taper] =
      k === 0 ? [tank.front + tank.rear, tank.taper?.depth] : [tank.below + tank.above, tank.taper?.height]
    return -across + leastLength / (taper ?? 1)
  })
  const least = Math.max(size.least, ...overhangs)
  return least <= size.least
    ? size
    : {
        ...size,
        least,
        down: (x) => (size.down(x) < least ? -Infinity : size.down(x)),
        up: (x) => size.up(Math.max(x, least)),
      }
}

const ends = [
  ['front (−X)', 'min[0]'],
  ['left (−Y)', 'min[1]'],
  ['below (−Z)', 'min[2]'],
  ['rear (+X)', 'max[0]'],
  ['right (+Y)', 'max[1]'],
  ['above (+Z)', 'max[2]'],
] as const

/** Directions in which nothing holds the core: neither walls nor greatest sizes with a region for its middle. */
function unlimited(question: CoreQuestion, { min, max }: TiltRange): Fault[] {
  const item = question.candidate.id
  const view = viewOf(question, (min + max) / 2)
  const extent = extentOf(wallsIn(question, view), question.sizes, view)
  if (!extent) return []
  const faults: Fault[] = []
  ends.forEach(([direction, field], face) => {
    const isOpen = face < 3 ? extent.low[face] <= -beyond / 2 : extent.high[face] >= beyond / 2
    if (!isOpen) return
    const name = names[face % 3]
    const isSizeMissing = question.sizes[face % 3].most === Infinity
    faults.push({
      code: 'unlimited-direction',
      item,
      field: isSizeMissing ? `limits.${name}.max` : `limits.centre.${field}`,
      expected: `an end to the ${direction}: a half-space keep-out there, ${isSizeMissing ? `limits.${name}.max and ` : ''}limits.centre, or a box that the core has to stay within`,
    })
  })
  return faults
}
