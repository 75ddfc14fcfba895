import { describe, expect, it } from 'vitest'
import type { Clearance, ClearanceOptions } from '../../core/clearance/answer.ts'
import { type FormOf, type PairClearance, swapped } from '../../core/clearance/pair.ts'
import type { FormName } from '../../core/shape/form.ts'
import { add, distance, length, type Mat3, type Pose, scale, type Vec3 } from '../../core/shape/vec.ts'
import { type Random, seeded } from './random.ts'

/** What the kit must know of a form to put it through every pair: how to make one, move it, and look at it plainly. */
export interface FormKit<F> {
  readonly name: string
  /** Any of its kind, of about this half size, about the origin. */
  make(random: Random, half: number): F
  /** Rigidly moved; `pose.turn` may mirror. */
  placed(form: F, pose: Pose): F
  /** Made larger or smaller about the origin. */
  scaled(form: F, by: number): F
  /** Holds the form and no point farther than `by` from it. Left out where there is no such thing (open shells). */
  grown?(form: F, by: number): F
  /** How far a point lies outside the solid, mm; 0 or less within. Written apart from the code under test. */
  outsideBy(form: F, point: Vec3): number
}

export interface PairKit<A extends FormName, B extends FormName> {
  readonly pair: PairClearance<A, B>
  readonly a: FormKit<FormOf[A]>
  readonly b: FormKit<FormOf[B]>
  readonly seed: number
  /** Random pairs a test; default 300. */
  readonly runs?: number
  /** Half size of both forms, mm; default 100. */
  readonly half?: number
  /** b is set off by up to this, mm, so that 30 to 70 % of the pairs overlap; default 2.5 times the half size. */
  readonly spread?: number
  /** Most that atMost − atLeast may be, mm; default 1e-6 (the promise to users is 0.001). */
  readonly error?: number
  /** Gap by a slow and plain way, mm; 0 or less where they meet; undefined where it cannot tell. */
  readonly plain?: (a: FormOf[A], b: FormOf[B]) => number | undefined
}

/** What rounding may do to a result at these sizes, mm; far above it, far below any error allowed. */
const rounding = 1e-9

