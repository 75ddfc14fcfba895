import { describe, expect, it } from 'vitest'
import { seeded } from '../../test/kit/random.ts'
import { anyTube, discAt, discPoint, outsideTube, TubeLayer } from '../../test/kit/tubes.ts'
import { along } from '../shape/vec.ts'
import { roomInTube } from './tubeRoom.ts'
import { TubeSpans } from './tubeSpans.ts'

describe('room in a tube', () => {
  it('the ball of that radius lies in the tube: 300 random tubes, 5 points each, seed 31', () => {
    const random = seeded(31)
    let roomy = 0
    for (let i = 0; i < 300; i++) {
      const form = anyTube(random, 30)
      const tube = new TubeSpans(form)
      for (let k = 0; k < 5; k++) {
        const piece = random.int(form.centreline.length)
        const y = discPoint(discAt(form, piece, random.real(0, 1)), random.real(0, 1), random.real(0, 7))
        const room = roomInTube(tube, y)
        expect(room).toBeGreaterThanOrEqual(-1e-9)
        if (room > 0.1 * form.radius) roomy++
        for (let m = 0; m < 8; m++)
          expect(outsideTube(form, along(y, random.unit(), Math.max(0, room)))).toBeLessThan(1e-7)
      }
    }
    expect(roomy).toBeGreaterThan(300)
  })

  it('outside it is minus a distance within which the tube has a point: 300 random tubes, seed 32', () => {
    const random = seeded(32)
    let outside = 0
    for (let i = 0; i < 300; i++) {
      const form = anyTube(random, 30)
      const q = random.point(80)
      const room = roomInTube(new TubeSpans(form), q)
      if (room >= 0) continue
      outside++
      expect(outsideTube(form, q)).toBeLessThanOrEqual(-room + 1e-9)
    }
    expect(outside).toBeGreaterThan(100)
  })

  it('is the radius on the centreline, and shrinks towards a flat end', () => {
    const tube = new TubeSpans(new TubeLayer([0, 0, 0], [1, 0, 0], [0, 1, 0]).straight(100).tube(12))
    expect(Math.abs(roomInTube(tube, [50, 0, 0]) - 12)).toBeLessThan(1e-9)
    expect(Math.abs(roomInTube(tube, [95, 0, 0]) - 5)).toBeLessThan(1e-9)
    expect(Math.abs(roomInTube(tube, [50, 8, 0]) - 4)).toBeLessThan(1e-9)
    expect(Math.abs(roomInTube(tube, [103, 4, 0]) + 3)).toBeLessThan(1e-9)
  })

  it('a straight shorter than the radius after a bend takes nothing from the bend’s own joint', () => {
    // The half-ball at the inner joint sticks out beyond the flat end 2 mm on: only what lies before the end counts.
    const tube = new TubeSpans(
      new TubeLayer([0, 0, 0], [1, 0, 0], [0, 1, 0]).straight(100).bend(20, 1).straight(2).tube(12),
    )
    const end = new TubeLayer([0, 0, 0], [1, 0, 0], [0, 1, 0]).straight(100).bend(20, 1)
    const joint = discAt(end.tube(12), 1, 1)
    expect(Math.abs(roomInTube(tube, joint.centre) - 2)).toBeLessThan(1e-9)
  })
})
