import { describe, expect, it } from 'vitest'
import { convexKit, halfSpaceKit } from '../../test/kit/convexForms.ts'
import { everyPair } from '../../test/kit/everyPair.ts'
import { closedMeshKit, openMeshKit } from '../../test/kit/meshForms.ts'
import { roundKit } from '../../test/kit/roundForms.ts'
import { seeded } from '../../test/kit/random.ts'
import type { Form } from '../shape/form.ts'
import { type PairTable, pairClearance, pairs } from './pairs.ts'

// Convex and half-space pairs go through the kit in their own files; half-space against half-space has closed forms only.
everyPair({ pair: pairs['convex·round'], a: convexKit, b: roundKit, seed: 3401, runs: 60, spread: 150 })
everyPair({ pair: pairs['convex·mesh'], a: convexKit, b: closedMeshKit, seed: 3402, runs: 60 })
everyPair({ pair: pairs['convex·mesh'], a: convexKit, b: openMeshKit, seed: 3403, runs: 60, spread: 200 })
everyPair({ pair: pairs['round·round'], a: roundKit, b: roundKit, seed: 3404, runs: 60, spread: 40 })
everyPair({ pair: pairs['round·mesh'], a: roundKit, b: closedMeshKit, seed: 3405, runs: 60, spread: 170 })
everyPair({ pair: pairs['round·mesh'], a: roundKit, b: openMeshKit, seed: 3406, runs: 60, spread: 60 })
everyPair({ pair: pairs['round·halfSpace'], a: roundKit, b: halfSpaceKit, seed: 3407, runs: 60, spread: 500 })
everyPair({ pair: pairs['mesh·mesh'], a: closedMeshKit, b: closedMeshKit, seed: 3408, runs: 60, spread: 300 })
everyPair({ pair: pairs['mesh·mesh'], a: closedMeshKit, b: openMeshKit, seed: 3409, runs: 60, spread: 250 })
everyPair({ pair: pairs['mesh·halfSpace'], a: closedMeshKit, b: halfSpaceKit, seed: 3410, runs: 150, spread: 1200 })

describe('the table', () => {
  it('does not compile without one of its pairs', () => {
    const { mesh·mesh: left, ...rest } = pairs
    // @ts-expect-error a table without a pair is not a table
    const short: PairTable = rest
    expect(Object.keys(short)).toHaveLength(Object.keys(pairs).length - 1)
    expect(left).toBe(pairs['mesh·mesh'])
  })

  const random = seeded(3411)
  const forms: Form[] = [convexKit, roundKit, closedMeshKit, halfSpaceKit].map((kit) => kit.make(random, 100))
  it('answers every ordered pair of forms, and the two orders alike', () => {
    for (const a of forms)
      for (const b of forms) {
        const there = pairClearance(a, b, {})
        const back = pairClearance(b, a, {})
        expect(back.atLeast).toBeLessThanOrEqual(there.atMost + 1e-9)
        expect(there.atLeast).toBeLessThanOrEqual(back.atMost + 1e-9)
        expect(there.overlap === undefined).toBe(back.overlap === undefined)
      }
  })
})