/** The contract that every pair of forms keeps. Call it once in the pair's own test file. */
export function everyPair<A extends FormName, B extends FormName>(kit: PairKit<A, B>): void {
  const half = kit.half ?? 100
  const spread = kit.spread ?? 2.5 * half
  const runs = kit.runs ?? 300
  const error = kit.error ?? 1e-6
  type Case = { a: FormOf[A]; b: FormOf[B]; random: Random; answer: Clearance }
  const ask = (a: FormOf[A], b: FormOf[B], options: ClearanceOptions = {}): Clearance => kit.pair(a, b, options)
  function each(offset: number, look: (it: Case) => void): void {
    const random = seeded(kit.seed + offset)
    for (let i = 0; i < runs; i++) {
      const a = kit.a.placed(kit.a.make(random, half), { turn: random.turn(), at: random.point(half / 2) })
      const b = kit.b.placed(kit.b.make(random, half), {
        turn: random.turn(),
        at: scale(random.unit(), random.real(0, spread)),
      })
      look({ a, b, random, answer: ask(a, b) })
    }
  }

  describe(`${kit.a.name} · ${kit.b.name}: what every pair keeps (${runs} random pairs a rule, seed ${kit.seed})`, () => {
    it('gives bounds within the error, and the random pairs are a fair mix', () => {
      let met = 0
      each(0, ({ answer }) => {
        if (answer.overlap) met++
        checkBounds(answer, error)
      })
      expect(met / runs).toBeGreaterThan(0.3)
      expect(met / runs).toBeLessThan(0.7)
    })

    it('names witnesses that lie on their solids, atMost apart', () => {
      each(1, ({ a, b, answer }) => {
        expect(kit.a.outsideBy(a, answer.onPart)).toBeLessThan(rounding)
        expect(kit.b.outsideBy(b, answer.onKeepOut)).toBeLessThan(rounding)
        if (!answer.overlap)
          expect(Math.abs(distance(answer.onPart, answer.onKeepOut) - answer.atMost)).toBeLessThan(rounding)
      })
    })

    it('is the same after moving, turning or mirroring both solids together', () => {
      each(2, ({ a, b, random, answer }) => {
        const pose: Pose = { turn: random.chance(0.5) ? mirrored(random.turn()) : random.turn(), at: random.point(500) }
        checkSame(answer, ask(kit.a.placed(a, pose), kit.b.placed(b, pose)))
      })
    })

    it('scales with both solids', () => {
      each(3, ({ a, b, random, answer }) => {
        const s = random.size(0.05, 20)
        const larger = ask(kit.a.scaled(a, s), kit.b.scaled(b, s))
        checkSame(answer, { ...larger, ...scaledBounds(larger, 1 / s) }, 1 / s)
      })
    })

    it('turns its witnesses and its direction round when part and keep-out change places', () => {
      each(4, ({ a, b, answer }) => {
        const other = swapped(kit.pair)(b, a, {})
        expect(other).toEqual({
          ...answer,
          onPart: answer.onKeepOut,
          onKeepOut: answer.onPart,
          ...(answer.overlap?.direction ? { overlap: { ...answer.overlap, direction: other.overlap?.direction } } : {}),
        })
        if (answer.overlap?.direction && other.overlap?.direction)
          expect(length(add(answer.overlap.direction, other.overlap.direction))).toBe(0)
        if (isSameForm(a, b)) checkSame(answer, (kit.pair as unknown as PairClearance<B, A>)(b, a, {}))
      })
    })

    it('loses gap, but no more than r, where either solid grows by r', () => {
      each(5, ({ a, b, random, answer }) => {
        const r = random.size(0.01, half / 2)
        for (const grown of [kit.a.grown && ask(kit.a.grown(a, r), b), kit.b.grown && ask(a, kit.b.grown(b, r))]) {
          if (!grown) continue
          expect(grown.atLeast).toBeLessThanOrEqual(answer.atMost + rounding)
          expect(grown.atMost).toBeGreaterThanOrEqual(answer.atLeast - r - rounding)
        }
      })
    })

    it('is not changed by upTo where the gap is below it, and proves upTo where it is not', () => {
      each(6, ({ a, b, random, answer }) => {
        const upTo = random.chance(0.5) ? random.real(0, spread) : answer.atMost * random.real(0.5, 2)
        const got = ask(a, b, { upTo })
        expect(got.atLeast).toBeLessThanOrEqual(answer.atMost + rounding)
        expect(got.atMost).toBeGreaterThanOrEqual(answer.atLeast - rounding)
        if (answer.atMost < upTo) checkSame(answer, got)
        else if (answer.atLeast > upTo + error) expect(got.atLeast).toBeGreaterThanOrEqual(upTo - rounding)
        if (got.stopped === 'upTo') expect(got.atLeast).toBeGreaterThanOrEqual(upTo - rounding)
        expect(kit.a.outsideBy(a, got.onPart)).toBeLessThan(rounding)
        expect(kit.b.outsideBy(b, got.onKeepOut)).toBeLessThan(rounding)
      })
    })

    it('is not changed by a hint, good or bad', () => {
      each(7, ({ a, b, random, answer }) => {
        const { onPart, onKeepOut } = answer
        checkSame(answer, ask(a, b, { near: { onPart, onKeepOut } }))
        checkSame(answer, ask(a, b, { near: { onPart: random.point(half), onKeepOut: random.point(half) } }))
      })
    })

    it('tells a depth that parts the solids, and not less', () => {
      each(8, ({ a, b, random, answer }) => {
        const { overlap } = answer
        if (!overlap) return
        const shifted = (way: Vec3, by: number) => ask(kit.a.placed(a, { turn: still, at: scale(way, by) }), b)
        if (overlap.kind === 'exact') {
          expect(overlap.direction && Math.abs(length(overlap.direction) - 1)).toBeLessThan(1e-12)
          const atMost = overlap.depthAtMost ?? Infinity
          expect(atMost - overlap.depthAtLeast).toBeLessThanOrEqual(Math.max(error, 1e-6))
          const parted = shifted(overlap.direction as Vec3, atMost + 1e-6)
          expect(parted.overlap).toBeUndefined()
          expect(parted.atMost).toBeLessThan(1e-4)
        }
        // A shift shorter than the depth never parts them, whichever way.
        for (let i = 0; i < 3; i++) {
          const way = random.unit()
          const less = shifted(way, 0.999 * overlap.depthAtLeast)
          expect(less.atLeast).toBe(0)
          expect(less.atMost).toBeLessThan(error)
        }
      })
    })

    it('knows contact without its depth', () => {
      each(9, ({ a, b, answer }) => {
        const got = ask(a, b, { depth: false })
        if (answer.overlap && answer.overlap.depthAtLeast > rounding) {
          expect(got.overlap).toBeDefined()
          expect(got.atLeast).toBe(0)
          expect(got.atMost).toBeLessThan(rounding)
        } else if (!answer.overlap) expect(got).toEqual(answer)
      })
    })

    const { plain } = kit
    if (plain)
      it('agrees with the slow and plain way', () => {
        let told = 0
        each(10, ({ a, b, answer }) => {
          const gap = plain(a, b)
          if (gap === undefined) return
          told++
          expect(answer.atLeast).toBeLessThanOrEqual(Math.max(gap, 0) + rounding)
          expect(answer.atMost).toBeGreaterThanOrEqual(Math.max(gap, 0) - rounding)
          if (gap > rounding) expect(answer.overlap).toBeUndefined()
          if (gap < -rounding) expect(answer.overlap).toBeDefined()
        })
        expect(told).toBeGreaterThan(runs / 2)
      })
  })
}

