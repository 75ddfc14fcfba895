import { describe, expect, test } from 'vitest'
import { plate, stud } from '../../test/kit/mountedBay.ts'
import { seeded } from '../../test/kit/random.ts'
import { bareCandidate } from '../../test/kit/tinyBay.ts'
import { fixingBehind, placeOver } from './mountOver.ts'
import type { Mount } from './mountSchema.ts'

const pin = (change: Partial<Mount> = {}): Mount => ({
  ...plate(change),
  shape: { kind: 'pin', diameter: 8, length: 20 },
})

describe('the fixing behind a mount', () => {
  test('below the bare core: on the far side of the plate, pointing up to it', () => {
    // Face at Z −40, standing off 17, 3 thick: the far side lies at −60.
    expect(fixingBehind(bareCandidate(), plate())).toEqual({ at: [0, 0, -60], axis: [0, 0, 1] })
  })
  test('half-way along a pin', () => {
    expect(fixingBehind(bareCandidate(), pin())).toEqual({ at: [0, 0, -50], axis: [0, 0, 1] })
  })
  test('it turns and moves with the candidate', () => {
    const turned = bareCandidate({ at: [10, 0, 0], turn: [0, 90, 0] })
    // Turned by 90° about Y, −Z becomes −X.
    expect(fixingBehind(turned, plate())).toEqual({ at: [-50, 0, 0], axis: [1, 0, 0] })
  })
  test('none without the tank or the hole that is meant', () => {
    expect(fixingBehind(bareCandidate(), plate({ on: { part: 'tank-left', face: 'end', u: 0, v: 0 } }))).toBeNull()
    expect(fixingBehind(bareCandidate(), plate(), 1)).toBeNull()
  })
})

describe('the place over a fixing', () => {
  test('a stud 30 mm to the right and 20 mm rearward of the middle of a face 200 by 100', () => {
    expect(placeOver(bareCandidate(), plate(), stud({ at: [20, 30, -60] }))).toEqual({ u: 0.3, v: 0.4 })
  })
  test('none where the fixing lies beyond the face', () => {
    expect(placeOver(bareCandidate(), plate(), stud({ at: [0, 101, -60] }))).toBeNull()
  })

  test('seed 5: over a fixing made behind it a mount is where it was, on every face of a tapered tank', () => {
    const random = seeded(5)
    const tank = { length: 70, front: 5, rear: -3, below: 0, above: 8, taper: { depth: 0.8, height: 0.6 } }
    const faces = ['end', 'front', 'rear', 'below', 'above'] as const
    for (let n = 0; n < 200; n++) {
      const share = () => 1.8 * (random.real(0, 1) - 0.5)
      const [part, side] =
        random.real(0, 1) < 0.5 ? (['tank-left', 'left'] as const) : (['tank-right', 'right'] as const)
      const candidate = bareCandidate({ at: [10, -4, 7], turn: [12, -20, 33], tanks: { [side]: tank } })
      const [u, v] = [share(), share()]
      const mount = (random.real(0, 1) < 0.5 ? plate : pin)({ on: { part, face: faces[n % 5], u, v } })
      const behind = fixingBehind(candidate, mount)
      if (!behind) throw new Error('no fixing')
      const found = placeOver(candidate, { ...mount, on: { ...mount.on, u: 0, v: 0 } }, stud(behind))
      expect(found?.u).toBeCloseTo(u, 5)
      expect(found?.v).toBeCloseTo(v, 5)
    }
  })
})
