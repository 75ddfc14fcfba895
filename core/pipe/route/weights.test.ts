import { describe, expect, it } from 'vitest'
import { bendCoefficient } from '../bendLoss.ts'
import { weightsOf } from './weights.ts'

const pipe = { outsideDiameter: 57, wall: 1.6, bendRadius: 57 }
const quarter = Math.PI / 2

describe('weights of a route', () => {
  it('count 100 mm a bend and nothing for its loss, unless asked', () => {
    const { bend, loss, ofBend } = weightsOf(pipe, {})
    expect([bend, loss, ofBend(0.3), ofBend(quarter)]).toEqual([100, 0, 100, 100])
  })

  it('count a loss coefficient by the middle of its published band', () => {
    const { ofBend } = weightsOf(pipe, { bendWeight: 30, lossWeight: 200 })
    const { atLeast, atMost } = bendCoefficient(53.8, 57, 90, { atLeast: 0.018, atMost: 0.018, methods: ['', ''] })
    expect(ofBend(quarter)).toBeCloseTo(30 + 100 * (atLeast + atMost), 9)
  })

  it('grow with the angle, without jumps, up to half a turn', () => {
    const { ofBend } = weightsOf(pipe, { lossWeight: 200 })
    for (let degrees = 0; degrees < 180; degrees += 0.5) {
      const rise = ofBend(((degrees + 0.5) * Math.PI) / 180) - ofBend((degrees * Math.PI) / 180)
      expect(rise).toBeGreaterThan(0)
      expect(rise).toBeLessThan(5)
    }
    expect(ofBend(Math.PI)).toBeGreaterThan(ofBend(quarter))
  })
})
