import { describe, expect, test } from 'vitest'
import { type Random, seeded } from '../../test/kit/random.ts'
import { fitUncertainty, type PointPair, rigidFit } from './rigidFit.ts'
import { add, distance, mirrorY, type Pose, placed, scale, turned, turnMatrix, type Vec3 } from './vec.ts'

const fitted = (pairs: readonly PointPair[]) => {
  const fit = rigidFit(pairs)
  if (!fit.ok) throw new Error(fit.faults[0].code)
  return fit.value
}
const code = (pairs: readonly PointPair[]) => {
  const fit = rigidFit(pairs)
  return fit.ok ? null : [fit.faults[0].code, fit.faults[0].field]
}
const pairsOf = (points: readonly Vec3[], pose: Pose): PointPair[] =>
  points.map((from) => ({ from, to: placed(pose, from) }))

const spread = (random: Random, half: number): Vec3[] => {
  const points = Array.from({ length: 3 + random.int(5) }, () => random.point(half))
  // Off any line by a good share of the whole.
  return [...points, [half, 0, 0], [-half, 0, 0], [0, half, 0]]
}
const noise = (random: Random, size: number): Vec3 => scale(random.unit(), random.real(0, size))

describe('a body laid by pairs of points', () => {
  test('a quarter turn about Z and a shift, worked by hand', () => {
    const { at, turn, residuals } = fitted([
      { from: [0, 0, 0], to: [10, 20, 30] },
      { from: [100, 0, 0], to: [10, 120, 30] },
      { from: [0, 50, 0], to: [-40, 20, 30] },
    ])
    expect(at.map((x) => Math.round(x * 1e9) / 1e9)).toEqual([10, 20, 30])
    expect(turn.map((x) => Math.round(x * 1e9) / 1e9)).toEqual([0, 0, 90])
    for (const r of residuals) expect(r).toBeLessThan(1e-12)
  })

  test('any motion is found again, at any size and far from the origin (seed 82)', () => {
    const random = seeded(82)
    for (let round = 0; round < 400; round++) {
      const half = random.size(1e-2, 1e5)
      const pose = { turn: random.turn(), at: random.point(random.size(1, 1e6)) }
      const points = spread(random, half)
      const fit = fitted(pairsOf(points, pose))
      const largest = half + Math.max(...pose.at.map(Math.abs))
      for (const p of [...points, random.point(half)])
        expect(distance(add(turned(turnMatrix(fit.turn), p), fit.at), placed(pose, p))).toBeLessThan(
          1e-13 * 64 * largest,
        )
    }
  })

  test('turns of half a circle and on the pole of the angles are found too', () => {
    const points: Vec3[] = [
      [0, 0, 0],
      [200, 0, 0],
      [0, 90, 0],
      [10, 20, 70],
    ]
    for (const turn of [
      [180, 0, 0],
      [0, 180, 0],
      [0, 0, 180],
      [0, 90, 0],
      [30, -90, 0],
      [0, 0, 0],
      [90, 90, 90],
    ] as Vec3[]) {
      const pose = { turn: turnMatrix(turn), at: [1, 2, 3] as Vec3 }
      const fit = fitted(pairsOf(points, pose))
      for (const p of points)
        expect(distance(add(turned(turnMatrix(fit.turn), p), fit.at), placed(pose, p))).toBeLessThan(1e-9)
    }
  })

  test('with noise no small turn or shift of the answer fits better (seed 83)', () => {
    const random = seeded(83)
    for (let round = 0; round < 200; round++) {
      const pose = { turn: random.turn(), at: random.point(1000) }
      const pairs = pairsOf(spread(random, 300), pose).map(({ from, to }) => ({ from, to: add(to, noise(random, 4)) }))
      const fit = fitted(pairs)
      const misfit = (turn: Vec3, at: Vec3) =>
        pairs.reduce((sum, { from, to }) => sum + distance(add(turned(turnMatrix(turn), from), at), to) ** 2, 0)
      const best = misfit(fit.turn, fit.at)
      expect(Math.sqrt(best / pairs.length)).toBeCloseTo(fit.rootMeanSquare, 9)
      expect(fit.rootMeanSquare).toBeLessThan(4)
      for (let n = 0; n < 30; n++) {
        const [turn, at] = [add(fit.turn, noise(random, 0.5)), add(fit.at, noise(random, 2))]
        expect(misfit(turn, at)).toBeGreaterThanOrEqual(best * (1 - 1e-12))
      }
    }
  })

  test('three pairs whose distances differ share the misfit', () => {
    // 1 mm too long on one side of a right-angled triangle: by symmetry each end takes about half.
    const { residuals } = fitted([
      { from: [0, 0, 0], to: [0, 0, 0] },
      { from: [300, 0, 0], to: [301, 0, 0] },
      { from: [0, 400, 0], to: [0, 400, 0] },
    ])
    expect(Math.max(...residuals)).toBeGreaterThan(0.2)
    expect(Math.max(...residuals)).toBeLessThan(1)
  })

  test('points of a mirror image are not mirrored, but left apart', () => {
    const points: Vec3[] = [
      [0, 0, 0],
      [100, 0, 0],
      [0, 100, 0],
      [0, 0, 100],
    ]
    const fit = fitted(points.map((from) => ({ from, to: turned(mirrorY, from) })))
    expect(fit.rootMeanSquare).toBeGreaterThan(20)
  })

  test('what leaves the turn open is refused', () => {
    const on = (t: number): Vec3 => [t, 2 * t, -t]
    const off: Vec3[] = [
      [0, 0, 0],
      [9, 0, 0],
      [0, 9, 0],
    ]
    expect(code(off.slice(0, 2).map((from) => ({ from, to: from })))).toEqual(['too-few', undefined])
    expect(code([0, 1, 5].map((t, i) => ({ from: on(t), to: off[i] })))).toEqual(['points-in-line', 'from'])
    expect(code([0, 1, 5].map((t, i) => ({ from: off[i], to: on(t) })))).toEqual(['points-in-line', 'to'])
    expect(code(off.map((from) => ({ from, to: [1, 1, 1] })))).toEqual(['points-in-line', 'to'])
    expect(code(off.map((from) => ({ from, to: [Number.NaN, 1, 1] })))).toEqual(['not-finite', undefined])
    expect(code(Array.from({ length: 101 }, (_, i) => ({ from: off[i % 3], to: off[i % 3] })))?.[0]).toBe('too-many')
  })
})