const still: Mat3 = [1, 0, 0, 0, 1, 0, 0, 0, 1]
const mirrored = (m: Mat3): Mat3 => [-m[0], m[1], m[2], -m[3], m[4], m[5], -m[6], m[7], m[8]]
const isSameForm = (a: { form: FormName }, b: { form: FormName }): boolean => a.form === b.form

/** Sound bounds: in order, narrow, converged; an overlap has gap 0 and a depth in order. */
export function checkBounds(answer: Clearance, error: number): void {
  expect(answer.stopped).toBe('converged')
  expect(answer.atLeast).toBeGreaterThanOrEqual(0)
  expect(answer.atMost).toBeGreaterThanOrEqual(answer.atLeast)
  expect(answer.atMost - answer.atLeast).toBeLessThanOrEqual(error)
  const { overlap } = answer
  if (!overlap) return
  expect(answer.atMost).toBe(0)
  expect(overlap.depthAtLeast).toBeGreaterThanOrEqual(0)
  if (overlap.kind === 'exact') expect(overlap.depthAtMost).toBeGreaterThanOrEqual(overlap.depthAtLeast)
}

/** Two sets of bounds on one number must have it in common. */
export function checkSame(p: Clearance, q: Clearance, grain = 1): void {
  const slack = rounding * Math.max(1, grain)
  expect(p.atLeast).toBeLessThanOrEqual(q.atMost + slack)
  expect(q.atLeast).toBeLessThanOrEqual(p.atMost + slack)
  if (p.overlap?.kind !== 'exact' || q.overlap?.kind !== 'exact') return
  expect(p.overlap.depthAtLeast).toBeLessThanOrEqual((q.overlap.depthAtMost as number) + slack)
  expect(q.overlap.depthAtLeast).toBeLessThanOrEqual((p.overlap.depthAtMost as number) + slack)
}

function scaledBounds(answer: Clearance, s: number): Partial<Clearance> {
  const { overlap } = answer
  return {
    atLeast: answer.atLeast * s,
    atMost: answer.atMost * s,
    overlap: overlap && {
      ...overlap,
      depthAtLeast: overlap.depthAtLeast * s,
      depthAtMost: overlap.depthAtMost === undefined ? undefined : overlap.depthAtMost * s,
    },
  }
}