describe('what the misfit says about the rest of the body', () => {
  test('nothing where all fits', () => {
    const pairs = pairsOf(
      [
        [0, 0, 0],
        [100, 0, 0],
        [0, 100, 0],
      ],
      { turn: turnMatrix([10, 20, 30]), at: [5, 6, 7] },
    )
    expect(fitUncertainty(fitted(pairs), pairs, [[500, 500, 500]])).toBeLessThan(1e-9)
  })

  test('it foretells the spread of sampled fits within a fifth (seed 84)', () => {
    const random = seeded(84)
    const points: Vec3[] = [
      [0, 0, 0],
      [600, 0, 0],
      [0, 400, 0],
      [100, 100, 200],
      [500, 300, 100],
      [50, 350, 150],
    ]
    const target: Vec3 = [700, -100, 300]
    let [told, met] = [0, 0]
    const rounds = 3000
    for (let round = 0; round < rounds; round++) {
      // Even in a ball is not Gaussian, but the sums over six points are near it.
      const pairs = points.map((from) => ({ from, to: add(from, noise(random, 3)) }))
      const fit = fitted(pairs)
      told += (fitUncertainty(fit, pairs, [target]) / 2) ** 2 * 3
      met += distance(add(turned(turnMatrix(fit.turn), target), fit.at), target) ** 2
    }
    expect(Math.sqrt(told / met)).toBeGreaterThan(0.8)
    expect(Math.sqrt(told / met)).toBeLessThan(1.2)
  })
})
